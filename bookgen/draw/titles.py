"""A finished view in; its title, its sentence for those who can't see it, and its caption, in plain words, out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from bookgen.draw.eye import Eye
from bookgen.draw.paper import Paper
from bookgen.draw.scene import Origin, Thing
from bookgen.draw.words import listed, looking, lower_first, size, spoken
from bookgen.model.assembly import Assembly
from bookgen.model.length import Length
from bookgen.model.solved import Solved, SolvedObstacle

NOT_FOR_PERMIT = "Not for permit."


@dataclass(frozen=True, slots=True)
class SketchWords:
    """The words of a sketch."""

    title: str
    desc: str
    caption: str


def section_words(
    solved: Solved, obstacle: SolvedObstacle, assembly: Assembly, eye: Eye, things: Iterable[Thing], paper: Paper
) -> SketchWords:
    """Return the words of a section; *things* are what it shows."""
    name = _name(solved, obstacle)
    station = size(Length(assembly.section_at), metric=paper.metric, tall=True)
    side = "west" if assembly.frame.along == "x" else "south"
    return SketchWords(
        f"{name}: section, {looking(eye.looking)}",
        description(assembly, obstacle, things, metric=paper.metric),
        f"Cut {station} from the {side} block wall, {looking(eye.looking)}. {paper.words()}. {NOT_FOR_PERMIT}",
    )


def plan_section_words(
    solved: Solved, obstacle: SolvedObstacle, assembly: Assembly, eye: Eye, things: Iterable[Thing], paper: Paper
) -> SketchWords:
    """Return the words of a section that is cut level."""
    up = size(Length(eye.at - solved.level.floor), metric=paper.metric, tall=True)
    return SketchWords(
        f"{_name(solved, obstacle)}: cut level, north up",
        description(assembly, obstacle, things, metric=paper.metric),
        f"Cut level {up} above the floor, {looking(eye.looking)}. {paper.words()}. {NOT_FOR_PERMIT}",
    )


def elevation_words(
    solved: Solved, obstacle: SolvedObstacle, assembly: Assembly, eye: Eye, things: Iterable[Thing], paper: Paper
) -> SketchWords:
    """Return the words of an elevation."""
    return SketchWords(
        f"{_name(solved, obstacle)}: framing elevation, {looking(eye.looking)}",
        description(assembly, obstacle, things, metric=paper.metric),
        f"Elevation without the board, {looking(eye.looking)}. {paper.words()}. {NOT_FOR_PERMIT}",
    )


def cutaway_words(
    solved: Solved, obstacle: SolvedObstacle, assembly: Assembly, things: Iterable[Thing], *, below: bool, metric: bool
) -> SketchWords:
    """Return the words of a cutaway; *below* tells that one looks up at it."""
    seen_from = "seen from below" if below else "seen from the room and a little from above"
    return SketchWords(
        f"{_name(solved, obstacle)}: cutaway, {seen_from}",
        description(assembly, obstacle, things, metric=metric),
        f"Cut away in layers, {seen_from}: what is hidden, the framing, the finished surface. "
        f"Not to scale. {NOT_FOR_PERMIT}",
    )


def plan_words(solved: Solved, eye: Eye, paper: Paper) -> SketchWords:
    """Return the words of the level plan."""
    level = solved.project.record.level.name
    rooms = listed([lower_first(room.name) for room in solved.rooms])
    count = sum(len(obstacle.access) for obstacle in solved.obstacles)
    tagged = f" and {count} numbered access points" if count else ""
    up = size(Length(eye.at - solved.level.floor), metric=paper.metric, tall=True)
    tags = " The numbers are those of the tags." if count else ""
    return SketchWords(
        f"{level}: plan, north up",
        f"A plan with {rooms}, what is hidden between them drawn dashed{tagged}.",
        f"Cut {up} above the floor, north up; soffits overhead are dashed too.{tags} {paper.words()}. {NOT_FOR_PERMIT}",
    )


def description(assembly: Assembly, obstacle: SolvedObstacle, things: Iterable[Thing], *, metric: bool) -> str:
    """Return one sentence: what is hidden, in what, and the main sizes."""
    shown = (thing for thing in things if thing.origin is Origin.HIDDEN and thing.owner == obstacle.key)
    hidden = list(dict.fromkeys(thing.what for thing in shown))
    sizes = [
        f"{lower_first(measure.name)} {spoken(measure.value, metric=metric)}"
        for kind in ("finished", "headroom")
        for measure in assembly.measures
        if measure.kind == kind
    ][:4]
    what = f"{article(assembly.treatment)} {assembly.treatment}" if assembly.treatment else "a stretch of the level"
    inside = f" with {listed([lower_first(name) for name in hidden])} inside" if hidden else ""
    ending = f": {', '.join(sizes)}" if sizes else ""
    return f"{what[:1].upper()}{what[1:]}{inside}{ending}."


def article(noun: str) -> str:
    """Return a or an."""
    return "an" if noun[:1] in "aeio" else "a"


def _name(solved: Solved, obstacle: SolvedObstacle) -> str:
    return next(file.record.obstacle for file in solved.project.obstacles if file.key == obstacle.key)
