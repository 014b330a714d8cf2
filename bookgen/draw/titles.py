"""A finished view in; its title, its sentence for those who can't see it, and its caption, in plain words, out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from bookgen.draw.eye import Eye
from bookgen.draw.paper import Paper
from bookgen.draw.scene import Origin, Thing
from bookgen.draw.stations import Cut
from bookgen.draw.strip import Strip
from bookgen.draw.words import listed, looking, lower_first, size, spoken
from bookgen.model.assembly import Assembly
from bookgen.model.length import Length
from bookgen.model.solved import Solved, SolvedObstacle
from bookgen.model.tape import Units

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
NO_SCALE = "Not to scale"


@dataclass(frozen=True, slots=True)
class SketchWords:
    """The words of a sketch: its title and sentence for who can't see it, its caption, and what its strip says."""

    title: str
    desc: str
    caption: str
    strip: Strip


@dataclass(frozen=True, slots=True)
class Topic:
    """What a sketch is about: an obstacle of a solved level, worked out."""

    solved: Solved
    obstacle: SolvedObstacle
    assembly: Assembly

    def name(self) -> str:
        """Return the owner's name for the obstacle."""
        return next(file.record.obstacle for file in self.solved.project.obstacles if file.key == self.obstacle.key)

    def units(self) -> Units:
        """Return the units of the book."""
        return self.solved.project.record.units


def section_words(topic: Topic, eye: Eye, cut: Cut, things: Iterable[Thing], paper: Paper) -> SketchWords:
    """Return the words of a section across the run; *things* are what it shows."""
    station = size(Length(cut.at), units=paper.units, tall=True)
    side = "west" if topic.assembly.frame.along == "x" else "south"
    where, way = f"{station} from the {side} block wall", looking(eye.looking)
    why = f", {cut.why}" if cut.why else ""
    return _words(
        topic,
        f"{_lettered('section', cut)} at {where}, {way}",
        f"Cut {where}{why}, {way}.",
        description(topic, f"Section {way}", things),
        paper.words(),
    )


def plan_section_words(topic: Topic, eye: Eye, cut: Cut, things: Iterable[Thing], paper: Paper) -> SketchWords:
    """Return the words of a plan of one treatment."""
    up = size(Length(eye.at - topic.solved.level.floor), units=paper.units, tall=True)
    why = f", {cut.why}" if cut.why else ""
    return _words(
        topic,
        f"{_lettered('plan', cut)}, cut {up} above the floor, north up",
        f"Cut level {up} above the floor{why}, {looking(eye.looking)}.",
        description(topic, "Plan with north up", things),
        paper.words(),
    )


def elevation_words(topic: Topic, eye: Eye, things: Iterable[Thing], paper: Paper) -> SketchWords:
    """Return the words of an elevation."""
    way = looking(eye.looking)
    return _words(
        topic,
        f"framing elevation, {way}",
        f"Elevation without the board, {way}.",
        description(topic, f"Framing {way}, without the board", things),
        paper.words(),
    )


def cutaway_words(topic: Topic, things: Iterable[Thing], *, below: bool) -> SketchWords:
    """Return the words of a cutaway; *below* tells that one looks up at it."""
    seen_from = "seen from below" if below else "seen from the room and a little from above"
    return _words(
        topic,
        f"cutaway, {seen_from}",
        f"Cut away in layers, {seen_from}: what is hidden, the framing, the finished surface.",
        description(topic, f"Cutaway {seen_from}", things),
        NO_SCALE,
    )


def plan_words(solved: Solved, eye: Eye, paper: Paper) -> SketchWords:
    """Return the words of the level plan."""
    level = solved.project.record.level.name
    rooms = listed([lower_first(room.name) for room in solved.rooms])
    count = sum(len(obstacle.access) for obstacle in solved.obstacles)
    tagged = f" and {count} numbered access points" if count else ""
    wide, deep = (
        spoken(Length(value), units=paper.units) for value in (solved.level.east_west, solved.level.north_south)
    )
    up = size(Length(eye.at - solved.level.floor), units=paper.units, tall=True)
    tags = " The numbers are those of the tags." if count else ""
    view = f"plan, cut {up} above the floor, north up"
    return SketchWords(
        f"{level}: {view}",
        f"A plan with {rooms}, {wide} from west to east and {deep} from south to north inside the block, with what is "
        f"hidden between them drawn dashed{tagged}.",
        f"Cut {up} above the floor, north up; soffits overhead in long dashes.{tags}",
        _strip(solved, level, view, paper.words()),
    )


def _words(topic: Topic, view: str, caption: str, desc: str, scale: str) -> SketchWords:
    name = topic.name()
    return SketchWords(f"{name}: {view}", desc, caption, _strip(topic.solved, name, view, scale))


def _strip(solved: Solved, subject: str, view: str, scale: str) -> Strip:
    """Return the strip; the date is the book's own."""
    record = solved.project.record
    day = record.book.date
    date = f"{day.day} {MONTHS[day.month - 1]} {day.year}"
    return Strip(subject, f"{view[:1].upper()}{view[1:]}", record.project, scale, date)


def _lettered(kind: str, cut: Cut) -> str:
    return f"{kind} {cut.letter}" if cut.letter else kind


def description(topic: Topic, view: str, things: Iterable[Thing]) -> str:
    """Return one sentence: the way one looks, what is hidden in what, and the main sizes."""
    assembly = topic.assembly
    shown = (thing for thing in things if thing.origin is Origin.HIDDEN and thing.owner == topic.obstacle.key)
    hidden = list(dict.fromkeys(thing.what for thing in shown))
    sizes = [
        f"{lower_first(measure.name)} {spoken(measure.value, units=topic.units())}"
        for kind in ("finished", "headroom")
        for measure in assembly.measures
        if measure.kind == kind
    ][:4]
    what = named(assembly.treatment) if assembly.treatment else "a stretch of the level"
    inside = f" with {listed([lower_first(name) for name in hidden])} inside" if hidden else ""
    ending = f": {', '.join(sizes)}" if sizes else ""
    return f"{view}, showing {what}{inside}{ending}."


def named(treatment: str) -> str:
    """Return a treatment with its article; of furring there is no one."""
    return treatment if treatment == "furring" else f"{article(treatment)} {treatment}"


def article(noun: str) -> str:
    """Return a or an."""
    return "an" if noun[:1] in "aeio" else "a"
