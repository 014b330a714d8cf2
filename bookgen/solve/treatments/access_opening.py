"""An opening's choices and its site in; trimmers and blocking round it, its cover and its sizes out.

In a wall the opening stands in the studs of the lining or of a partition, which give way to it. In a ceiling it is
framed flat under the joists.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.assembly import Face, HiddenThing, Material, Part
from bookgen.model.geometry import AXES, Axis, Point, box
from bookgen.model.length import Length
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import AccessOpening
from bookgen.solve.board import rectangle
from bookgen.solve.compass import looks
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, stick, true_size
from bookgen.solve.neighbours import ceiling_over
from bookgen.solve.positions import Ground, locate
from bookgen.solve.site import Site, Worked
from bookgen.solve.soffit_words import clash_problems, sizes
from bookgen.solve.studwork import overlap
from bookgen.solve.treatments.assembled import Work, assembled, middle, path_to
from bookgen.solve.walls_met import stud_face

NAME = "access opening"
BLOCK = "2x4"  # blocking through a wall, and the flat frame of an opening in a ceiling; common practice
THIN_BLOCK = "2x2"  # where something passes behind, flush with the front of the studs
NEAR = Fraction(1)  # inches by which the place may miss the face of the wall it stands in
SIZES = (
    ("width of the opening", "framed", "low edge of the opening", "high edge of the opening", "x"),
    ("height of the opening", "framed", "bottom of the opening", "top of the opening", "z"),
    ("depth of the opening", "framed", "near edge of the opening", "far edge of the opening", "y"),
    ("bottom of the opening over the floor", "finished", "finished floor", "bottom of the opening", "z"),
)


@dataclass(frozen=True, slots=True)
class _Wall:
    """An opening in a wall: its stretch along and up, the faces of the studs, and the side that the cover is on."""

    along: Stretch
    up: Stretch
    across: Stretch
    stud: str
    toward: int

    def face(self, board: Fraction) -> Fraction:
        """Return the finished face that the cover is in."""
        return self.across[1] + board if self.toward > 0 else self.across[0] - board


def solve(site: Site, choices: AccessOpening) -> Worked:
    """Return the framed opening and its cover, or the Problems that stand in its way.

    They are `opening-size-disagrees`, `opening-past-plates`, `no-wall-there`, `part-meets-obstacle`,
    `section-outside` and those of its place.
    """
    path = path_to(site, "at")
    spot = locate(choices.at, Ground(site.project, site.file, site.level, site.frame), path)
    if isinstance(spot, Problem):
        return None, (spot,)
    spans = _in_frame(site, (spot.x, spot.y, spot.z))
    if spans["z"][0] < spans["z"][1]:
        return _in_wall(site, choices, spans)
    return _in_ceiling(site, choices, spans)


def _in_frame(site: Site, level: tuple[Stretch, Stretch, Stretch]) -> dict[Axis, Stretch]:
    low, high = (site.frame.from_level(Point(*(span[end] for span in level))) for end in (0, 1))
    found: dict[Axis, Stretch] = {}
    for axis in AXES:
        first, second = sorted((low.on(axis), high.on(axis)))
        found[axis] = (first, second)
    return found


def _sized(span: Stretch, size: Length) -> Stretch:
    """Return a stretch as written, or the size of the opening round its middle."""
    if span[0] < span[1]:
        return span
    return span[0] - size.inches / 2, span[0] + size.inches / 2


def _in_wall(site: Site, choices: AccessOpening, spans: dict[Axis, Stretch]) -> Worked:
    along, up = _sized(spans["x"], choices.opening.wide), spans["z"]
    wall = _standing_in(site, along, up, spans["y"])
    if wall is None:
        value = site.tape.short(spans["y"][0])
        rule, repair = "no lining and no partition has its face there", "write where the finished wall is"
        return None, (site.problem("no-wall-there", path_to(site, "at"), value, rule, repair),)
    problems = (*_disagree(site, choices, (along, up)), *_past_plates(site, wall))
    if problems:
        return None, problems
    parts = (*_trimmers(site, wall), *_blocks(site, wall), _cover(site, wall))
    problems = clash_problems(
        site, parts, lambda _: path_to(site, "at"), lambda _: "move the opening, or what is in its way"
    )
    if problems:
        return None, problems
    anchors = _anchors(site, wall)
    face = wall.face(site.level.wall_board)
    outline = rectangle("y", x=wall.along, z=wall.up)
    way = looks(site.frame, "y", wall.toward)
    seen = Face(f"cover, looking {way}", "y", face, wall.toward, outline, site.file.record.room)
    work = Work(
        parts, (seen,), anchors, sizes(anchors, SIZES), middle(along), tuple(_remarks(site, choices, wall, parts))
    )
    return assembled(site, NAME, work)


def _standing_in(site: Site, along: Stretch, up: Stretch, off: Stretch) -> _Wall | None:
    """Return the wall whose face, studs or board hold the opening's place."""
    record, board = site.project.record, site.level.wall_board
    if site.frame.name not in {"east", "north"}:
        size = true_size(record.level.wall_lining.stud)
        front = stud_face(site)
        if size and off[1] >= front - size[1] - NEAR and off[0] <= front + board + NEAR:
            return _Wall(along, up, (front - size[1], front), record.level.wall_lining.stud, 1)
    for partition in record.partitions.values():
        if (partition.runs == "east") != (site.frame.along == "x"):
            continue
        sides = (partition.thick.low.inches, partition.thick.high.inches)
        low, high = sorted(site.frame.off * (side - site.frame.zero) for side in sides)
        if off[1] >= low - board - NEAR and off[0] <= high + board + NEAR:
            return _Wall(along, up, (low, high), partition.stud, 1 if middle(off) > middle((low, high)) else -1)
    return None


def _disagree(site: Site, choices: AccessOpening, found: tuple[Stretch, Stretch]) -> Iterator[Problem]:
    asked = choices.opening.wide.inches, choices.opening.high.inches
    made = tuple(high - low for low, high in found)
    if made != asked:
        words = " × ".join(site.tape.short(side) for side in made)
        value = f"{site.tape.short(choices.opening.wide)} × {site.tape.short(choices.opening.high)}"
        rule = f"its place makes it {words}"
        yield site.problem("opening-size-disagrees", path_to(site, "opening"), value, rule, "measure it again")


def _past_plates(site: Site, wall: _Wall) -> Iterator[Problem]:
    plate = (true_size(wall.stud) or (Fraction(0), Fraction(0)))[0]
    low, high = 2 * plate, site.level.joists - 2 * plate
    if wall.up[0] < low or wall.up[1] > high:
        words = f"{site.tape.short(low)} to {site.tape.short(high)}"
        yield site.problem(
            "opening-past-plates",
            path_to(site, "at"),
            " to ".join(site.tape.short(end) for end in wall.up),
            f"a plate and a block fit under and over it, so it lies between {words} above the slab",
            "write a place between them",
        )


def _trimmers(site: Site, wall: _Wall) -> Iterator[Part]:
    thick = (true_size(wall.stud) or (Fraction(0), Fraction(0)))[0]
    up = thick, site.level.joists - thick
    for name, x in (("low", wall.along[0] - thick), ("high", wall.along[1])):
        yield stick(f"{name} trimmer", "stud", wall.stud, "z", up, (x, wall.across[0]), "y")


def _blocks(site: Site, wall: _Wall) -> Iterator[Part]:
    """Yield the block under and the one over the opening; thin ones in front where something passes behind."""
    thick = (true_size(BLOCK) or (Fraction(0), Fraction(0)))[0]
    for name, z in (("lower", wall.up[0] - thick), ("upper", wall.up[1])):
        room = Rectangle(wall.along, (z, z + thick))
        if not any(_passes(thing, room, wall.across) for thing in (*site.hidden, *site.others)):
            yield _block(f"{name} block", wall.stud, wall.along, wall.across, (z, z + thick))
            continue
        near = (wall.across[1] - thick, wall.across[1]) if wall.toward > 0 else (wall.across[0], wall.across[0] + thick)
        yield _block(f"{name} block, thin", THIN_BLOCK, wall.along, near, (z, z + thick))


def _block(name: str, stock: str, x: Stretch, y: Stretch, z: Stretch) -> Part:
    return Part(name, "block", box(x, y, z, "x"), Material.BLOCKING, stock)


def _passes(thing: HiddenThing, room: Rectangle, across: Stretch) -> bool:
    boxes = [solid.bounds().grown(thing.clearance) for solid in thing.solids]
    return thing.material is not Material.CABLE and any(
        overlap((b.low.x, b.high.x), room.u)
        and overlap((b.low.z, b.high.z), room.v)
        and overlap((b.low.y, b.high.y), across)
        for b in boxes
    )


def _cover(site: Site, wall: _Wall) -> Part:
    """Return the cover: it fills the hole in the board."""
    edge, face = (wall.across[1] if wall.toward > 0 else wall.across[0]), wall.face(site.level.wall_board)
    spans = (wall.along, (min(edge, face), max(edge, face)), wall.up)
    return Part(_cover_name(site), "cover", box(*spans, "y"), Material.PANEL, "")


def _cover_name(site: Site) -> str:
    tags = [point.tag for point in site.file.record.access if point.cover.kind not in {"none", "room door"}]
    return f"cover {tags[0]}" if tags else "cover"


def _anchors(site: Site, wall: _Wall) -> dict[str, Point]:
    x, z, face = middle(wall.along), middle(wall.up), wall.face(site.level.wall_board)
    return {
        "low edge of the opening": Point(wall.along[0], face, z),
        "high edge of the opening": Point(wall.along[1], face, z),
        "bottom of the opening": Point(x, face, wall.up[0]),
        "top of the opening": Point(x, face, wall.up[1]),
        "finished floor": Point(x, face, site.level.floor),
        "finished face": Point(x, face, z),
        "block": Point(x, Fraction(0), z),
    }


def _remarks(site: Site, choices: AccessOpening, wall: _Wall, parts: tuple[Part, ...]) -> Iterator[str]:
    yield f"It has to let through {choices.what_passes}."
    if any(part.stock == THIN_BLOCK for part in parts):
        yield "Where a block can't go through the wall, because something passes there, a 2x2 lies in front of it."
    for thing in site.hidden:
        boxes = [solid.bounds() for solid in thing.solids]
        if all(b.high.z <= wall.up[0] or b.low.z >= wall.up[1] for b in boxes):
            yield f"{thing.what} is not behind this cover."


def _in_ceiling(site: Site, choices: AccessOpening, spans: dict[Axis, Stretch]) -> Worked:
    x, y = _sized(spans["x"], choices.opening.wide), _sized(spans["y"], choices.opening.high)
    problems = tuple(_disagree(site, choices, (x, y)))
    if problems:
        return None, problems
    thick, wide = true_size(BLOCK) or (Fraction(0), Fraction(0))
    top = site.level.joists
    face = ceiling_over(site, Point(middle(x), middle(y), top)) or top - site.level.ceiling_board
    up = face + site.level.ceiling_board, face + site.level.ceiling_board + thick
    ring = (
        ("low", (x[0] - wide, x[0]), (y[0] - wide, y[1] + wide), "y"),
        ("high", (x[1], x[1] + wide), (y[0] - wide, y[1] + wide), "y"),
        ("near", x, (y[0] - wide, y[0]), "x"),
        ("far", x, (y[1], y[1] + wide), "x"),
    )
    parts = [
        Part(f"{name} block", "block", box(u, v, up, "x" if grain == "x" else "y"), Material.BLOCKING, BLOCK)
        for name, u, v, grain in ring
    ]
    parts.append(Part(_cover_name(site), "cover", box(x, y, (face, up[0]), "z"), Material.PANEL, ""))
    problems = clash_problems(
        site, parts, lambda _: path_to(site, "at"), lambda _: "move the opening, or what is in its way"
    )
    if problems:
        return None, problems
    anchors = {
        "low edge of the opening": Point(x[0], middle(y), face),
        "high edge of the opening": Point(x[1], middle(y), face),
        "near edge of the opening": Point(middle(x), y[0], face),
        "far edge of the opening": Point(middle(x), y[1], face),
        "finished floor": Point(middle(x), middle(y), site.level.floor),
        "finished ceiling": Point(middle(x), middle(y), face),
    }
    seen = Face("cover in the ceiling", "z", face, -1, rectangle("z", x=x, y=y), site.file.record.room)
    remark = f"It has to let through {choices.what_passes}."
    return assembled(site, NAME, Work(tuple(parts), (seen,), anchors, sizes(anchors, SIZES), middle(x), (remark,)))
