"""Photos taken in and their guesses in; stubs to paste into the obstacle records out, as text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from bookgen.desk.intake_guess import PHASES, Guess
from bookgen.model.photo import Photo

CAPTIONS = "captions-to-fill-in"
UNPLACED = "not placed"
NO_PHASE = "no phase"
_HEAD = """\
# Photos to place. Each block below belongs under photos: in the obstacle record that it is named after; move it there,
# say what the picture shows, and delete it here. Phase and obstacle are guesses; the reason stands beside each photo.
# This file is not read when the book is made, and bookgen intake never changes it.
"""


@dataclass(frozen=True, slots=True)
class Stub:
    """A photo of the photos folder that no record names yet, under its *name* there."""

    name: str
    photo: Photo
    guess: Guess


def write_captions(folder: Path, stubs: Sequence[Stub]) -> Path:
    """Write the stubs into a new file of *folder*, and return it; never over one that is there."""
    text, number = captions(stubs), 1
    while True:
        path = folder / (f"{CAPTIONS}.yaml" if number == 1 else f"{CAPTIONS}-{number}.yaml")
        number += 1
        with suppress(FileExistsError), path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
            return path


def captions(stubs: Sequence[Stub]) -> str:
    """Return the text: obstacle, phase, photos, each in the order given."""
    lines = [_HEAD]
    keys = sorted({stub.guess.obstacle or "" for stub in stubs}, key=lambda key: (not key, key))
    for key in keys:
        lines.append(f"{key or UNPLACED}:")
        mine = [stub for stub in stubs if (stub.guess.obstacle or "") == key]
        for phase in (*PHASES, None):
            of_phase = [stub for stub in mine if stub.guess.phase == phase]
            if of_phase:
                lines += [f"  {phase or NO_PHASE}:", *_blocks(of_phase)]
        lines.append("")
    return "\n".join(lines)


def when(photo: Photo) -> str:
    """Return when a photo was taken, and who says so, in words."""
    if photo.taken is None:
        return "no time known"
    clock = "by the camera's clock" if photo.time_known == "exif" else "by the file's own time"
    return f"{photo.taken:%Y-%m-%d %H:%M} {clock}"


def unnamed_in(names: Iterable[str], folder: Path) -> tuple[str, ...]:
    """Return those photo names that stand in no record of the project *folder* and in no captions file."""
    files = [folder / "project.yaml", *(folder / "obstacles").glob("*.yaml"), *(folder / "photos").glob(f"{CAPTIONS}*")]
    text = "\n".join(path.read_text(encoding="utf-8", errors="replace") for path in files if path.is_file())
    return tuple(name for name in names if not re.search(rf"(?<![\w.-]){re.escape(name)}(?![\w.-])", text))


def _blocks(stubs: Sequence[Stub]) -> list[str]:
    lines = []
    for stub in stubs:
        lines += [f"    # {told}" for told in (when(stub.photo), *stub.guess.why)]
        lines.append(f"    - file: {stub.name}")
        lines.append('      shows: ""  # what a person who can\'t see it should know')
        if stub.photo.taken and stub.photo.time_known == "file":
            lines.append(f"      on: {stub.photo.taken:%Y-%m-%d}  # by the file's own time: mend it where it is wrong")
    return lines
