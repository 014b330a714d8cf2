"""taped-size-differs: a finished size in a record is not quite what sticks and boards of their true sizes make.

    PASS   finished: 8 in      (four 2x6 flats and two boards of 1/2 in make 8 in)
    FAIL   finished: 7-7/8 in  (of the same flats and boards)

Neither of the two is mended in silence: the sketches show what the sticks make. Tape it again, or look at the board
that was used.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.model.problem import Finding, Severity
from bookgen.model.records.base import Record
from bookgen.model.records.treatments import Chase, PostWrap
from bookgen.solve.checks.judge import practice
from bookgen.solve.checks.sight import Sight
from bookgen.solve.choices import chosen

CODE = "taped-size-differs"
TAPE = Fraction(1, 16)  # inches: the finest mark of a tape; half of it is lost in reading one


@dataclass(frozen=True, slots=True)
class _Row:
    """One size that is written in a record: its field, and the printed size of the model that it stands for."""

    field: str
    measure: str
    written: Length


def check(sight: Sight) -> Iterator[Finding]:
    """Yield a Finding for each finished size that a record states beside the sticks which make it."""
    for file, obstacle in zip(sight.project.obstacles, sight.obstacles, strict=True):
        pick = chosen(file.record)
        if pick is None or obstacle.assembly is None:
            continue
        for row in _rows(pick.choices):
            made = obstacle.assembly.measure(row.measure)
            missed = abs((made - row.written).inches)
            place = sight.project.places.of(file.file, *pick.path, row.field)
            says = sight.say(
                "{measure}: {written} is written, {made} is what sticks and boards of their true sizes make",
                measure=sight.tongue.name(row.measure),
                written=sight.tape.short(row.written),
                made=sight.tape.short(made),
            )
            hint = sight.say("tape it again, or look which board was used")
            said = sight.said(
                CODE,
                place,
                sight.tongue.name(obstacle.assembly.title),
                says,
                sight.say("{missed} apart", missed=sight.tape.short(missed)),
                hint,
            )
            grave = Severity.WITHIN if missed <= TAPE / 2 else Severity.NOTE
            yield practice(
                said, grave, sight.say("the same size"), sight.say("true sizes of lumber and board; PS 20, ASTM C1396")
            )


def _rows(choices: Record) -> Iterator[_Row]:
    if isinstance(choices, PostWrap):
        deep = choices.finished_deep
        yield _Row("finished", "width over the board", choices.finished)
        if deep is not None:
            yield _Row("finished deep", "depth over the board", deep)
    if isinstance(choices, Chase) and choices.finished is not None:
        yield _Row("finished", "finished width", choices.finished.wide)
        yield _Row("finished", "finished depth", choices.finished.high)
