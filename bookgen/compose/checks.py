"""Findings in, printed lines out: what, where, measured, asked, by whom, what to do; and the appendix of checks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from bookgen.compose.show import Show, sentence_case
from bookgen.model.book import CheckEntry, CheckFigure, CheckGroup, CheckRow, CheckSet
from bookgen.model.check_reference import CheckReference, Figure
from bookgen.model.problem import Finding, Severity

GRAVEST_FIRST = (Severity.STOP, Severity.ASK, Severity.NOTE, Severity.WITHIN)


def chapter_rows(findings: Iterable[Finding], files: set[str], show: Show) -> tuple[CheckRow, ...]:
    """Return the lines of a chapter: what is said alike of several things is one line, which names them all.

    Where each of them stands is told among the checks of the whole level.
    """
    alike: dict[CheckRow, list[Finding]] = {}
    for finding in findings:
        if finding.place.file in files:
            alike.setdefault(replace(_row(finding, show), where=""), []).append(finding)
    return tuple(
        _row(found[0], show)
        if len(found) == 1
        else replace(row, where="; ".join(dict.fromkeys(one.where for one in found)))
        for row, found in alike.items()
    )


def check_groups(findings: tuple[Finding, ...], show: Show) -> tuple[CheckGroup, ...]:
    """Return every finding under its severity, the gravest first, and within it under its check."""
    groups = []
    for severity in GRAVEST_FIRST:
        chosen = [finding for finding in findings if finding.severity is severity]
        key = f"checks {severity.value}"
        title = show.terms["checks counted"].format(title=show.terms[key], count=len(chosen))
        sets = tuple(
            _set(code, tuple(_row(finding, show) for finding in chosen if finding.code == code))
            for code in dict.fromkeys(finding.code for finding in chosen)
        )
        groups.append(CheckGroup(title, show.terms[f"{key} says"] if chosen else "", sets))
    return tuple(groups)


def _set(code: str, rows: tuple[CheckRow, ...]) -> CheckSet:
    """Return the findings of one check, with what they all share said once."""
    asked, source, hint = (
        words.pop() if len(words) == 1 else ""
        for words in ({row.asked for row in rows}, {row.source for row in rows}, {row.hint for row in rows})
    )
    own = tuple(
        replace(
            row,
            asked="" if asked else row.asked,
            source="" if source else row.source,
            hint="" if hint else row.hint,
        )
        for row in rows
    )
    return CheckSet(code, asked, source, hint, own)


def check_reference(references: Iterable[CheckReference], show: Show) -> tuple[CheckEntry, ...]:
    """Return the appendix that says what every check asks."""
    return tuple(
        CheckEntry(
            one.check, f"{sentence_case(one.says)}.", one.quiet, one.found, one.notes.replace("`", ""),
            tuple(dict.fromkeys(_figure(figure, show) for figure in one.figures)),
        )
        for one in references
    )  # fmt: skip


def _figure(figure: Figure, show: Show) -> CheckFigure:
    sure = show.terms[f"sure {figure.sure}"]
    return CheckFigure(figure.asks or show.terms["no figure"], sentence_case(figure.of), f"{figure.told} ({sure})")


def _row(finding: Finding, show: Show) -> CheckRow:
    answered = finding.answered
    return CheckRow(
        severity=show.terms[f"severity {finding.severity.value}"],
        says=finding.says,
        where=f"{finding.where} ({finding.spot})" if finding.spot else finding.where,
        measured=finding.measured,
        asked=finding.asked,
        source=f"{finding.source} ({show.terms[f'sure {finding.sure}']})" if finding.source else "",
        hint=finding.hint,
        answered=show.terms["answered"].format(by=answered.by, on=show.day(answered.on), paper=answered.paper)
        if answered
        else "",
    )
