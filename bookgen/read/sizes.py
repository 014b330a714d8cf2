"""Record files in; every trade size in them that the tables do not know out, with the nearest ones they do."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from bookgen.model.frozen import dataclass
from bookgen.model.problem import Problem
from bookgen.read.source import ANY, Path, Source, in_treatments
from bookgen.trade import cable, column, duct, lumber, pipe


@dataclass(frozen=True, slots=True)
class SizeTable:
    """A table of trade sizes: the problem code, what its rows are called, how a text is looked up, what looks like it.

    *example* shows how a size is written.
    """

    code: str
    called: str
    find: Callable[[str], object | None]
    near: Callable[[str], tuple[str, ...]]
    example: str


PIPES = SizeTable("unknown-size", "pipe or tube", pipe.pipe, pipe.near, "3 in PVC drain")
DUCTS = SizeTable("unknown-size", "duct", duct.duct, duct.near, "20 x 8 or 6 in round")
CABLES = SizeTable("unknown-size", "cable", cable.cable, cable.near, "12-2 NM or RG6 coax")
POSTS = SizeTable("unknown-size", "post", column.column, column.near, "3-1/2 in steel post")
LUMBER = SizeTable("unknown-stock", "size of lumber", lumber.lumber, lumber.near, "2x4")

OBSTACLE_SIZES: tuple[tuple[Path, SizeTable], ...] = (
    (("inside", ANY, "pipe"), PIPES),
    (("inside", ANY, "duct"), DUCTS),
    (("inside", ANY, "cable"), CABLES),
    (("inside", ANY, "post"), POSTS),
    *((pattern, LUMBER) for key in ("ladder", "strip", "flats", "framing") for pattern in in_treatments(ANY, key)),
    *((pattern, LUMBER) for pattern in in_treatments(ANY, "door", "header")),
)
PROJECT_SIZES: tuple[tuple[Path, SizeTable], ...] = (
    (("level", "joists", "size"), LUMBER),
    (("level", "wall lining", "stud"), LUMBER),
    (("partitions", ANY, "stud"), LUMBER),
)


def size_problems(project: Source | None, obstacles: tuple[Source, ...]) -> Iterator[Problem]:
    """Yield a Problem for every trade size that its table does not know."""
    if project:
        yield from _unknown(project, PROJECT_SIZES)
    for source in obstacles:
        yield from _unknown(source, OBSTACLE_SIZES)


def _unknown(source: Source, sizes: tuple[tuple[Path, SizeTable], ...]) -> Iterator[Problem]:
    for pattern, table in sizes:
        for path, text in source.texts(pattern):
            if table.find(text) is None:
                rule = f"the tables hold no {table.called} of this name"
                close = " or ".join(table.near(text))
                repair = f"did you mean {close}?" if close else f"write it such as {table.example}"
                yield source.problem(table.code, path, rule, repair)
