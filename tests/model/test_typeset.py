"""Sizes as people type them are set as a printer sets them, and nothing else is touched."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookgen.model.length import parse_length
from bookgen.model.typeset import typeset


@pytest.mark.parametrize(
    ("typed", "set_so"),
    [
        ("two 2x4s laid flat", "two 2×4s laid flat"),
        ("Return duct 14 x 8", "Return duct 14\u00a0×\u00a08"),
        ("a filter of 20x25x1", "a filter of 20×25×1"),
        ("3-1/2 in round steel", "3\u200a1⁄2 in round steel"),
        ("at 2 1/2 in", "at 2\u200a1⁄2 in"),
        ("5/8-inch board, 3/16.", "5⁄8-inch board, 3⁄16."),
        ("2-1/2x3/4", "2\u200a1⁄2×3⁄4"),
    ],
)
def test_sizes_get_true_signs(typed: str, set_so: str) -> None:
    """A times sign between sizes, a fraction slash in parts of an inch, a hair space after the whole inches."""
    assert typeset(typed) == set_so


@pytest.mark.parametrize(
    "text",
    [
        "24/7", "6/15/2026", "1/2/2026", "4/4 time", "and/or", "3/5", "photos/2x4-wall.jpg", "2x4.svg", "wall-2x4",
        "0x1f", "0x41", "pictures/1/2.jpg", "serial A-1/2", "1/2.5",
    ],
)  # fmt: skip
def test_what_is_no_size_stays(text: str) -> None:
    """Dates, odds, names of files and numbers on a label are no sizes."""
    assert typeset(text) == text


@given(st.integers(0, 99), st.sampled_from(["1/2", "3/4", "5/8", "11/16", "31/32"]))
def test_a_size_is_read_back_as_what_was_typed(whole: int, part: str) -> None:
    """What is set says the same to whoever reads lengths: checked against the reader of lengths."""
    typed = f"{whole}-{part} in" if whole else f"{part} in"
    assert parse_length(typeset(typed)) == parse_length(typed)


@given(st.text(alphabet="0123456789/x -.ins\u2044×\u200a\u00a0", max_size=30))
def test_set_once_is_set(text: str) -> None:
    """What is set already stays as it is."""
    assert typeset(typeset(text)) == typeset(text)
