"""A finished view in; its title, its sentence for those who can't see it, and its caption, in plain words, out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

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
from bookgen.trade.tongue import Tongue, tongue


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

    def tongue(self) -> Tongue:
        """Return the language of the book."""
        return tongue(self.solved.project.record.language)


def section_words(topic: Topic, eye: Eye, cut: Cut, things: Iterable[Thing], paper: Paper) -> SketchWords:
    """Return the words of a section across the run; *things* are what it shows."""
    say, way = paper.tongue.say, looking(eye.looking, paper.tongue)
    side = say("west" if topic.assembly.frame.along == "x" else "south")
    station = size(Length(cut.at), units=paper.units, tall=True)
    where = say("{station} from the {side} block wall", station=station, side=side)
    section = say("section {letter}", letter=cut.letter) if cut.letter else say("section")
    view = say("{section} at {where}, {way}", section=section, where=where, way=way)
    caption = (
        say("Cut {where}, {why}, {way}.", where=where, why=cut.why, way=way)
        if cut.why
        else say("Cut {where}, {way}.", where=where, way=way)
    )
    return _words(topic, view, caption, description(topic, say("Section {way}", way=way), things, paper), paper)


def plan_section_words(topic: Topic, eye: Eye, cut: Cut, things: Iterable[Thing], paper: Paper) -> SketchWords:
    """Return the words of a plan of one treatment."""
    say, way = paper.tongue.say, looking(eye.looking, paper.tongue)
    up = size(Length(eye.at - topic.solved.level.floor), units=paper.units, tall=True)
    plan = say("plan {letter}", letter=cut.letter) if cut.letter else say("plan")
    view = say("{plan}, cut {up} above the floor, north up", plan=plan, up=up)
    caption = (
        say("Cut level {up} above the floor, {why}, {way}.", up=up, why=cut.why, way=way)
        if cut.why
        else say("Cut level {up} above the floor, {way}.", up=up, way=way)
    )
    return _words(topic, view, caption, description(topic, say("Plan with north up"), things, paper), paper)


def elevation_words(topic: Topic, eye: Eye, things: Iterable[Thing], paper: Paper) -> SketchWords:
    """Return the words of an elevation."""
    say, way = paper.tongue.say, looking(eye.looking, paper.tongue)
    seen = say("Framing {way}, without the board", way=way)
    view, caption = say("framing elevation, {way}", way=way), say("Elevation without the board, {way}.", way=way)
    return _words(topic, view, caption, description(topic, seen, things, paper), paper)


def cutaway_words(topic: Topic, things: Iterable[Thing], paper: Paper, *, below: bool) -> SketchWords:
    """Return the words of a cutaway; *below* tells that one looks up at it."""
    say = paper.tongue.say
    seen = say("seen from below") if below else say("seen from the room and a little from above")
    caption = say("Cut away in layers, {seen}: what is hidden, the framing, the finished surface.", seen=seen)
    desc = description(topic, say("Cutaway {seen}", seen=seen), things, paper)
    return _words(topic, say("cutaway, {seen}", seen=seen), caption, desc, paper, scale=say("Not to scale"))


def plan_words(solved: Solved, eye: Eye, paper: Paper) -> SketchWords:
    """Return the words of the level plan."""
    say, level = paper.tongue.say, solved.project.record.level.name
    rooms = listed([lower_first(room.name) for room in solved.rooms], say)
    count = sum(len(obstacle.access) for obstacle in solved.obstacles)
    wide, deep = (spoken(Length(value), paper) for value in (solved.level.east_west, solved.level.north_south))
    up = size(Length(eye.at - solved.level.floor), units=paper.units, tall=True)
    view = say("{plan}, cut {up} above the floor, north up", plan=say("plan"), up=up)
    desc = say(
        "A plan with {rooms}, {wide} from west to east and {deep} from south to north inside the block, with what is "
        "hidden between them drawn dashed.",
        rooms=rooms,
        wide=wide,
        deep=deep,
    )
    caption = say("Cut {up} above the floor, north up; soffits overhead in long dashes.", up=up)
    if count:
        desc += " " + say("It has {count} numbered access points.", count=count)
        caption += " " + say("The numbers are those of the tags.")
    return SketchWords(f"{level}: {view}", desc, caption, _strip(solved, level, view, paper))


def _words(topic: Topic, view: str, caption: str, desc: str, paper: Paper, scale: str = "") -> SketchWords:
    name, strip = topic.name(), _strip(topic.solved, topic.name(), view, paper, scale)
    if topic.assembly.known.how == "planned":
        planned = paper.tongue.say("Planned, not yet confirmed.")
        strip, desc = replace(strip, note=f"{planned} {strip.note}"), f"{desc} {planned}"
    return SketchWords(f"{name}: {view}", desc, caption, strip)


def _strip(solved: Solved, subject: str, view: str, paper: Paper, scale: str = "") -> Strip:
    """Return the strip; the date is the book's own."""
    record = solved.project.record
    date, note = paper.tongue.day(record.book.date), paper.tongue.say("Not for permit")
    return Strip(subject, f"{view[:1].upper()}{view[1:]}", record.project, scale or paper.words(), date, note)


def description(topic: Topic, view: str, things: Iterable[Thing], paper: Paper) -> str:
    """Return one sentence: the way one looks, what is hidden in what, and the main sizes."""
    assembly, say = topic.assembly, paper.tongue.say
    shown = (thing for thing in things if thing.origin is Origin.HIDDEN and thing.owner == topic.obstacle.key)
    hidden = [lower_first(what) for what in dict.fromkeys(thing.what for thing in shown)]
    sizes = [
        f"{lower_first(paper.tongue.name(measure.name))} {spoken(measure.value, paper)}"
        for kind in ("finished", "headroom")
        for measure in assembly.measures
        if measure.kind == kind
    ][:4]
    what = paper.tongue.name(named(assembly.treatment)) if assembly.treatment else say("a stretch of the level")
    seen = (
        say("{view}, showing {what} with {hidden} inside", view=view, what=what, hidden=listed(hidden, say))
        if hidden
        else say("{view}, showing {what}", view=view, what=what)
    )
    return f"{seen}: {', '.join(sizes)}." if sizes else f"{seen}."


def named(treatment: str) -> str:
    """Return a treatment with its article; of furring there is no one."""
    return treatment if treatment == "furring" else f"{article(treatment)} {treatment}"


def article(noun: str) -> str:
    """Return a or an."""
    return "an" if noun[:1] in "aeio" else "a"
