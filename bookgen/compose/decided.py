"""A treatment worked out in, what was decided on it in finished words out: built otherwise, lines held side by side."""

from __future__ import annotations

from collections.abc import Iterable

from bookgen.compose.show import Show
from bookgen.model.assembly import Assembly
from bookgen.model.book import LineRow


def otherwise(assembly: Assembly, show: Show) -> tuple[str, ...]:
    """Return what was built otherwise than planned."""
    form = show.terms["difference"]
    return tuple(
        form.format(field=show.name(one.field), planned=show.name(one.planned), built=show.name(one.built))
        for one in assembly.differences
    )


def line_rows(assemblies: Iterable[Assembly], show: Show) -> tuple[LineRow, ...]:
    """Return what the line as built takes beside the other one, where another one would take something else."""
    return tuple(
        LineRow(
            show.terms[f"line {one.name}"],
            show.name(show.tape.area(one.floor)),
            show.name(show.tape.area(one.board)),
            f"{one.corners}",
        )
        for assembly in assemblies
        for one in assembly.lines()
    )
