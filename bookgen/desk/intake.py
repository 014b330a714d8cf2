"""A project folder and photos off a phone in; the photos in its photos/ folder, a checksum list and caption stubs out.

Originals are copied byte for byte; nothing is ever deleted or written over, and a run that was cut off is repeated by
running it again.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from unicodedata import combining, normalize

from bookgen.desk.alone import alone_in
from bookgen.desk.captions import Stub, unnamed_in, when, write_captions
from bookgen.desk.intake_copy import PART, SUMS, ChangedError, copy_in, list_it, listed
from bookgen.desk.intake_guess import Arrival, Guess, Hints, guess_all, words_of
from bookgen.model.photo import Photo, PhotoFault

PHOTOS = "photos"
Probe = Callable[[Path, str], Photo | PhotoFault]
Progress = Callable[[int, int], None]
_COPY_MARK = re.compile(r"(?:\s*\(\d+\)|\s+copy(?:\s+\d+)?|\s+-\s+copy)+$", re.IGNORECASE)
_SUFFIXES = {"jpeg": ".jpg", "png": ".png", "webp": ".webp", "heif": ".heic"}


@dataclass(frozen=True, slots=True)
class Taken:
    """A photo copied in: where from, under which name, and what it is taken for."""

    source: Path
    name: str
    photo: Photo
    guess: Guess


@dataclass(frozen=True, slots=True)
class IntakeReport:
    """What an intake did, oldest photo first.

    *already*: sources whose content was in photos/ before, with its name there. *twice*: sources with the content of
    another source, which was taken. *refused*: sources that can't be used, and why. *passed_over*: links and hidden
    files. *altered*: names in photos/ whose content is no longer what the checksum list says. *unfinished*: what a run
    that was cut off has left in photos/. *captions*: the file of stubs, where there was something to write.
    """

    taken: tuple[Taken, ...] = ()
    already: tuple[tuple[Path, str], ...] = ()
    twice: tuple[tuple[Path, Path], ...] = ()
    refused: tuple[tuple[Path, PhotoFault], ...] = ()
    passed_over: tuple[Path, ...] = ()
    altered: tuple[str, ...] = ()
    unfinished: tuple[str, ...] = ()
    captions: Path | None = None


def intake(
    project: Path,
    sources: Sequence[Path],
    probe: Probe,
    hints: Hints = Hints(),  # noqa: B008  # frozen, and empty
    progress: Progress | None = None,
) -> IntakeReport:
    """Copy the photos of *sources*, files or folders, into the photos/ folder of *project*; report what was done.

    *probe* tells what a picture file is: folder and name in, a Photo or a fault out. *progress* is told how many photos
    are copied, of how many. Two intakes into one project take turns, so that no photo comes in twice. Raises OSError
    when the machine is in the way; what was copied until then is whole.
    """
    folder = project / PHOTOS
    folder.mkdir(exist_ok=True)
    with alone_in(folder):
        return _taken_in(project, sources, (probe, hints), progress)


def _taken_in(
    project: Path, sources: Sequence[Path], told: tuple[Probe, Hints], progress: Progress | None
) -> IntakeReport:
    folder, (probe, hints) = project / PHOTOS, told
    here, sums = _photos_here(folder, probe), listed(folder)
    found, refused, passed_over = _probed(sources, probe)
    fresh, already, twice = _sorted_out(found, {photo.digest: name for name, photo in here.items()})
    taken = []
    for done, (arrival, guess) in enumerate(zip(fresh, guess_all(fresh, hints), strict=True), start=1):
        try:
            name = copy_in(arrival.source, arrival.photo.digest, folder, book_name(arrival))
        except ChangedError:
            fault = PhotoFault("photo-unreadable", "the file changed while it was being copied", "run the intake again")
            refused.append((arrival.source, fault))
            continue
        list_it(folder, name, arrival.photo.digest)
        taken.append(Taken(arrival.source, name, arrival.photo, guess))
        if progress:
            progress(done, len(fresh))
    for name in dict.fromkeys(name for _, name in already):
        if name not in sums:  # cut off between the copy and its line
            list_it(folder, name, here[name].digest)
    report = IntakeReport(tuple(taken), tuple(already), tuple(twice), tuple(refused), tuple(passed_over))
    return replace(
        report,
        altered=tuple(name for name, digest in sums.items() if name in here and here[name].digest != digest),
        unfinished=tuple(sorted(path.name for path in folder.glob(f"{PART}*.part"))),
        captions=_captions(project, report, here, hints),
    )


def book_name(arrival: Arrival) -> str:
    """Return the name a photo gets: its day, then the name the phone gave it, as 2026-03-09-IMG_2042.jpg."""
    photo = arrival.photo
    stem = _COPY_MARK.sub("", Path(photo.name).stem)
    stem = "".join(sign for sign in normalize("NFKD", stem) if not combining(sign))  # ü to u
    stem = re.sub(r"[^A-Za-z0-9_]+", "-", stem).strip("-_") or "photo"
    if photo.taken is None:
        return f"undated-{stem}{_SUFFIXES[photo.kind]}"
    day = f"{photo.taken:%Y-%m-%d}"
    rest = re.sub(rf"^(?:{day}|{day.replace('-', '')}|{day.replace('-', '_')})(?=$|[-_])[-_]*", "", stem)
    return f"{day}-{rest or 'photo'}{_SUFFIXES[photo.kind]}"


def report_lines(report: IntakeReport) -> tuple[str, ...]:
    """Return what to tell the person who ran it, a line each."""
    lines = [f"  {taken.name}  from {taken.source.name}, {when(taken.photo)}{_placed(taken)}" for taken in report.taken]
    lines += [f"  {source}: not taken: {fault.says}; {fault.repair}" for source, fault in report.refused]
    lines += [f"  {source.name}: the same picture as {other.name}; taken once" for source, other in report.twice]
    lines += [f"  {source}: not looked at, since it is hidden or a link" for source in report.passed_over]
    lines += [f"  photos/{name}: no longer what {SUMS} says; it was changed or damaged" for name in report.altered]
    lines += [f"  photos/{name}: left by a run that was cut off; you can delete it" for name in report.unfinished]
    count, there = len(report.taken), len(report.already)
    refused = f"; {len(report.refused)} not taken: see above" if report.refused else ""
    lines.append(
        f"{count} photo{'' if count == 1 else 's'} taken in; {there} {'was' if there == 1 else 'were'} there before"
        f"{refused}."
    )
    if report.captions:
        lines.append(f"Next: fill in {report.captions} and move each block into its obstacle record.")
    return tuple(lines)


def _placed(taken: Taken) -> str:
    told = [part for part in (taken.guess.phase, taken.guess.obstacle) if part]
    return f": {', '.join(told)}?" if told else ""


def _photos_here(folder: Path, probe: Probe) -> dict[str, Photo]:
    """Return the photos that lie in *folder* and below, by name; what is no photo is left alone."""
    names = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
    probed = {name: probe(folder, name) for name in names if not _hidden(Path(name))}
    return {name: found for name, found in probed.items() if isinstance(found, Photo)}


def _probed(sources: Sequence[Path], probe: Probe) -> tuple[list[Arrival], list[tuple[Path, PhotoFault]], list[Path]]:
    arrivals: list[Arrival] = []
    refused: list[tuple[Path, PhotoFault]] = []
    passed_over: list[Path] = []
    seen: set[Path] = set()
    for source in sources:
        for path in _files(source):
            if path.resolve() in seen:
                continue
            seen.add(path.resolve())
            under = path.relative_to(source.parent)
            if path.is_symlink() or _hidden(path.relative_to(source) if path != source else Path(path.name)):
                passed_over.append(path)
                continue
            found = _looked_at(path, probe)
            if isinstance(found, PhotoFault):
                refused.append((path, found))
            else:
                arrivals.append(Arrival(found, path, words_of((*under.parts[:-1], path.stem))))
    return arrivals, refused, passed_over


def _looked_at(path: Path, probe: Probe) -> Photo | PhotoFault:
    """Return what *probe* says, its advice turned to a file that is not in photos/ yet."""
    if not path.exists():
        return PhotoFault("photo-missing", "there is no such file or folder", "look at the name")
    found = probe(path.parent, path.name)
    if isinstance(found, PhotoFault) and found.code == "photo-wrong-suffix":
        return replace(found, repair="rename it to end as it should, and run the intake again")
    return found


def _files(source: Path) -> Iterator[Path]:
    """Yield a file, or all files under a folder; what is not there as it is."""
    if source.is_dir() and not source.is_symlink():
        yield from sorted(path for path in source.rglob("*") if path.is_symlink() or not path.is_dir())
    else:
        yield source


def _hidden(path: Path) -> bool:
    return any(part.startswith(".") for part in path.parts)


def _sorted_out(
    arrivals: Sequence[Arrival], there: dict[str, str]
) -> tuple[list[Arrival], list[tuple[Path, str]], list[tuple[Path, Path]]]:
    """Return the new ones in order of time, those that *there* (names by digest) holds, and those that come twice."""
    fresh: dict[str, Arrival] = {}
    already: list[tuple[Path, str]] = []
    twice: list[tuple[Path, Path]] = []
    for arrival in sorted(arrivals, key=_order):
        digest = arrival.photo.digest
        if digest in there:
            already.append((arrival.source, there[digest]))
        elif digest in fresh:
            twice.append((arrival.source, fresh[digest].source))
        else:
            fresh[digest] = arrival
    return list(fresh.values()), already, twice


def _order(arrival: Arrival) -> tuple[bool, datetime, str, str]:
    """Oldest first; of two copies, the one with the shorter mark in its name; those without any time last."""
    taken, stem = arrival.photo.taken, arrival.source.stem
    return taken is None, taken or datetime.max, stem, str(arrival.source)


def _captions(project: Path, report: IntakeReport, here: dict[str, Photo], hints: Hints) -> Path | None:
    """Write stubs for what came in and for what an earlier run, cut off before it wrote them, had brought in."""
    earlier = {name: source for source, name in report.already}
    arrivals = [Arrival(here[name], source, words_of([source.stem])) for name, source in earlier.items()]
    guesses = dict(zip(earlier, guess_all(arrivals, hints), strict=True))
    stubs = [Stub(name, here[name], guesses[name]) for name in earlier]
    stubs += [Stub(taken.name, taken.photo, taken.guess) for taken in report.taken]
    wanted = set(unnamed_in([stub.name for stub in stubs], project))
    stubs = [stub for stub in stubs if stub.name in wanted]
    stubs.sort(key=lambda stub: (stub.photo.taken is None, stub.photo.taken or datetime.max, stub.name))
    return write_captions(project / PHOTOS, stubs) if stubs else None
