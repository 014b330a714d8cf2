"""Record files in; the photos and notes they name out, or why one of them can't be used."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path as FilePath
from pathlib import PurePosixPath, PureWindowsPath

from bookgen.model.frozen import dataclass
from bookgen.model.photo import Photo, PhotoFault
from bookgen.model.problem import Problem
from bookgen.read.near import nearest
from bookgen.read.photos import probe
from bookgen.read.source import ANY, Path, Source
from bookgen.read.text import read_text

PHOTOS_FOLDER = "photos"
NOTES_FOLDER = "notes"
NOTES_SUFFIX = ".md"
LONGEST_NAME = 255  # bytes, in most file systems
OBSTACLE_PHOTOS: Path = ("photos", ANY, ANY, "file")
OBSTACLE_NOTES: Path = ("notes", ANY)
PROJECT_PHOTOS: tuple[Path, ...] = (("book", "cover"), ("book", "theme options", "logo"))


@dataclass(frozen=True, slots=True)
class _Use:
    """One place of a record that names a file."""

    source: Source
    path: Path
    name: str

    def problem(self, code: str, rule: str, repair: str) -> Problem:
        return self.source.problem(code, self.path, rule, repair)


def photos_of(
    folder: FilePath, project: Source | None, obstacles: tuple[Source, ...]
) -> tuple[dict[str, Photo], tuple[Problem, ...]]:
    """Return the photos that the records name, by the name they use; each file is looked at once."""
    projects = (project,) if project else ()
    uses = [use for path in PROJECT_PHOTOS for use in _all_uses(projects, path)]
    uses += _all_uses(obstacles, OBSTACLE_PHOTOS)
    photos: dict[str, Photo] = {}
    problems: list[Problem] = []
    looked: dict[str, Photo | PhotoFault] = {}
    for use in uses:
        if "\\" in use.name:
            problems.append(_backslash(use, "photos"))
            continue
        if use.name not in looked:
            looked[use.name] = probe(folder / PHOTOS_FOLDER, use.name)
        found = looked[use.name]
        if isinstance(found, Photo):
            photos[use.name] = found
        else:
            problems.append(use.problem(found.code, found.says, found.repair))
    return photos, tuple(problems)


def notes_of(folder: FilePath, obstacles: tuple[Source, ...]) -> tuple[dict[str, str], tuple[Problem, ...]]:
    """Return the text of the notes files that the records name, by the name they use.

    What is wrong inside a notes file is placed there. Raises OSError where a file can't be opened.
    """
    notes: dict[str, str] = {}
    problems: list[Problem] = []
    looked: set[str] = set()
    for use in _all_uses(obstacles, OBSTACLE_NOTES):
        fault = _notes_fault(folder / NOTES_FOLDER, use)
        if fault:
            problems.append(fault)
        elif use.name not in looked:
            looked.add(use.name)
            text, wrong = read_text(folder / NOTES_FOLDER / use.name, f"{NOTES_FOLDER}/{use.name}")
            problems.extend(wrong)
            if text is not None:
                notes[use.name] = text
    return notes, tuple(problems)


def _all_uses(sources: tuple[Source, ...], pattern: Path) -> Iterator[_Use]:
    for source in sources:
        yield from _uses(source, pattern)


def _uses(source: Source, pattern: Path) -> Iterator[_Use]:
    for path, name in source.texts(pattern):
        yield _Use(source, path, name)


def _backslash(use: _Use, folder: str) -> Problem:
    rule = "a backslash is no part of a file name here"
    return use.problem("backslash-in-name", rule, f"write / between folders, from the {folder} folder on")


def _notes_fault(notes: FilePath, use: _Use) -> Problem | None:
    if "\\" in use.name:
        return _backslash(use, NOTES_FOLDER)
    name, windows = PurePosixPath(use.name), PureWindowsPath(use.name)
    if name.is_absolute() or windows.anchor or ".." in name.parts:
        repair = "copy the file into notes/ and write its name in there"
        return use.problem("note-outside", "the name leads out of the notes/ folder", repair)
    if name.suffix != NOTES_SUFFIX:
        rule = f"notes are Markdown files, whose names end in {NOTES_SUFFIX}"
        return use.problem("note-wrong-suffix", rule, f"rename it to {name.stem}{NOTES_SUFFIX}, here and in notes/")
    if len(use.name.encode()) > LONGEST_NAME:
        return use.problem("note-missing", "no file name is that long", "write the name of a file in notes/")
    here = notes
    for part in name.parts:
        here /= part
        if here.is_symlink():
            rule = f"{here.relative_to(notes).as_posix()} is a link, and a link may lead out of notes/"
            return use.problem("note-outside", rule, "put a copy of the file itself in its place")
    if here.is_file():
        return None
    close = nearest(name.name, sorted(path.name for path in here.parent.glob(f"*{NOTES_SUFFIX}")))
    repair = f"did you mean {name.with_name(close)}?" if close else "write the file, or delete the line"
    return use.problem("note-missing", "there is no such file in notes/", repair)
