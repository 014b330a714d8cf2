"""Assemblies: the framing, board and hidden things of a treatment, as solids with roles, stock and names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from enum import Enum
from fractions import Fraction

from bookgen.model.frame import Frame
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Box, Point, Polygon, Rod, Solid, root_above
from bookgen.model.length import Length
from bookgen.model.place import Place
from bookgen.model.records.inside import Known

SOFFITS = frozenset({"wall soffit", "hung soffit", "beam soffit"})  # treatments that bring a ceiling down


class Material(Enum):
    """What a solid is made of; it decides hatch and tint."""

    LUMBER = "lumber"
    TREATED = "treated lumber"
    BLOCKING = "blocking"
    BOARD = "gypsum board"
    CONCRETE = "concrete"
    BLOCK = "concrete block"
    FINISH = "finish wood"
    PANEL = "wood panel"
    STEEL = "steel"
    PLASTIC = "plastic"
    COPPER = "copper"
    SHEET = "sheet metal"
    CABLE = "cable"
    INSULATION = "insulation"
    VOID = "clearance"


@dataclass(frozen=True, slots=True)
class Part:
    """One piece of work: a stick, a sheet, a door.

    *role* is the trade's word (rail, rung, cleat, crosser, stud, plate, strip, board); *stock* a key of the stock
    table, or "" for what is not cut from stock. *name* tells it from its like: "rung 4".
    """

    name: str
    role: str
    solid: Solid
    material: Material
    stock: str

    def length(self) -> Length:
        """Return the cut length: along the grain; of a sloped profile its longest side, rounded outward.

        A sloped member is a profile pushed across its grain, bought as stock or not: a rail is as long as its slope.
        """
        if isinstance(self.solid, Rod):
            return Length(root_above(self.solid.length_squared()))
        if len(self.solid.profile.corners) == 4 and not self.solid.profile.is_rectangle():
            return Length(_longest_side(self.solid.profile))
        return Length(self.solid.length())


@dataclass(frozen=True, slots=True)
class HiddenThing:
    """One thing that will not be seen: its solids on the level's axes, and the free space it asks for round them.

    *what* is the owner's word, *trade* the trade size. *known* says how its place is known.
    """

    key: str
    what: str
    trade: str
    system: str
    solids: tuple[Solid, ...]
    material: Material
    clearance: Fraction
    known: Known
    place: Place
    share: bool


@dataclass(frozen=True, slots=True)
class Face:
    """One finished surface: a flat outline across *axis* at *at*, seen from the side that *toward* points to.

    *outline* is in the two coordinates across the axis, in the assembly's frame.
    """

    name: str
    axis: Axis
    at: Fraction
    toward: int
    outline: Polygon
    room: str


@dataclass(frozen=True, slots=True)
class Space:
    """Room that a treatment keeps free: the working space before a panel, the swing of a door; it is no piece of work.

    *solid* is in the run's frame.
    """

    name: str
    solid: Solid


@dataclass(frozen=True, slots=True)
class Layer:
    """A sheet too thin to take room, such as a vapour layer: flat outlines across *axis* at *at*, in the run's frame.

    *name* is what the record calls it.
    """

    name: str
    axis: Axis
    at: Fraction
    outlines: tuple[Polygon, ...]

    def area(self) -> Fraction:
        """Return its area in square inches, without laps."""
        return sum((outline.area() for outline in self.outlines), Fraction(0))


@dataclass(frozen=True, slots=True)
class Measure:
    """A finished or framed size of a treatment: what a person calls it, from one anchor to another along an axis.

    *kind* is framed, finished or headroom.
    """

    name: str
    kind: str
    start: str
    end: str
    axis: Axis
    value: Length


@dataclass(frozen=True, slots=True)
class Difference:
    """A choice that was built otherwise than planned."""

    field: str
    planned: str
    built: str


@dataclass(frozen=True, slots=True)
class LineCost:
    """What one way of laying out a treatment takes: floor under it and board on it, in square inches, and its corners.

    *name* says which way: straight line, steps.
    """

    name: str
    floor: Fraction
    board: Fraction
    corners: int


@dataclass(frozen=True, slots=True)
class Assembly:
    """A treatment worked out, in the run's frame.

    Everything in it is in the run's frame (*frame* leads to the level). *measures* are what gets printed; each is the
    distance between two *anchors* along one axis. *section_at* is the governing station. *remarks* are finished
    sentences on what was decided and why. *costs* compare the line as built, which comes first, with other lines.
    """

    key: str
    treatment: str
    title: str
    frame: Frame
    run: tuple[Fraction, Fraction]
    section_at: Fraction
    parts: tuple[Part, ...]
    faces: tuple[Face, ...]
    anchors: Mapping[str, Point]
    measures: tuple[Measure, ...]
    known: Known
    place: Place
    differences: tuple[Difference, ...] = ()
    remarks: tuple[str, ...] = ()
    spaces: tuple[Space, ...] = ()
    costs: tuple[LineCost, ...] = ()
    layers: tuple[Layer, ...] = ()
    _boxes: tuple[Box, ...] | None = field(default=None, init=False, repr=False, compare=False)

    def boxes(self) -> tuple[Box, ...]:
        """Return the box round each part, on the level's axes, in the order of the parts."""
        if self._boxes is not None:
            return self._boxes
        boxes = tuple(self.frame.box_to_level(part.solid.bounds()) for part in self.parts)
        object.__setattr__(self, "_boxes", boxes)  # kept, since it follows from the parts and many ask for it
        return boxes

    def lines(self) -> tuple[LineCost, ...]:
        """Return the lines it might follow, that as built first; none where another takes the same floor and board."""
        return self.costs if len({(one.floor, one.board) for one in self.costs}) > 1 else ()

    def measure(self, name: str) -> Length:
        """Return a printed size by its name; a name that is not there is our own bug."""
        return next(measure.value for measure in self.measures if measure.name == name)


def _longest_side(profile: Polygon) -> Fraction:
    pairs = zip(profile.corners, profile.corners[1:] + profile.corners[:1], strict=True)
    return max(root_above((u2 - u1) ** 2 + (v2 - v1) ** 2) for (u1, v1), (u2, v2) in pairs)
