"""A face of a run's frame in, the way it looks on the level, in the words of whoever stands in the room, out."""

from __future__ import annotations

from bookgen.model.frame import Frame
from bookgen.model.geometry import Axis


def looks(frame: Frame, axis: Axis, toward: int) -> str:
    """Return the way that a face across *axis* of a run's frame looks on the level: north, south, east or west."""
    on_x = (axis == "x") == (frame.along == "x")
    forward = toward * (frame.off if axis == "y" else 1) > 0
    if on_x:
        return "east" if forward else "west"
    return "north" if forward else "south"


def side(frame: Frame, toward: int) -> str:
    """Return what a long side of a soffit is called: north side, west side."""
    return f"{looks(frame, 'y', toward)} side"


def end(frame: Frame, toward: int) -> str:
    """Return what an end of a soffit is called: east end, south end."""
    return f"{looks(frame, 'x', toward)} end"


def stretches(frame: Frame, count: int) -> tuple[str, ...]:
    """Return what the pieces of a parted run are called, from the low station up: west part, middle part, east part."""
    low, high = looks(frame, "x", -1), looks(frame, "x", 1)
    if count <= 1:
        return ("",) * count
    if count <= 3:
        return (f"{low} part", *(["middle part"] * (count - 2)), f"{high} part")
    return tuple(f"part {number} from the {low}" for number in range(1, count + 1))
