"""YAML text to plain values: nothing is guessed at, and both YAML parsers say the same."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from hypothesis import example, given, settings
from hypothesis import strategies as st

from bookgen.model.place import Place
from bookgen.model.records import Obstacle
from bookgen.read.shape import record_of
from bookgen.read.source import Source
from bookgen.read.tree import source_of

CASES = sorted((Path(__file__).parents[1] / "cases" / "read").rglob("*.yaml"))
FRAGMENTS = [
    "obstacle", "run", "inside", "at", "known", "treatment", "wall soffit", "photos", "before", "- ", ": ", ":", "\n",
    "\n  ", "\n    ", "\t", "{", "}", "[", "]", ", ", "&a ", "*a", "<<", "!x ", "!!int ", "'", '"', "|\n", ">-\n", "#",
    " #", "---\n", "...\n", "? ", "%YAML 1.1\n", "~", "no", "012", "1e400", "2026-03-10", "40 in", "3' 4-1/2\"", "\\",
    "\u202e", "\x00", "\u00e9", "\U0001f6bf", "\ufeff", "=", "@", "`", "40 in to", "1/0 in", "9" * 50,
]  # fmt: skip


def plain(text: str) -> object:
    """Return the values of a text without a mistake."""
    source, problems = source_of(text, "x.yaml")
    assert problems == ()
    assert source is not None
    return source.plain


@pytest.mark.parametrize(
    "text", ["no", "yes", "on", "012", "0x1F", "6:12", "1_000", "2026-03-10", "1e3", ".inf", "3' 4-1/2\"", "=", "12%"]
)
def test_values_stay_as_they_were_written(text: str) -> None:
    """What YAML 1.1 (yaml.org/spec/1.1, types) takes for numbers, days, minutes or truth stays text."""
    assert plain(f"a: {text}\n") == {"a": text}


def test_lists_and_blocks_become_plain_values() -> None:
    """Lists become tuples, keys keep their order, folded and kept texts are unfolded as YAML says."""
    text = "b:\n  - one\n  - {c: two}\na: >-\n  three\n  four\nd: |\n  five\n    six\n"

    found = plain(text)

    assert found == {"b": ("one", {"c": "two"}), "a": "three four", "d": "five\n  six\n"}
    assert isinstance(found, dict)
    assert list(found) == ["b", "a", "d"]


def test_keys_and_values_have_places_of_their_own() -> None:
    """A key and its value on the same line are told apart; both count from 1."""
    source, _ = source_of("a:\n  b: [x, yy]\n", "x.yaml")
    assert source is not None

    assert source.keys["a", "b"] == Place("x.yaml", 2, 3)
    assert source.values["a", "b"] == Place("x.yaml", 2, 6)
    assert source.values["a", "b", 1] == Place("x.yaml", 2, 10)
    assert source.values[("a",)] == Place("x.yaml", 1, 1)


@pytest.mark.parametrize("loader", [yaml.CSafeLoader, yaml.SafeLoader])
def test_a_tab_behind_a_word_is_a_blank(loader: type[yaml.SafeLoader]) -> None:
    """Tabs that indent nothing, as before a comment or copied out of a table, do no harm in either parser."""
    source, problems = source_of("a: x\ty\nb: z\t# comment\n", "x.yaml", loader)

    assert problems == ()
    assert source is not None
    assert source.plain == {"a": "x y", "b": "z"}


@pytest.mark.parametrize(
    ("text", "line", "column", "says"),
    [
        ('a: "12" x 14\n', 1, 9, "something follows the closing quote"),
        ("a: 'it's'\n", 1, 8, "something follows the closing quote"),
        ('a:\n  - "12" x 14\n', 2, 10, "something follows the closing quote"),
        ('a: "open\n\n\n', 1, 4, "the quote that opens here"),
        ("a: {b: c\n\n\n", 1, 4, "the bracket that opens here"),
        ("a: c\nb\n\n\n", 2, 1, "the line has no colon"),
        ("a: c\nmain drain:d\n", 2, 1, "a blank is missing behind the colon"),
        ("a: c\nkind = drain\n", 2, 1, "a key ends in a colon"),
        ("a: * important\n", 1, 5, "can't begin with this sign"),
        ("a:\n    b: c\n  d: e\n", 3, 3, "the line doesn't line up"),
        ("a: `b\n", 1, 4, "can't begin with this sign"),
        ('a: "\\q"\n', 1, 4, "a backslash"),
        ("a: b: c\n", 1, 5, 'a second ": "'),
        ("a: - b\n", 1, 4, "a list can't begin"),
        ("- a\nb: c\n", 2, 1, "begin with a dash"),
        ("%YAML 1.1\n\n\n", 1, 9, "the line doesn't line up"),
        ("a: !<x\n\n", 1, 7, "can't be read as key: value"),
        ("a: &b", 1, 4, "&b marks a part"),
        ("a: {&b \n\n\n", 1, 5, "&b marks a part"),
    ],
)
@pytest.mark.parametrize("loader", [yaml.CSafeLoader, yaml.SafeLoader])
def test_slips_of_form_are_told_in_plain_words(
    text: str, line: int, column: int, says: str, loader: type[yaml.SafeLoader]
) -> None:
    """The first problem stands where a person would mend it, in words that need no knowledge of YAML."""
    problem = source_of(text, "x.yaml", loader)[1][0]

    assert (problem.place.line, problem.place.column) == (line, column)
    assert says in problem.rule


def test_a_bomb_of_aliases_is_never_unfolded() -> None:
    """Nine levels of nine aliases each, which would unfold to 387 million texts, give one problem for each alias."""
    lines = ["a: &a [x, x, x, x, x, x, x, x, x]"]
    lines += [
        f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]"
        for before, name in zip("abcdefgh", "bcdefghi", strict=True)
    ]

    source, problems = source_of("\n".join(lines), "x.yaml")

    assert source is not None
    assert len(problems) == 9 + 8 * 9


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_both_parsers_find_the_same(case: Path) -> None:
    """The parser in C and the one in Python, which stands in where there is no C, give the same problems."""
    text = case.read_text("utf-8")

    in_c, in_python = (source_of(text, "x.yaml", loader) for loader in (yaml.CSafeLoader, yaml.SafeLoader))

    assert in_c == in_python


@settings(max_examples=150)
@given(st.lists(st.sampled_from(FRAGMENTS) | st.text(max_size=4), max_size=30).map("".join))
@example("? " * 500)
@example("- " * 500)
@example("[" * 5000)
@example("{a: " * 200)
@example("a: &a [*a]")
@example("a: !<tag:x> y")
@example("\ud800")
def test_no_text_breaks_the_reader(text: str) -> None:
    """Whatever stands in a file, the answer is values or problems with a place, never an exception."""
    clean = "".join(sign for sign in text if sign.isprintable() or sign in "\n\t")

    source, problems = source_of(clean, "x.yaml")

    assert source is not None or problems
    lines = clean.count("\n") + 1
    assert all(0 <= problem.place.line <= lines for problem in problems)
    if source is not None:
        check_record(source)


def check_record(source: Source) -> None:
    """Make a record of whatever came out: it is one, or there are problems unless every wrong value has its own."""
    record, problems = record_of(source, Obstacle)
    assert record is not None or problems or source.spoilt
    assert all(problem.field and problem.rule and problem.repair for problem in problems)
