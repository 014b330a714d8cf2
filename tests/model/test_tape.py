"""Lengths are written in the units of the project, in one place."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.length import Length, inches
from bookgen.model.tape import Tape


def test_a_tape_in_inches() -> None:
    """6' 4" is 76 in; from 3 ft up a length reads best in feet; a bare number is inches."""
    tape = Tape()

    assert tape.short(Fraction(76)) == "76″"
    assert tape.long(inches(76)) == "6′\u00a04″"
    assert tape.plain(Fraction(36)) == "3′\u00a00″"
    assert tape.plain(inches("35.5")) == "35\u200a1\u20442″"
    assert tape.plain(Length(Fraction(-36))) == "\u22123′\u00a00″"


def test_a_tape_in_millimetres() -> None:
    """An inch is 25.4 mm (yard and pound agreement of 1959): 76 in are 1930.4 mm, whatever is asked for."""
    tape = Tape("metric")

    assert {tape.short(Fraction(76)), tape.long(inches(76)), tape.plain(inches(76))} == {"1930\u00a0mm"}


def test_a_tape_with_both_units() -> None:
    """The inches stand first, the millimetres behind them: 1-1/2 in are 38.1 mm."""
    tape = Tape("both")

    assert tape.short(Fraction(3, 2)) == "1\u200a1\u20442″ (38\u00a0mm)"
    assert tape.plain(inches(76)) == "6′\u00a04″ (1930\u00a0mm)"
    assert tape.either("108 sq ft", "10 m²") == "108 sq ft (10 m²)"
    assert not tape.metric


def test_board_is_called_by_its_thickness_on_the_tape() -> None:
    """1/2 in are 12.7 mm, 5/8 in 15.875; lumber keeps the name that it is sold by, in every country that sells it."""
    assert Tape("metric").stock("1/2 in gypsum board") == "12.7\u00a0mm gypsum board"
    assert Tape("both").stock("5/8 in gypsum board") == "5/8 in (15.9\u00a0mm) gypsum board"
    assert Tape().stock("1/2 in gypsum board") == "1/2 in gypsum board"
    assert Tape("metric").stock("2x4 treated") == "2x4 treated"
