"""A folder and a few answers in, a project folder with commented records out; never writes over anything."""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from bookgen.trade.tongue import tongue

if TYPE_CHECKING:
    from bookgen.model.records import Project

SAMPLE = "smallest"
LANGUAGES = ("en", "es")
UNITS = ("imperial", "metric", "both")


class NotEmptyError(Exception):
    """The folder already holds something; the message says what to do."""


@dataclass(frozen=True, slots=True)
class Start:
    """The answers that `start` fills in; the defaults are what the example records say."""

    title: str = "Plover Street"
    house: str = "Row house"
    built: str = "1991"
    owner: str = "Marguerite Oduya"
    contractor: str = "Your company"
    language: str = "en"
    units: str = "imperial"


# Under which key of the example's project.yaml does an answer stand?
KEYS = {
    "title": "title",
    "house": "kind",
    "built": "built",
    "owner": "owner",
    "contractor": "name",
    "language": "language",
    "units": "units",
}


def lay_out(folder: Path, answers: Start) -> tuple[Path, ...]:
    """Write the example project into *folder* with *answers* filled in; return the files written, in order.

    Raises NotEmptyError where the folder holds anything, OSError where the machine is in the way.
    """
    refuse_full(folder)
    there = folder.exists()
    try:
        shutil.copytree(example_folder(), folder, dirs_exist_ok=True)
        record = folder / "project.yaml"
        record.write_text(_filled(record.read_text(encoding="utf-8"), answers), encoding="utf-8")
    except BaseException:  # an interruption too: the folder was empty or not there, and so it is again
        _clear(folder, there=there)
        raise
    return tuple(sorted(path for path in folder.rglob("*") if path.is_file()))


def refuse_full(folder: Path) -> None:
    """Raise NotEmptyError where a folder holds anything, or is none: nothing there will be touched."""
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise NotEmptyError(f"{folder} is not empty; name a new folder, and nothing there will be touched")


def _clear(folder: Path, *, there: bool) -> None:
    """Take away what was laid out in a folder that was empty, and the folder unless it was *there* before."""
    for path in folder.iterdir() if folder.is_dir() else ():
        shutil.rmtree(path) if path.is_dir() else path.unlink()
    if folder.is_dir() and not there:
        folder.rmdir()


def left_over(record: Project) -> tuple[str, ...]:
    """Return a note for each of the example's own names that a record still has: a book must not go out with them."""
    example, say = Start(), tongue(record.language).say
    people = {person.name for person in record.people}
    found = [
        (say("the owner"), example.owner, record.private.owner == example.owner),
        (say("a trade on the job"), example.contractor, example.contractor in people),
    ]
    return tuple(
        say(
            "{what} is still called {name}, as in the example that bookgen start lays out; write the true name",
            what=what,
            name=name,
        )
        for what, name, there in found
        if there
    )


def example_folder() -> Path:
    """Return the example project, in an installed program or in a checkout."""
    package = Path(__file__).parents[1]
    installed = package / "projects" / SAMPLE
    return installed if installed.is_dir() else package.parent / "projects" / SAMPLE


def _filled(text: str, answers: Start) -> str:
    """Return the record with the answers in place of the example's own values; comments stay."""
    example = Start()
    for field, key in KEYS.items():
        line = re.compile(rf"^(\s*(?:- )?{key}: ){re.escape(getattr(example, field))}(?=\s|$)", re.MULTILINE)
        text, count = line.subn(rf"\g<1>{_quoted(getattr(answers, field)).replace(chr(92), chr(92) * 2)}", text)
        if count != 1:
            raise LookupError(f"the example project has {count} lines that say {key}: {getattr(example, field)}")
    return text


def _quoted(value: str) -> str:
    return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
