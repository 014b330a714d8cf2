"""Photos with their times, folders and file names in; a proposed phase and obstacle for each, with the reason, out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Literal

from bookgen.model.photo import Photo
from bookgen.model.project import Project

Phase = Literal["before", "framed", "finished"]
PHASES: tuple[Phase, ...] = ("before", "framed", "finished")
# Which words of a folder or file name tell the phase?
PHASE_WORDS: tuple[tuple[Phase, frozenset[str]], ...] = (
    ("before", frozenset({"before", "start", "existing", "bare"})),
    ("framed", frozenset({"framed", "framing", "frame", "rough", "studs"})),
    ("finished", frozenset({"finished", "finish", "final", "done", "after", "complete"})),
)
VISIT = timedelta(days=3)  # photos nearer in time than this belong to one visit
TOGETHER = timedelta(minutes=2)  # photos nearer in time than this show the same thing, as a rule
# Words that many names share, and that tell no obstacle from another.
_COMMON = frozenset(
    ("with", "wall", "room", "north", "south", "east", "west", "line", "lines", "main", "from", "under", "along")
)
_SHORTEST = 4  # letters of a word that tells an obstacle


@dataclass(frozen=True, slots=True)
class Obstacle:
    """An obstacle that a photo may show: the *key* of its record, and the owner's name for it."""

    key: str
    title: str
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Hints:
    """What the records say that helps: the days of the work, the obstacles, and photos that they hold already."""

    started: date | None = None
    framed: date | None = None
    finished: date | None = None
    obstacles: tuple[Obstacle, ...] = ()
    placed: tuple[tuple[datetime, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Guess:
    """A phase and the key of an obstacle record, or None where nothing tells; *why* gives the reasons in words."""

    phase: Phase | None = None
    obstacle: str | None = None
    why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Arrival:
    """A photo and where it came from; *words* are those of its file name and of the folders under the source."""

    photo: Photo
    source: Path
    words: tuple[str, ...]


def hints_of(project: Project) -> Hints:
    """Return what a project's records tell about photos yet to come."""
    work = project.record.work
    placed = []
    for obstacle in project.obstacles:
        uses = obstacle.record.photos
        for use in (*uses.before, *uses.framed, *uses.finished):
            photo = project.photos.get(use.file)
            if photo and photo.taken and photo.time_known == "exif":
                placed.append((photo.taken, obstacle.key))
    obstacles = tuple(Obstacle(o.key, o.record.obstacle, o.record.kind) for o in project.obstacles)
    return Hints(work.started, work.framed, work.finished, obstacles, tuple(placed))


def guess_all(arrivals: Sequence[Arrival], hints: Hints) -> tuple[Guess, ...]:
    """Return a guess for each arrival, in their order; they must be in order of time."""
    visits = _visits(arrivals)
    own = [_obstacle_by_words(arrival, hints) for arrival in arrivals]
    guesses = []
    for index, arrival in enumerate(arrivals):
        phase = _phase_by_words(arrival) or _phase_by_day(arrival, hints) or visits.get(index)
        obstacle = own[index] or _obstacle_beside(index, arrivals, own, hints)
        why = tuple(guess[1] for guess in (phase, obstacle) if guess)
        guesses.append(Guess(phase[0] if phase else None, obstacle[0] if obstacle else None, why))
    return tuple(guesses)


def words_of(names: Iterable[str]) -> tuple[str, ...]:
    """Return the words of folder and file names, in small letters."""
    return tuple(word for name in names for word in re.findall(r"[a-z]+", name.lower()))


def _phase_by_words(arrival: Arrival) -> tuple[Phase, str] | None:
    found = [(phase, word) for word in arrival.words for phase, words in PHASE_WORDS if word in words]
    if len({phase for phase, _ in found}) != 1:
        return None
    return found[0][0], f"{found[0][0]}: the name says {found[0][1]}"


def _phase_by_day(arrival: Arrival, hints: Hints) -> tuple[Phase, str] | None:
    if not arrival.photo.taken or not hints.started:
        return None
    day = arrival.photo.taken.date()
    if day <= hints.started:
        return "before", f"before: the work started on {hints.started}"
    if hints.finished and day >= hints.finished:
        return "finished", f"finished: the work was done on {hints.finished}"
    if not hints.framed:
        return None
    if day <= hints.framed:
        return "framed", f"framed: framing was done on {hints.framed}"
    if hints.finished and hints.finished - day < day - hints.framed:
        return "finished", f"finished: nearer to {hints.finished} than to {hints.framed}, when framing was done"
    return "framed", f"framed: soon after {hints.framed}, when framing was done"


def _visits(arrivals: Sequence[Arrival]) -> dict[int, tuple[Phase, str]]:
    """Return the phases by visits to the job, where they are just as many as there are phases."""
    timed = [(index, arrival.photo.taken) for index, arrival in enumerate(arrivals) if arrival.photo.taken]
    groups: list[list[int]] = []
    last: datetime | None = None
    for index, taken in timed:
        if last is None or taken - last > VISIT:
            groups.append([])
        groups[-1].append(index)
        last = taken
    if len(groups) != len(PHASES):
        return {}
    ordinals = ("first", "second", "third")
    return {
        index: (phase, f"{phase}: the {ordinal} of three visits")
        for phase, ordinal, group in zip(PHASES, ordinals, groups, strict=True)
        for index in group
    }


def _obstacle_by_words(arrival: Arrival, hints: Hints) -> tuple[str, str] | None:
    """Return the obstacle that most words of the name tell; none where two are told by as many."""
    scores = []
    for obstacle in hints.obstacles:
        key, title = (
            {word for word in words_of([text]) if len(word) >= _SHORTEST and word not in _COMMON}
            for text in (obstacle.key, f"{obstacle.title} {obstacle.kind}")
        )
        told = [word for word in dict.fromkeys(arrival.words) if word in key or word in title]
        scores.append((sum(2 if word in key else 1 for word in told), obstacle.key, told))
    scores.sort(key=lambda score: -score[0])
    if not scores or not scores[0][0] or (len(scores) > 1 and scores[1][0] == scores[0][0]):
        return None
    _, best, told = scores[0]
    return best, f"{best}: the name says {', '.join(told)}"


def _obstacle_beside(
    index: int, arrivals: Sequence[Arrival], own: Sequence[tuple[str, str] | None], hints: Hints
) -> tuple[str, str] | None:
    """Return the obstacle of the photos taken just before or after, where they agree on one."""
    taken = arrivals[index].photo.taken
    if taken is None or arrivals[index].photo.time_known != "exif":
        return None
    beside = [(other.photo.taken, guess[0]) for other, guess in zip(arrivals, own, strict=True) if guess]
    near = {key for time, key in (*beside, *hints.placed) if time and abs(time - taken) <= TOGETHER}
    if len(near) != 1:
        return None
    key = near.pop()
    return key, f"{key}: taken within {TOGETHER.seconds // 60} minutes of one that shows it"
