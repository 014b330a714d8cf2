"""What the checks found in, what its owner must know years later out: cautions for chapters, lines of hazards left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from bookgen.compose.caution import Warned, panel_of
from bookgen.compose.show import Show
from bookgen.model.problem import Finding, Severity, unanswered_stops
from bookgen.model.project import PROJECT_FILE
from bookgen.model.solved import Solved
from bookgen.trade.cautions import Doing, caution, cautions_for
from bookgen.trade.later import Later, later, later_of

GRAVEST_FIRST = (Severity.STOP, Severity.ASK, Severity.NOTE)


def found_for_later(solved: Solved, files: set[str], show: Show) -> tuple[Warned, ...]:
    """Return the cautions that findings placed in *files* lead to, each with the names of what was found."""
    chosen = [finding for finding in solved.findings if finding.place.file in files]
    warned: list[Warned] = []
    for row in later():
        by_caution: dict[str, list[str]] = {}
        for finding in _matters(chosen, row):
            hazard = row.caution or _drilling(finding, solved)
            if hazard is not None:
                by_caution.setdefault(hazard, []).append(finding.where)
        for hazard, names in by_caution.items():
            where = "; ".join(dict.fromkeys(names))
            warned.append((hazard, show.say(row.add, where=where[:1].upper() + where[1:]) if row.add else None))
    return tuple(warned)


def hazards_left(solved: Solved, show: Show) -> tuple[str, ...]:
    """Return a line for each stop that nobody has settled, and for what the checks found in no chapter."""
    stops = unanswered_stops(solved.findings)
    lines = [show.terms["not settled"].format(where=one.where, says=one.says) for one in stops]
    loose = [one for one in solved.findings if one.place.file == PROJECT_FILE and one not in stops]
    for code in dict.fromkeys(one.code for one in loose):
        row = later_of(code)
        warning = caution(row.caution) if row and row.caution else None
        if row is None or warning is None:
            continue
        names = dict.fromkeys(one.where for one in _matters(loose, row))
        if names:
            panel = panel_of(warning.id, show)
            told = {"hazard": panel.hazard, "consequence": panel.consequence, "avoidance": panel.avoidance}
            lines.append(show.terms["not seen"].format(where="; ".join(map(show.name, names)), call=panel.call, **told))
    return tuple(dict.fromkeys(lines))


def _matters(findings: Iterable[Finding], row: Later) -> Iterator[Finding]:
    """Yield the findings of a row's check that are grave enough, and that no paper has ended."""
    least = GRAVEST_FIRST.index(Severity(row.least))
    for finding in findings:
        grave = finding.severity in GRAVEST_FIRST[: least + 1]
        if finding.code == row.check and grave and not (finding.answered and row.answer_ends):
            yield finding


def _drilling(finding: Finding, solved: Solved) -> str | None:
    """Return the gravest caution for drilling near what was found, by the system that it belongs to."""
    things = (thing for one in solved.obstacles for thing in one.hidden if thing.what == finding.where)
    system = next((thing.system for thing in things), None)
    if system is None:
        return None
    rows = (row for row in cautions_for(system, Doing.DRILL) if Doing.DRILL in row.doing)
    return next((row.id for row in rows), None)
