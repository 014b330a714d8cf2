"""The solved level: everything worked out from the records, in one value that draw and compose read."""

from __future__ import annotations

from dataclasses import field
from fractions import Fraction

from bookgen.model.assembly import Assembly, HiddenThing, Part
from bookgen.model.behind import FaceBehind
from bookgen.model.buying import Buying
from bookgen.model.evidence import PhotoEvidence
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Point, Polygon
from bookgen.model.joinery import SQUARE, Joinery
from bookgen.model.length import Length
from bookgen.model.place import Place
from bookgen.model.problem import Finding
from bookgen.model.project import Project
from bookgen.model.ties import SpotTies


@dataclass(frozen=True, slots=True)
class SolvedLevel:
    """Heights above the slab and the shell of the level, in inches on the level's axes.

    *shell* holds slab, block walls, joists and subfloor, so that sections can show them, on the level's axes. *linings*
    are the stud walls in front of the block and the partitions, as assemblies each in its own frame. *floor* is the
    finished floor above the slab, *joists* their underside, *wall_face* the finished face of the lining off the block.
    """

    east_west: Fraction
    north_south: Fraction
    floor: Fraction
    joists: Fraction
    joist_depth: Fraction
    wall_face: Fraction
    wall_board: Fraction
    ceiling_board: Fraction
    shell: tuple[Part, ...]
    linings: tuple[Assembly, ...]


@dataclass(frozen=True, slots=True)
class SolvedRoom:
    """A room with its outline on the plan and its plain ceiling, as headroom over the finished floor."""

    key: str
    name: str
    use: str
    outline: Polygon
    ceiling: Length | None


@dataclass(frozen=True, slots=True)
class AccessSpot:
    """An access point placed on the level: the middle of the thing, its height over the floor, its tag."""

    tag: str
    obstacle: str
    at: Point
    above_floor: Length


@dataclass(frozen=True, slots=True)
class SolvedObstacle:
    """One obstacle worked out: its hidden things, its treatment if it has one, its access points.

    *headroom* is over the finished floor under the finished underside, where the treatment has one overhead.
    """

    key: str
    hidden: tuple[HiddenThing, ...]
    assembly: Assembly | None
    headroom: Length | None
    access: tuple[AccessSpot, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class PieceCount:
    """Equal pieces of one stock for one obstacle: how many, how long, what they are, how they are cut, where they go.

    *wide* is a sheet's shorter side, None for a stick. *stations* are distances along the run of the obstacle: of a
    piece that lies along it its start (*lengthwise*), of any other its middle.
    """

    obstacle: str
    role: str
    stock: str
    length: Length
    count: int
    wide: Length | None = None
    joinery: Joinery = SQUARE
    stations: tuple[Length, ...] = ()
    lengthwise: bool = False


@dataclass(frozen=True, slots=True)
class StockTotal:
    """All of one stock: pieces, and their length or area put together."""

    stock: str
    pieces: int
    length: Length | None
    area: Fraction | None  # square inches


@dataclass(frozen=True, slots=True)
class Takeoff:
    """The pieces and totals of the whole project; *buying* where somebody has asked how to buy and cut them."""

    pieces: tuple[PieceCount, ...]
    totals: tuple[StockTotal, ...]
    buying: Buying | None = None


@dataclass(frozen=True, slots=True)
class Solved:
    """A project with everything worked out.

    *takeoff*, *faces* and *ties* are what only a book or a list tells; a level that is just checked goes without.
    """

    project: Project
    level: SolvedLevel
    rooms: tuple[SolvedRoom, ...]
    obstacles: tuple[SolvedObstacle, ...]
    findings: tuple[Finding, ...]
    takeoff: Takeoff = Takeoff((), ())
    faces: tuple[FaceBehind, ...] = ()
    photos: PhotoEvidence = field(default_factory=PhotoEvidence)
    ties: tuple[SpotTies, ...] = ()

    def room(self, key: str) -> SolvedRoom:
        """Return one room by its key; a key that is not there is our own bug."""
        return next(room for room in self.rooms if room.key == key)

    def obstacle(self, key: str) -> SolvedObstacle:
        """Return one obstacle by its key; a key that is not there is our own bug."""
        return next(obstacle for obstacle in self.obstacles if obstacle.key == key)
