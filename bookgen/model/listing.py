"""The takeoff in finished words: headings, tables and drawings, for a terminal, the site and the print book alike."""

from __future__ import annotations

from bookgen.model.frozen import dataclass
from bookgen.model.sketch import Sketch


@dataclass(frozen=True, slots=True)
class Column:
    """The heading of a column; *figures* are set flush right."""

    head: str
    figures: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of finished words under their columns; every row has as many cells as there are columns."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Listing:
    """One part of the takeoff: its title, what has to be said of it, its drawings and its table.

    *key* names it in links; *level* is 2 for a part of its own and 3 for one under the part before it.
    """

    key: str
    title: str
    level: int = 2
    says: tuple[str, ...] = ()
    sketches: tuple[Sketch, ...] = ()
    table: Table | None = None
