"""A project folder in; the files a project is made of out, and what else lies about where only records belong."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from bookgen.model.frozen import dataclass
from bookgen.model.place import Place
from bookgen.model.problem import Problem
from bookgen.model.project import PRICES_FILE, PROJECT_FILE

OBSTACLES_FOLDER = "obstacles"
RECORD_SUFFIX = ".yaml"
# What do computers and editors leave in folders by themselves? Files whose name begins with a dot are passed over too.
_LITTER = frozenset({"thumbs.db", "desktop.ini"})
_STEM = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*")


@dataclass(frozen=True, slots=True)
class RecordFile:
    """A file that holds a record: where it is, and what it is called in the project, with / between folders."""

    path: Path
    file: str

    @property
    def key(self) -> str:
        """The name without its suffix: it names the chapter in links, so it never changes."""
        return self.path.stem


def project_file(folder: Path) -> tuple[RecordFile | None, tuple[Problem, ...]]:
    """Return project.yaml, or why there is none."""
    path = folder / PROJECT_FILE
    if path.is_symlink():
        return None, (_link(PROJECT_FILE),)
    if path.is_file():
        return RecordFile(path, PROJECT_FILE), ()
    if not folder.is_dir():
        rule, repair = "there is no such folder", "look at the name, or begin a project with bookgen start"
        return None, (Problem(Place(PROJECT_FILE), "project-missing", "the project folder", folder.name, rule, repair),)
    alike = sorted(one.name for one in folder.iterdir() if one.name.lower() in {"project.yml", PROJECT_FILE})
    repair = f"rename {alike[0]} to {PROJECT_FILE}" if alike else "write it, or begin a project with bookgen start"
    rule = f"a project folder has a {PROJECT_FILE}"
    return None, (Problem(Place(PROJECT_FILE), "project-missing", "the project folder", folder.name, rule, repair),)


def prices_file(folder: Path) -> tuple[RecordFile | None, tuple[Problem, ...]]:
    """Return prices.yaml where there is one; a project need not have it."""
    path = folder / PRICES_FILE
    if path.is_symlink():
        return None, (_link(PRICES_FILE),)
    return (RecordFile(path, PRICES_FILE), ()) if path.is_file() else (None, ())


def obstacle_files(folder: Path) -> tuple[tuple[RecordFile, ...], tuple[Problem, ...]]:
    """Return the obstacle records in the order of their names, and a Problem for everything else in their folder."""
    obstacles = folder / OBSTACLES_FOLDER
    if obstacles.is_symlink():
        return (), (_link(OBSTACLES_FOLDER),)
    entries = sorted(obstacles.iterdir()) if obstacles.is_dir() else []
    entries = [entry for entry in entries if entry.name[0] != "." and entry.name.lower() not in _LITTER]
    problems = [problem for entry in entries if (problem := _unexpected(entry))]
    records = [entry for entry in entries if entry.is_file() and not entry.is_symlink()]
    files = tuple(RecordFile(entry, _name(entry)) for entry in records if entry.suffix == RECORD_SUFFIX)
    if not entries and folder.is_dir():
        rule = f"the folder {OBSTACLES_FOLDER}/ holds no record" if obstacles.is_dir() else "there is no such folder"
        repair = f"write one record for each obstacle, such as {OBSTACLES_FOLDER}/main-drain.yaml"
        problems.append(Problem(Place(OBSTACLES_FOLDER), "no-obstacles", OBSTACLES_FOLDER, "", rule, repair))
    return files, (*problems, *_clashes(files))


def _unexpected(entry: Path) -> Problem | None:
    """Return why an entry of the obstacles folder is no record."""
    name = _name(entry)
    if entry.is_symlink():
        return _link(name)
    if not entry.is_file():
        return _stray(name, "only records belong here", "move what is in it to photos/ or notes/, or delete it")
    if entry.suffix != RECORD_SUFFIX:
        if entry.suffix.lower() in {".yml", RECORD_SUFFIX}:
            return _stray(name, f"a record's name ends in {RECORD_SUFFIX}", f"rename it to {entry.stem}{RECORD_SUFFIX}")
        return _stray(name, f"only records belong here, and their names end in {RECORD_SUFFIX}", "move it or delete it")
    if not _STEM.fullmatch(entry.stem):
        better = re.sub(r"[^A-Za-z0-9_-]+", "-", entry.stem).strip("-_") or "main-drain"
        rule = "the name of a record is made of letters a to z, digits and hyphens, since links are made from it"
        return Problem(Place(name), "file-name", "the file", entry.name, rule, f"rename it to {better}{RECORD_SUFFIX}")
    return None


def _stray(name: str, rule: str, repair: str) -> Problem:
    return Problem(Place(name), "unexpected-file", "the file", name, rule, repair)


def _link(name: str) -> Problem:
    rule = "it is a link, and a link may lead out of the project folder"
    return Problem(Place(name), "record-outside", "the file", name, rule, "put a copy of the file itself in its place")


def _clashes(files: tuple[RecordFile, ...]) -> Iterator[Problem]:
    seen: dict[str, RecordFile] = {}
    for one in files:
        first = seen.setdefault(one.key.lower(), one)
        if first is not one:
            rule = f"{first.path.name} differs from it only in capitals, and many computers take them for one file"
            yield Problem(Place(one.file), "names-clash", "the file", one.path.name, rule, "rename one of the two")


def _name(entry: Path) -> str:
    return f"{OBSTACLES_FOLDER}/{entry.name}"
