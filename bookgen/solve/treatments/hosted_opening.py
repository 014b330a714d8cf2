"""An access opening in a face of a soffit or a chase in; its cover, its finished face and its sizes out.

The work that it lies in frames it and cuts its board, as it does for covers of its own record.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from bookgen.model.assembly import Face
from bookgen.model.geometry import ACROSS, AXES, Axis, Point
from bookgen.model.records.treatments import AccessOpening
from bookgen.solve.board import rectangle
from bookgen.solve.compass import looks
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch
from bookgen.solve.site import Site, Taken, Worked
from bookgen.solve.soffit_words import clash_problems, sizes
from bookgen.solve.treatments.assembled import Work, assembled, middle, path_to
from bookgen.solve.treatments.cover_in_face import cover_parts
from bookgen.solve.treatments.opening_size import NAME, SIZES, cover_of, opening_stretches, size_remarks

EDGES: Mapping[Axis, tuple[str, str]] = {
    "x": ("low edge of the opening", "high edge of the opening"),
    "y": ("near edge of the opening", "far edge of the opening"),
    "z": ("bottom of the opening", "top of the opening"),
}


def in_host(site: Site, choices: AccessOpening, spans: Mapping[Axis, Stretch], host: Taken) -> Worked:
    """Return an opening in a face of its *host*; *spans* are its place in the run's frame.

    Problems are those of `opening_stretches`, `part-meets-obstacle` and `section-outside`; one too large for the face
    is told by the host, as `cover-past-soffit` or `cover-past-chase`.
    """
    axis, at, toward = _face_of(spans, host)
    first, second = ACROSS[axis]
    patch = opening_stretches(site, choices, (spans[first], spans[second]))
    if not isinstance(patch, Rectangle):
        return None, patch
    board = site.level.ceiling_board if axis == "z" else site.level.wall_board
    parts = cover_parts(cover_of(site, patch), axis, at, toward, board, fills=True)
    problems = clash_problems(
        site, parts, lambda _: path_to(site, "at"), lambda _: "move the opening, or what is in its way"
    )
    if problems:
        return None, problems
    spots: dict[Axis, Stretch] = {axis: (at, at), first: patch.u, second: patch.v}
    name = "cover in the underside" if axis == "z" else f"cover, looking {looks(site.frame, axis, toward)}"
    seen = Face(name, axis, at, toward, rectangle(axis, **{first: patch.u, second: patch.v}), site.file.record.room)
    anchors = _anchors(site, spots, (first, second))
    remarks = (*size_remarks(site, choices), site.say("It is framed in a face of {what}.", what=host.what))
    return assembled(site, NAME, Work(parts, (seen,), anchors, sizes(anchors, SIZES), middle(spots["x"]), remarks))


def _face_of(spans: Mapping[Axis, Stretch], host: Taken) -> tuple[Axis, Fraction, int]:
    """Return the finished face of the host that a flat place lies in: its axis, where it is and where it looks."""
    room = host.room.finished
    flat = [axis for axis in AXES if spans[axis][0] == spans[axis][1]]
    faces = [(axis, at, way) for axis in flat for at, way in ((room.low.on(axis), -1), (room.high.on(axis), 1))]
    return min(faces, key=lambda face: (abs(face[1] - spans[face[0]][0]), AXES.index(face[0])))


def _anchors(site: Site, spots: Mapping[Axis, Stretch], across: tuple[Axis, ...]) -> dict[str, Point]:
    centre = Point(*(middle(spots[axis]) for axis in AXES))
    found = {"finished floor": Point(centre.x, centre.y, site.level.floor), "finished face": centre}
    for axis in across:
        for name, at in zip(EDGES[axis], spots[axis], strict=True):
            found[name] = Point(*(at if one == axis else middle(spots[one]) for one in AXES))
    return found
