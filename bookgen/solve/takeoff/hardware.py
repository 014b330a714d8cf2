"""The solved level in, what is bought by the piece out: doors, covers, lights, fixings, fireblocking, stair parts.

What the records name is counted; what only a rule of the trade gives is a range with the rule beside it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from math import ceil

from bookgen.model.assembly import SOFFITS, Assembly, Material, Part
from bookgen.model.buying import Hardware, Trade
from bookgen.model.geometry import Prism, root_above
from bookgen.model.length import Length
from bookgen.model.problem import Severity
from bookgen.model.project import ObstacleFile
from bookgen.model.records.obstacle import Cover
from bookgen.model.records.treatments import Door
from bookgen.model.solved import Solved, SolvedObstacle
from bookgen.model.tape import Tape
from bookgen.solve.choices import chosen

PRACTICE = "common practice, no source"
HINGE_FOR = 30  # inches of leaf; common practice
PINS_NEAR, PINS_FAR = 16, 32  # inches between the pins of a plate; common practice
PINS_A_BLOCK = 2  # on a steel beam; our choice
MAGNETS = 4  # one near each corner of a magnetic panel; our choice
BLOCKS_APART = 120  # inches along a hidden space: fireblocking every 10 ft, as the check fireblock-places reads it
PLATE_DEPTH = Fraction(2)  # inches behind a finished face within which a thing may need a plate over each piece of wood
PIPED = SOFFITS | {"chase", "post wrap"}  # a pipe leaves at one end or two


def hardware(solved: Solved) -> tuple[Hardware, ...]:
    """Return everything bought by the piece, by heading, then in the order of the records."""
    rows: list[Hardware] = []
    tape = solved.project.tape
    for file, worked in zip(solved.project.obstacles, solved.obstacles, strict=True):
        rows += (*_doors(file, tape), *_covers(file, tape), *_nail_plates(solved, file))
        if worked.assembly is not None:
            rows += (*_lights(worked.assembly), *_pins(worked.assembly), *_beam_pins(worked))
            rows += (*_fireblocks(solved, file, worked.assembly), *_stair_parts(worked.assembly, tape))
    for key, partition in solved.project.record.partitions.items():
        for opening in partition.openings:
            if re.search(r"\bdoor\b", opening.what, re.IGNORECASE):
                size = (opening.along.size(), opening.head.length)
                rows += _leaf(f"partition-{key}", opening.what, size, 1, tape)
    for wall in solved.level.linings:
        rows += _pins(wall)
    order = list(Trade)
    return tuple(sorted(rows, key=lambda row: order.index(row.trade)))


def _doors(file: ObstacleFile, tape: Tape) -> Iterator[Hardware]:
    pick = chosen(file.record)
    door = getattr(pick.choices, "door", None) if pick else None
    if isinstance(door, Door):
        words = f", louvers {door.louvres}" if door.louvres else ""
        yield from _leaf(file.key, f"door leaf{words}", (door.leaf.wide, door.leaf.high), door.leaves, tape)


def _leaf(key: str, what: str, size: tuple[Length, Length], leaves: int, tape: Tape) -> Iterator[Hardware]:
    wide, high = size
    said = f"{tape.short(wide)} × {tape.short(high)}"
    yield Hardware(Trade.DOORS, f"{what}, {said}", leaves, leaves, key)
    hinges = leaves * ceil(high.inches / HINGE_FOR)
    yield Hardware(Trade.DOORS, "hinges", hinges, hinges, key, f"one for every 30 in of height; {PRACTICE}")
    if leaves == 1:
        yield Hardware(Trade.DOORS, "latch set", 1, 1, key)
    else:
        yield Hardware(Trade.DOORS, "pulls", leaves, leaves, key)
        yield Hardware(Trade.DOORS, "catches", leaves, leaves, key)


def _covers(file: ObstacleFile, tape: Tape) -> Iterator[Hardware]:
    """Yield each cover once, though several things may be reached behind it."""
    covers: dict[tuple[object, ...], Cover] = {}
    for point in file.record.access:
        cover = point.cover
        if cover.kind not in ("none", "room door"):
            covers.setdefault((cover.kind, cover.size, cover.at or point.tag), cover)
    for cover in covers.values():
        size = f", {tape.short(cover.size.wide)} × {tape.short(cover.size.high)}" if cover.size else ""
        yield Hardware(Trade.COVERS, f"{cover.kind}{size}", 1, 1, file.key)
        if cover.kind == "hinged door":
            yield Hardware(Trade.COVERS, "small hinges", 2, 2, file.key, PRACTICE)
            yield Hardware(Trade.COVERS, "catches", 1, 1, file.key)
        if cover.kind == "magnetic panel":
            yield Hardware(Trade.COVERS, "magnets with plates", MAGNETS, MAGNETS, file.key, "one near each corner")


def _lights(assembly: Assembly) -> Iterator[Hardware]:
    counts: dict[str, int] = {}
    for part in assembly.parts:
        if part.role in ("light", "register"):
            what = re.sub(r" \d+$", "", part.name)
            counts[what] = counts.get(what, 0) + 1
    for what, count in counts.items():
        yield Hardware(Trade.LIGHTS, what, count, count, assembly.key)


def _pins(assembly: Assembly) -> Iterator[Hardware]:
    """Yield the anchors or pins of the plates on the slab: one near each end, and between them within a range."""
    plates = [part for part in assembly.parts if part.material is Material.TREATED and _flat(part)]
    if plates:
        near = sum(_along(part, PINS_NEAR) for part in plates)
        far = sum(_along(part, PINS_FAR) for part in plates)
        rule = f"{PINS_NEAR} to {PINS_FAR} in apart, one near each end; {PRACTICE}"
        yield Hardware(Trade.FIXINGS, "anchors or pins in concrete", far, near, assembly.key, rule)


def _flat(part: Part) -> bool:
    box = part.solid.bounds()
    return box.size("z") < max(box.size("x"), box.size("y"))


def _along(part: Part, apart: int) -> int:
    length = part.length().inches
    return max(1 if length < apart / 2 else 2, ceil(length / apart) + 1 if length > apart else 1)


def _beam_pins(worked: SolvedObstacle) -> Iterator[Hardware]:
    assembly = worked.assembly
    steel = any(thing.material is Material.STEEL for thing in worked.hidden)
    if assembly is not None and assembly.treatment == "beam soffit" and steel:
        count = PINS_A_BLOCK * sum(part.role == "block" for part in assembly.parts)
        rule = "two to a block, our choice; the product report of the pin governs"
        yield Hardware(Trade.FIXINGS, "pins in steel, for the blocks on the beam", count, count, assembly.key, rule)


def _nail_plates(solved: Solved, file: ObstacleFile) -> Iterator[Hardware]:
    """Yield the steel plates over each pipe and cable that a check found too near the face of the wood."""
    near = {
        finding.where: finding.source
        for finding in solved.findings
        if finding.code == "plate-needed"
        and finding.place.file == file.file
        and finding.severity in (Severity.STOP, Severity.ASK)
    }
    for what, source in near.items():
        crossed = sum(
            low - PLATE_DEPTH <= wood.middle <= high + PLATE_DEPTH
            for face in solved.faces
            for thing in face.things
            if thing.what == what and thing.depth <= PLATE_DEPTH
            for wood in face.framing
            for low, high in [thing.along if wood.upright else thing.up]
        )
        yield Hardware(Trade.FIRE, f"steel nail plates over {what}", 1, max(1, crossed), file.key, source)


def _fireblocks(solved: Solved, file: ObstacleFile, assembly: Assembly) -> Iterator[Hardware]:
    """Yield the blocks between furring strips, by rule, and the openings to pack; all other blocks are parts."""
    found = next((f for f in solved.findings if f.code == "fireblock-places" and f.place == assembly.place), None)
    if found is None:
        return
    boxes = [part.solid.bounds() for part in assembly.parts]
    if assembly.treatment == "furring":
        long = max(box.high.x for box in boxes) - min(box.low.x for box in boxes)
        across = ceil(long / BLOCKS_APART) - 1
        rows = {part.solid.bounds().low.y for part in assembly.parts if part.role == "strip"}
        most = across * max(1, len(rows) - 1)  # one in each bay, where the strips leave it open
        if most:
            what = "fireblocks, cut from what is left over"
            yield Hardware(Trade.FIRE, what, across, most, assembly.key, found.source)
    elif assembly.treatment in PIPED:
        through = sum(bool(record.pipe or record.duct) for record in file.record.inside)
        if through:
            what = "openings to pack or seal round pipes and ducts"
            yield Hardware(Trade.FIRE, what, through, 2 * through, assembly.key, found.source)


def _stair_parts(assembly: Assembly, tape: Tape) -> Iterator[Hardware]:
    counts: dict[tuple[str, Length], int] = {}
    for part in assembly.parts:
        if part.role in ("cap", "rail", "baluster") and isinstance(part.solid, Prism):
            corners = part.solid.profile.corners
            sides = ((u2 - u1) ** 2 + (v2 - v1) ** 2 for (u1, v1), (u2, v2) in pairwise((*corners, corners[0])))
            key = (part.role, Length(root_above(max(sides))))
            counts[key] = counts.get(key, 0) + 1
    for (role, length), count in counts.items():
        yield Hardware(Trade.STAIR, f"{role}, {tape.short(length)} long", count, count, assembly.key)
