"""A YAML syntax error in; Problems in the words of somebody who writes records out, placed where the mistake is."""

from __future__ import annotations

import re
from dataclasses import replace

import yaml

from bookgen.model.frozen import dataclass
from bookgen.model.place import Place
from bookgen.model.problem import Problem
from bookgen.read.source import shown
from bookgen.read.text import MOST_LINES, place_written

_TAB_INDENT = re.compile(r" *\t")
_NEARLY_KEY = re.compile(r"(?P<before> *(?:- +)?)(?P<key>[\w ]*\w) *(?P<sign>[:=]) *(?P<value>\S.*)")


@dataclass(frozen=True, slots=True)
class _Slip:
    """One way to go wrong, known by what the parser says: whether it is placed at the opening, rule and repair."""

    says: re.Pattern[str]
    at_opening: bool
    rule: str
    repair: str
    code: str


def _slip(says: str, rule: str, repair: str, *, at_opening: bool = False, code: str = "yaml-syntax") -> _Slip:
    return _Slip(re.compile(says), at_opening, rule, repair, code)


_NO_COLON = _slip(
    "simple key",
    "the line has no colon, so it is no key with a value",
    "write it as key: value, or indent it under the key it belongs to",
    at_opening=True,
)
# What the parser says (libyaml's words, then those of the parser in Python), what it means, and what to do; first wins.
_SLIPS = (
    _slip(
        "block collection: (did not find expected '-'|expected <block end>)",
        "the lines of this list don't all begin with a dash under the first one",
        "begin every item with a dash in the same column, and indent what belongs to it",
    ),
    _slip(
        "flow (sequence|mapping)",
        "the bracket that opens here is never closed, or a comma is missing inside it",
        "put commas between the values and close the bracket",
        at_opening=True,
    ),
    _slip(
        "quoted scalar.*(end of stream|document separator)",
        "the quote that opens here is never closed",
        "close it, or write the inch or foot sign without quotes round the value, such as 3 ft 4 in",
        at_opening=True,
    ),
    _slip(
        "quoted scalar|escape",
        "inside double quotes a backslash has a meaning of its own",
        "put the value in single quotes, or write / for \\",
        at_opening=True,
    ),
    _slip(
        "mapping values are not allowed",
        'a colon with a blank stands where no key can be: a second ": " on the line, or the line is indented too far',
        "put quotes round a text that holds a colon, or line the key up with its neighbours",
    ),
    _NO_COLON,
    _slip(
        "block sequence entries|sequence entries are not allowed",
        "a list can't begin on the same line as its key",
        "put the dash on a line of its own below the key",
    ),
    _slip(
        "cannot start any token|scanning an (alias|anchor)",
        "a value can't begin with this sign",
        "put quotes round the value",
    ),
    _slip(
        "block mapping|expected <document start>|document start",
        "the line doesn't line up with the lines it belongs with",
        "indent it like its neighbours, with blanks",
    ),
    _slip(
        "nesting",
        "too many brackets open inside one another",
        "close the brackets before you open more",
        code="too-deep",
    ),
    _slip(
        "node content",
        "a value is missing before this sign",
        "write the value, or take the sign away",
    ),
)
_OTHER = _slip(
    "",
    "the line can't be read as key: value",
    "look at the colons, quotes and indentation of this line and of the one above",
)


def syntax_problems(error: yaml.MarkedYAMLError, text: str, file: str) -> tuple[Problem, ...]:
    """Return what a syntax error means: one Problem, or one for every line that is indented with a tab."""
    lines = text.split("\n")
    mark = error.problem_mark or error.context_mark
    if mark is None:
        raise TypeError(f"a syntax error without a place: {error}")
    if _sign(lines, mark) == "\t" or "tab" in (error.problem or ""):
        return _tabs(lines, file, mark.line)
    if _follows_quotes(lines, mark):
        rule = "something follows the closing quote of the value"
        quotes = "double" if lines[mark.line][: mark.column].rstrip().endswith("'") else "single"
        repair = f"put the whole value in {quotes} quotes, or use no quotes round it: 12 in x 14 in"
        return (_problem(file, mark, lines, _slip("", rule, repair)),)
    said = f"{error.context or ''}: {error.problem or ''}"
    slip = next((slip for slip in _SLIPS if slip.says.search(said)), _OTHER)
    place = error.context_mark if slip.at_opening and error.context_mark else mark
    problem = _problem(file, place, lines, slip)
    return (_nearly_key(problem, lines) if slip is _NO_COLON else problem,)


def _nearly_key(problem: Problem, lines: list[str]) -> Problem:
    """Return what is told of a line that is no key with a value; closer where the sign between them is nearly right."""
    found = _NEARLY_KEY.fullmatch(lines[problem.place.line - 1])
    if not found:
        return problem
    wrong = "a blank is missing behind the colon" if found["sign"] == ":" else "a key ends in a colon, not in ="
    return replace(problem, rule=wrong, repair=f"write {found['key']}: {shown(found['value'])}")


def _problem(file: str, mark: yaml.Mark, lines: list[str], slip: _Slip) -> Problem:
    place = place_written(lines, mark.line, mark.column, file)
    return Problem(place, slip.code, "the line", shown(lines[place.line - 1]), slip.rule, slip.repair)


def _tabs(lines: list[str], file: str, first: int) -> tuple[Problem, ...]:
    rule = "the line is indented with a tab, which has no fixed width"
    repair = "use blanks, two for each level"
    found = [number for number, line in enumerate(lines) if number == first or _TAB_INDENT.match(line)]
    places = [Place(file, number + 1, lines[number].find("\t") + 1) for number in found]
    problems = [
        Problem(place, "tab-indent", "the line", shown(lines[number]), rule, repair)
        for number, place in zip(found[:MOST_LINES], places, strict=False)
    ]
    rest = len(found) - MOST_LINES
    if rest > 0:
        problems.append(Problem(places[MOST_LINES], "tab-indent", "the lines", f"{rest} more", rule, repair))
    return tuple(problems)


def _sign(lines: list[str], mark: yaml.Mark) -> str:
    line = lines[mark.line] if mark.line < len(lines) else ""
    return line[mark.column] if mark.column < len(line) else ""


def _follows_quotes(lines: list[str], mark: yaml.Mark) -> bool:
    """Tell whether the parser stopped behind a value in quotes, as in size: "12" x 14"."""
    line = lines[mark.line] if mark.line < len(lines) else ""
    before = line[: mark.column].rstrip()
    return bool(re.search(r"(?:^|[:\-,\[{]\s)\s*(\"[^\"]*\"|'[^']*')$", before))
