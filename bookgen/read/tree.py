"""The text of a record file in; its values as plain text with their places out, and what no record may hold.

YAML is read as events, not as nodes: an event still knows its anchor, its alias and its type mark, so that these are
refused before anything is unfolded. Every value stays text as it was written: `no`, `012`, `6:12` and 2026-03-10 are
never turned into anything else.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import field
from typing import TypeAlias

import yaml

from bookgen.model.frozen import dataclass
from bookgen.model.place import Place
from bookgen.model.problem import Problem, said
from bookgen.model.project import Plain
from bookgen.read.source import Path, Source, shown
from bookgen.read.syntax import syntax_problems
from bookgen.read.text import bad_character, character_rule, place_written

DEEPEST = 20  # mappings and lists inside one another; the deepest record of ours has 7
MOST_VALUES = 20_000  # in one file; a large record has some hundreds
LONGEST_TEXT = 20_000  # characters in one value
LONGEST_KEY = 100  # characters
_NOTHING = frozenset({"", "~", "null", "Null", "NULL"})  # YAML's words for no value, when no quotes stand round them
_MERGE = "<<"
_CUT_OFF = re.compile(r"\s+#[^\s#]")  # `box of #8 screws`: no blank behind the sign, so it was not meant as a comment
_INDENT = re.compile(r"[ \t]*")

Loader: TypeAlias = "type[yaml.CSafeLoader | yaml.SafeLoader]"
LOADER: Loader = yaml.CSafeLoader if yaml.__with_libyaml__ else yaml.SafeLoader


class _StopError(Exception):
    """The rest of the file is not worth reading; the Problem that says why has been noted."""


def source_of(text: str, file: str, loader: Loader = LOADER) -> tuple[Source | None, tuple[Problem, ...]]:
    """Return the values of a record file called *file*, and every mistake of its form.

    None where nothing can be said of the values: an empty file, a syntax error, more values than a record can have.
    """
    text = _inner_tabs_as_blanks(text)
    builder = _Builder(file, text.split("\n"), yaml.parse(text, Loader=loader))
    try:
        plain = builder.document()
    except _StopError:
        return None, tuple(builder.problems)
    except yaml.MarkedYAMLError as wrong:
        return None, (*builder.problems, *syntax_problems(wrong, text, file))
    source = Source(file, plain, builder.values, builder.keys, frozenset(builder.spoilt))
    return source, tuple(builder.problems)


@dataclass(slots=True)
class _Builder:
    """The one pass over the events of a file, and what has been found so far."""

    file: str
    lines: list[str]
    events: Iterator[yaml.Event]
    problems: list[Problem] = field(default_factory=list)
    values: dict[Path, Place] = field(default_factory=dict)
    keys: dict[Path, Place] = field(default_factory=dict)
    spoilt: set[Path] = field(default_factory=set)
    count: int = 0

    def document(self) -> Plain:
        """Return the one value of the file."""
        first = self._next(yaml.StreamStartEvent, then=True)
        if isinstance(first, yaml.StreamEndEvent):
            self._stop("empty-file", Place(self.file), (), "the file is empty", "write the record, or delete the file")
        root = next(self.events)
        if isinstance(root, yaml.ScalarEvent) and root.implicit[0] and root.value == "":
            place = Place(self.file)
            self._stop("empty-file", place, (), "the file holds no record", "write the record, or delete the file")
        plain = self._value(root, ())
        self._next(yaml.DocumentEndEvent)
        after = next(self.events)
        if isinstance(after, yaml.DocumentStartEvent):
            rule = "a second record begins here: one file holds one record"
            self._stop("second-record", self._place(after), (), rule, "move it to a file of its own, or delete the ---")
        return plain

    def _next(self, kind: type[yaml.Event], *, then: bool = False) -> yaml.Event:
        """Pass over an event that is always there; return it, or with *then* the one behind it."""
        event = next(self.events)
        if not isinstance(event, kind):
            raise TypeError(f"wanted {kind.__name__}, got {event}")
        return next(self.events) if then else event

    def _value(self, event: yaml.Event, path: Path) -> Plain:
        self.count += 1
        place = self._place(event)
        if self.count > MOST_VALUES:
            rule = f"the file holds more than {MOST_VALUES:,} values"
            self._stop("too-many-values", place, path, rule, "split it into several records")
        if len(path) > DEEPEST:
            rule = f"it stands more than {DEEPEST} levels deep"
            self._stop("too-deep", place, path[:1], rule, "look at the brackets and the indentation above it")
        self._place_value(event, path, place)
        self._refuse_extras(event, path, place)
        if isinstance(event, yaml.MappingStartEvent):
            return self._mapping(path)
        if isinstance(event, yaml.SequenceStartEvent):
            return self._sequence(path)
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event, path)
        return ""  # an alias, which has its Problem

    def _place_value(self, event: yaml.Event, path: Path, place: Place) -> None:
        """Note where to look for a value: a block that begins on a later line than its key is found at the key."""
        key = self.keys.get(path)
        if key and key.line < place.line and isinstance(event, yaml.CollectionStartEvent):
            place = key
        self.values.setdefault(path, place)

    def _mapping(self, path: Path) -> Plain:
        found: dict[str, Plain] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            key = self._key(event, path, found)
            if key is None:
                self._value(next(self.events), (*path, "a key that is none"))
                continue
            value = self._value(next(self.events), (*path, key))
            found.setdefault(key, value)
        return found

    def _key(self, event: yaml.Event, path: Path, found: dict[str, Plain]) -> str | None:
        """Return the text of a key; None where it is none, or where its value is to be passed over."""
        place = self._place(event)
        if not isinstance(event, yaml.ScalarEvent):
            self.problems.append(
                self._problem(
                    "not-a-key", place, path, "a key is a word or some words", "write a word before the colon"
                )
            )
            found_so_far = len(self.problems)
            self._value(event, (*path, "a key that is none"))
            del self.problems[found_so_far:]  # the key as a whole is the mistake
            return None
        key = " ".join(event.value.split())
        if key == _MERGE and event.implicit[0]:
            rule = "<< would copy another part of the file in: each value is written out"
            self.problems.append(self._problem("yaml-merge", place, (*path, key), rule, "write its lines out here"))
            return None
        self._refuse_extras(event, (*path, shown(key)), place)
        if not key or len(key) > LONGEST_KEY:
            rule = f"a key is one to {LONGEST_KEY} characters long"
            self.problems.append(self._problem("not-a-key", place, path, rule, "write a word before the colon"))
            return None
        if key in found:
            rule = f"{key}: stands here for the second time, first on line {self.keys[(*path, key)].line}"
            repair = "keep one of the two, or join them"
            self.problems.append(self._problem("key-twice", place, (*path, key), rule, repair))
        self.keys.setdefault((*path, key), place)
        return key

    def _sequence(self, path: Path) -> Plain:
        found: list[Plain] = []
        while not isinstance(event := next(self.events), yaml.SequenceEndEvent):
            found.append(self._value(event, (*path, len(found))))
        return tuple(found)

    def _scalar(self, event: yaml.ScalarEvent, path: Path) -> str:
        place, text = self._place(event), event.value
        bad = bad_character(text)
        if event.implicit[0] and self._is_cut_off(event):
            rule = "a # behind a blank begins a comment, so the rest of the line is not read"
            repair = "put quotes round the whole value; put a blank behind the # of a comment"
            self._spoil("comment-cuts-value", place, path, rule, repair)
        elif event.anchor is not None and not text:  # its mark has a Problem, and what it marks was never written
            self.spoilt.add(path)
        elif event.implicit[0] and text in _NOTHING:
            rule, repair = "nothing stands here", "write the value, or delete the line"
            self._spoil("empty-value", place if text else self.keys.get(path, place), path, rule, repair)
        elif bad:
            code, index = bad
            self._spoil(code, place, path, *character_rule(code, text[index]))
        elif len(text) > LONGEST_TEXT:
            rule = f"the text has {len(text):,} characters, more than the {LONGEST_TEXT:,} a value may have"
            self._spoil("text-too-long", place, path, rule, "put it into a file of the notes folder")
        return text

    def _is_cut_off(self, event: yaml.ScalarEvent) -> bool:
        mark = event.end_mark
        rest = self.lines[mark.line][mark.column :] if mark and mark.line < len(self.lines) else ""
        return bool(_CUT_OFF.match(rest))

    def _refuse_extras(self, event: yaml.Event, path: Path, place: Place) -> None:
        """Refuse anchors, aliases and type marks: a record stands alone, and no value is of another type than text."""
        if isinstance(event, yaml.AliasEvent):
            rule = f"*{event.anchor} would repeat another part of the file: each value is written out"
            self._spoil(
                "yaml-alias", place, path, rule, "write the value out, or put quotes round a text that begins so"
            )
            return
        if isinstance(event, yaml.NodeEvent) and event.anchor is not None:
            rule = f"&{event.anchor} marks a part to be repeated elsewhere: each value is written out"
            repair = "delete the mark, or put quotes round a text that begins so"
            self.problems.append(self._problem("yaml-anchor", place, path, rule, repair))
        tag = getattr(event, "tag", None)
        if tag is not None:
            sign = tag.replace("tag:yaml.org,2002:", "!!")
            rule = f"{shown(sign)} would turn the value into something else than text"
            self._spoil("yaml-type", place, path, rule, "delete it, or put quotes round a text that begins with !")

    def _place(self, event: yaml.Event) -> Place:
        mark = event.start_mark
        if mark is None:
            raise TypeError(f"an event without a place: {event}")
        return place_written(self.lines, mark.line, mark.column, self.file)

    def _problem(self, code: str, place: Place, path: Path, rule: str, repair: str) -> Problem:
        return Problem(place, code, said(path), "", rule, repair)

    def _spoil(self, code: str, place: Place, path: Path, rule: str, repair: str) -> None:
        self.spoilt.add(path)
        self.problems.append(self._problem(code, place, path, rule, repair))

    def _stop(self, code: str, place: Place, path: Path, rule: str, repair: str) -> None:
        self.problems.append(self._problem(code, place, path, rule, repair))
        raise _StopError


def _inner_tabs_as_blanks(text: str) -> str:
    """Return the text with a blank for every tab that stands behind a word: only there a tab has no meaning in YAML."""
    lines = []
    for line in text.split("\n"):
        indent = _INDENT.match(line)
        end = indent.end() if indent else 0
        lines.append(line[:end] + line[end:].replace("\t", " "))
    return "\n".join(lines)
