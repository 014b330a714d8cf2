"""A plane that somebody stands before in; how deep, wide and high the space in front of it is out, and what ends it."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.assembly import Assembly
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Box, Point
from bookgen.solve.checks.sight import SeenPart, SeenThing, Sight
from bookgen.solve.framing import Stretch

OVERHEAD = Fraction(60)  # inches over the floor: what begins higher hangs over a person and stands in nobody's way
FAR = Fraction(10_000)  # inches: past everything
SIDES: dict[str, tuple[Axis, int]] = {"east": ("x", 1), "west": ("x", -1), "north": ("y", 1), "south": ("y", -1)}


@dataclass(frozen=True, slots=True)
class Block:
    """Something that takes room, in a person's words."""

    what: str
    box: Box


@dataclass(frozen=True, slots=True)
class View:
    """What somebody stands before: a plane across *axis* at *at*, looking to *toward*, from side to side *across*."""

    axis: Axis
    toward: int
    at: Fraction
    across: Stretch
    floor: Fraction

    @property
    def side(self) -> Axis:
        """Return the axis from side to side."""
        return "y" if self.axis == "x" else "x"

    def ahead(self, deep: Fraction, across: Stretch, up: Stretch) -> Box:
        """Return the box in front of the plane."""
        low, high = sorted((self.at, self.at + self.toward * deep))
        spans = {self.axis: (low, high), self.side: across, "z": up}
        return Box(
            Point(spans["x"][0], spans["y"][0], spans["z"][0]), Point(spans["x"][1], spans["y"][1], spans["z"][1])
        )


@dataclass(frozen=True, slots=True)
class Clear:
    """The clear space in front of a plane, in inches, and what ends its depth and its height."""

    deep: Fraction
    deep_to: str
    wide: Fraction
    high: Fraction
    high_to: str


def view_of(box: Box, side: str, floor: Fraction) -> View:
    """Return the view of somebody who stands at one side of a box: east, west, north or south of it."""
    axis, toward = SIDES[side]
    other: Axis = "y" if axis == "x" else "x"
    at = box.high.on(axis) if toward > 0 else box.low.on(axis)
    return View(axis, toward, at, (box.low.on(other), box.high.on(other)), floor)


@dataclass(frozen=True, slots=True)
class Standing:
    """Everything that takes room on a level, without the things of some keys and without one treatment."""

    sight: Sight
    without: frozenset[str] = frozenset()
    but: Assembly | None = None

    def meeting(self, box: Box) -> list[Block]:
        """Return what stands in a box of the level."""
        found = (self.sight.standers[number] for number in self.sight.standing.meeting(box))
        return [Block(self._what(one), own) for one, own in found if self._counts(one)]

    def _what(self, one: SeenPart | SeenThing) -> str:
        if isinstance(one, SeenThing):
            return one.thing.what
        say, part = self.sight.say, self.sight.tongue.name(one.part.name.partition(",")[0])
        if one.assembly is None:
            return say("the house's {part}", part=part)
        return say("the {title} ({part})", title=self.sight.title(one.assembly), part=part)

    def _counts(self, one: SeenPart | SeenThing) -> bool:
        if isinstance(one, SeenThing):
            return one.thing.key not in self.without
        return self.but is None or one.assembly is not self.but


def clear_before(view: View, standing: Standing, deep: Fraction) -> Clear:
    """Return the space before a plane: its depth straight ahead, and its width and height over *deep* inches."""
    low = view.ahead(FAR, view.across, (view.floor, view.floor + OVERHEAD))
    ends = sorted((max(_gap(view, block.box), Fraction(0)), block.what) for block in standing.meeting(low))
    depth, deep_to = ends[0] if ends else (FAR, "")
    over = view.ahead(deep, view.across, (view.floor + OVERHEAD, FAR))
    tops = sorted((b.box.low.z, b.what) for b in standing.meeting(over) if b.box.low.z >= over.low.z)
    high, high_to = tops[0] if tops else (FAR, "")
    return Clear(depth, deep_to, _width(view, standing, deep), high - view.floor, high_to)


def _gap(view: View, box: Box) -> Fraction:
    near = box.low.on(view.axis) if view.toward > 0 else box.high.on(view.axis)
    return (near - view.at) * view.toward


def _width(view: View, standing: Standing, deep: Fraction) -> Fraction:
    """Return how far the space goes to both sides of what is stood before, as deep as asked."""
    wide = view.ahead(deep, (-FAR, FAR), (view.floor, view.floor + OVERHEAD))
    low, high = -FAR, FAR
    for block in standing.meeting(wide):
        first, last = block.box.low.on(view.side), block.box.high.on(view.side)
        if last <= view.across[0]:
            low = max(low, last)
        elif first >= view.across[1]:
            high = min(high, first)
    return high - low
