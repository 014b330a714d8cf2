"""Findings in, printed lines out: what, where, measured, asked, by which source, what to do."""

from __future__ import annotations

from bookgen.compose.show import Show
from bookgen.model.book import CheckRow
from bookgen.model.problem import Finding


def check_rows(findings: tuple[Finding, ...], files: set[str] | None, show: Show) -> tuple[CheckRow, ...]:
    """Return the lines for findings placed in *files*, or for all of them when it is None."""
    chosen = [finding for finding in findings if files is None or finding.place.file in files]
    return tuple(
        CheckRow(
            severity=show.terms[f"severity {finding.severity.value}"],
            says=finding.says,
            where=f"{finding.where} ({finding.spot})" if finding.spot else finding.where,
            measured=finding.measured,
            asked=finding.asked,
            source=f"{finding.source} ({show.terms[f'sure {finding.sure}']})" if finding.source else "",
            hint=finding.hint,
        )
        for finding in chosen
    )
