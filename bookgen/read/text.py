"""A file of the project folder in; its text out, or what is wrong with its bytes and characters."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from pathlib import Path

from bookgen.model.place import Place
from bookgen.model.problem import Problem
from bookgen.read.source import shown

LARGEST = 1 << 20  # bytes; a record or a page of notes has a few thousand
MOST_LINES = 20  # a file with more bad lines than this is no text at all

# Characters that turn the reading direction round: Unicode property Bidi_Control. They can make a line look like
# another one than the program reads.
_BIDI = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
# Characters that no printer shows and no keyboard means: controls but tab and line feed, line separators, blanks of no
# width, byte order marks inside the text, lone surrogates and non-characters.
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u200b\u2060\ufeff\ud800-\udfff\ufffe\uffff]")


def read_text(path: Path, file: str) -> tuple[str | None, tuple[Problem, ...]]:
    """Return the text of the file *path*, called *file* in the project; None where it can't be used.

    Lines end in a line feed, whichever way they ended in the file. Wrong characters are each a Problem and a blank in
    the text, so that the rest can still be checked. Raises OSError where the file can't be opened.
    """
    size = path.stat().st_size
    if size > LARGEST:
        rule = f"the file has {size:,} bytes, more than the {LARGEST:,} it may have"
        repair = "split it, and keep photos and papers out of it"
        return None, (Problem(Place(file), "file-too-large", "the file", "", rule, repair),)
    data = path.read_bytes()
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as wrong:
        return None, (_not_utf_8(data, wrong.start, file),)
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    problems = tuple(_bad_characters(text, file))
    if len(problems) > MOST_LINES:
        rest = f"the same on {len(problems) - MOST_LINES} more lines"
        last = Problem(Place(file), "control-character", "the file", rest, "that is no text", "save it as plain text")
        return None, (*problems[:MOST_LINES], last)
    return _BIDI.sub(" ", _CONTROL.sub(" ", text)), problems


def bad_character(text: str) -> tuple[str, int] | None:
    """Return the code and the index of the first character that no text may hold; None for a clean text."""
    found = [(match.start(), code) for code, match in _first_of_each(text) if match]
    return (min(found)[1], min(found)[0]) if found else None


def character_rule(code: str, character: str) -> tuple[str, str]:
    """Return rule and repair for a character that no text may hold."""
    name = unicodedata.name(character, "a control character").lower()
    number = f"U+{ord(character):04X}"
    if code == "bidi-control":
        return f"{number} ({name}) turns the reading direction round unseen", "delete it, or type the line anew"
    return f"{number} ({name}) can't be seen and doesn't belong in a text", "delete it, or type the line anew"


def place_at(text: str, index: int, file: str) -> Place:
    """Return the line and column of a character."""
    return Place(file, text.count("\n", 0, index) + 1, index - text.rfind("\n", 0, index))


def place_written(lines: list[str], line: int, column: int, file: str) -> Place:
    """Return the place of a parser's mark, which counts from 0; one behind the end moves to the last thing written."""
    number = min(line, len(lines) - 1)
    while number and not lines[number].strip():
        number -= 1
    return Place(file, number + 1, column + 1 if number == line else max(1, len(lines[number])))


def _not_utf_8(data: bytes, start: int, file: str) -> Problem:
    before = data[:start].replace(b"\r\n", b"\n").replace(b"\r", b"\n").decode("utf-8", "replace")
    rule = "the file is not in UTF-8, the usual way to save text"
    repair = "save it from a text editor with the encoding UTF-8"
    return Problem(
        place_at(before, len(before), file), "not-utf-8", "the file", f"byte {data[start]:02X}", rule, repair
    )


def _bad_characters(text: str, file: str) -> Iterator[Problem]:
    """Yield a Problem for the first character of each sort on a line."""
    for number, line in enumerate(text.split("\n"), 1):
        for code, match in _first_of_each(line):
            if match:
                rule, repair = character_rule(code, match[0])
                around = shown(_CONTROL.sub("", _BIDI.sub("", line)))
                yield Problem(Place(file, number, match.start() + 1), code, "the line", around, rule, repair)


def _first_of_each(text: str) -> Iterator[tuple[str, re.Match[str] | None]]:
    yield "control-character", _CONTROL.search(text)
    yield "bidi-control", _BIDI.search(text)
