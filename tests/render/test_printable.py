"""Words for the print engine: every sign has a font, or its name in brackets."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookgen.render.printable import drawable, printable, signs_of, upright_in
from bookgen.render.themes import load_theme

SIGNS = signs_of(load_theme("chalkline"))


@pytest.mark.parametrize(
    ("words", "set_as"),
    [
        ("plain words", "plain words"),
        ("6\u2032\u00a04\u200a3\u204416\u2033 × ⅛ ⅜ ⅝ ⅞", "6\u2032\u00a04\u200a3\u204416\u2033 × ⅛ ⅜ ⅝ ⅞"),
        ("caf\u0065\u0301", "café"),
        ("\U0001f6bf\ufe0f", "[shower]"),
        ("\U0001f469\u200d\U0001f527", "[woman][wrench]"),
        ("a\u00adb", "a\u00adb"),
        ("\u4e2d", "[cjk unified ideograph-4e2d]"),
        ("\ue000", "[sign e000]"),
        ("line\nline\ttab", "line\nline\ttab"),
    ],
)
def test_signs_without_a_font_are_named(words: str, set_as: str) -> None:
    """Names are those of the Unicode standard; joiners and selectors have no shape and go."""
    assert printable(words, SIGNS) == set_as


@given(st.text())
def test_nothing_is_left_that_no_font_has(words: str) -> None:
    """Whatever the words: every sign left is in the fonts, a blank or a control sign; and once more changes nothing."""
    done = printable(words, SIGNS)
    assert all(sign in SIGNS.all or sign.isspace() or ord(sign) < 0xA0 for sign in done)
    assert printable(done, SIGNS) == done


def test_all_signs_of_the_trade_have_a_font() -> None:
    """Fractions, primes, times, arrows and the letters of English and Spanish are set as they are."""
    words = "⅛¼⅜½⅝¾⅞ ′″ ×°–—“”‘’…→ áéíóúüñ¿¡ ÁÉÍÓÚÜÑ ⁄"
    assert printable(words, SIGNS) == words


def test_an_accent_without_a_letter_of_its_own_is_named_in_a_drawing() -> None:
    """Where Unicode has the letter with its accent, nothing is named; elsewhere the text of a page keeps the accent."""
    assert drawable("caf\u0065\u0301 3\u2033", SIGNS) == "caf\u00e9 3\u2033"
    assert drawable("q\u0302", SIGNS) == "q[combining circumflex accent]"
    assert printable("q\u0302", SIGNS) == "q\u0302"


def test_signs_that_no_sloping_face_has_are_told() -> None:
    """Of the fonts of the theme only the upright ones hold Greek and arrows; plain letters slope."""
    assert upright_in("a Ω → b", SIGNS) == "[Ω→]"
    assert upright_in("plain words, ½", SIGNS) == ""
