"""A soffit and a station in; the same with the finished sizes that it has there, out: a soffit in steps has others.

They are measured on the faces that the plane cuts, so that a section says what somebody with a tape would find there.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import Assembly, Measure
from bookgen.model.geometry import Point
from bookgen.model.length import Length

OUTSIDE, BOTTOM = "finished outside", "finished bottom"
STANDING = ("finished wall", "ceiling", "finished floor", "block")  # they are where they are all along the run


def made_here(assembly: Assembly, at: Fraction) -> Assembly:
    """Return the work with its finished sizes at a station; as it is, where no face of a soffit looks down there."""
    if not {OUTSIDE, BOTTOM} <= assembly.anchors.keys():
        return assembly
    faces = [face for face in assembly.faces if face.axis == "z" and face.toward < 0]
    boxes = [(face.outline.bounds(), face.at) for face in faces]
    here = [(high[1], height) for (low, high), height in boxes if low[0] <= at <= high[0]]
    if not here:
        return assembly
    outside, bottom = max(far for far, _ in here), min(height for _, height in here)
    anchors = {name: replace(assembly.anchors[name], x=at) for name in STANDING if name in assembly.anchors}
    anchors |= {name: Point(at, outside, bottom) for name in (OUTSIDE, BOTTOM)}
    measures = (_measured(one, anchors) for one in assembly.measures if one.start in anchors and one.end in anchors)
    return replace(assembly, anchors=anchors, measures=tuple(measures))


def _measured(one: Measure, anchors: dict[str, Point]) -> Measure:
    start, end = anchors[one.start].on(one.axis), anchors[one.end].on(one.axis)
    return replace(one, value=Length(abs(end - start)))
