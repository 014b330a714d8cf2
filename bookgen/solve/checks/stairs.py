"""The opened stairs of a level, each with its choices, its line of nosings and its ground; what the checks share."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Assembly
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Box, Point
from bookgen.model.place import Place
from bookgen.model.project import ObstacleFile, Places, Step
from bookgen.model.records.treatments import StairOpening
from bookgen.solve.checks.sight import Sight
from bookgen.solve.choices import chosen
from bookgen.solve.framing import Stretch

HIGH = Fraction(10_000)  # inches: over everything


@dataclass(frozen=True, slots=True)
class Stair:
    """A stair that is opened on one side. *path* leads to its choices in the record."""

    file: ObstacleFile
    built: Assembly
    choices: StairOpening
    path: tuple[Step, ...]
    places: Places

    @property
    def title(self) -> str:
        """Return how findings name it."""
        return self.built.title

    @property
    def forward(self) -> int:
        """Return 1 where the stair goes up with its stations, -1 where it goes up against them."""
        return 1 if self.choices.goes_up in {"east", "north"} else -1

    @property
    def axis(self) -> Axis:
        """Return the level's axis that its stations are counted on."""
        return self.built.frame.along

    @property
    def ends(self) -> Stretch:
        """Return the stations of its lowest nosing and of the edge of the floor above, the smaller first."""
        bottom = self.choices.bottom_nosing.inches
        top = bottom + self.forward * (self.choices.risers - 1) * self.choices.tread.inches
        return min(bottom, top), max(bottom, top)

    @property
    def across(self) -> Stretch:
        """Return its sides on the level's axis across its stations."""
        frame, stair = self.built.frame, self.choices.stair
        low, high = sorted(frame.zero + frame.off * side.inches for side in (stair.low, stair.high))
        return low, high

    def nosing(self, station: Fraction) -> Fraction:
        """Return the height of the line of the nosings over the slab at a station."""
        unit = self.choices.rise.inches / self.choices.risers
        steps = (station - self.choices.bottom_nosing.inches) * self.forward / self.choices.tread.inches
        return unit + steps * unit

    def over(self, stretch: Stretch, low: Fraction) -> Box:
        """Return the box over a stretch of the stair, as wide as it is, from a height up."""
        first, second = self.across
        if self.axis == "x":
            return Box(Point(stretch[0], first, low), Point(stretch[1], second, HIGH))
        return Box(Point(first, stretch[0], low), Point(second, stretch[1], HIGH))

    def place(self, *field: str) -> Place:
        """Return where a field of its choices stands; where the choices do if it is not written."""
        return self.places.of(self.file.file, *self.path, *field)


def stairs(sight: Sight) -> Iterator[Stair]:
    """Yield each stair that a record opens."""
    for file, obstacle in zip(sight.project.obstacles, sight.obstacles, strict=True):
        pick = chosen(file.record)
        if obstacle.assembly is not None and pick is not None and isinstance(pick.choices, StairOpening):
            yield Stair(file, obstacle.assembly, pick.choices, pick.path, sight.project.places)
