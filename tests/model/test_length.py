"""Lengths: read as people write them, exact in between, rounded once where they are shown."""

from __future__ import annotations

import contextlib
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookgen.model.length import (
    LONGEST,
    BareNumberError,
    Length,
    LengthError,
    inches,
    parse_length,
    show_feet,
    show_inches,
    show_millimetres,
)

# Every mark of a tape up to 100 ft either way, in sixteenths of an inch.
TAPE_MARKS = st.integers(-1200 * 16, 1200 * 16).map(lambda sixteenths: Length(Fraction(sixteenths, 16)))


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("3' 4-1/2\"", "81/2"),
        ("3' 4 1/2\"", "81/2"),
        ("3'-4 1/2\"", "81/2"),
        ("3 ft 4-1/2 in", "81/2"),
        ("3’ 4½”", "81/2"),
        ("3\u2032\u00a04\u200a1\u20442\u2033", "81/2"),
        ("40 1/2 in", "81/2"),
        ("40.5 in.", "81/2"),
        ("40-1/2 inches", "81/2"),
        ("40–1/2 in", "81/2"),
        ("1/2 in", "1/2"),
        ("¾ in", "3/4"),
        ('4¾"', "19/4"),
        ("7'-0\"", "84"),
        ("7 feet", "84"),
        ("1.5 ft", "18"),
        ("12''", "12"),
        ("-3 in", "-3"),
        ("− 3/8″", "-3/8"),
        ("25.4 mm", "1"),
        ("2.54 cm", "1"),
        ("1.03 m", "5150/127"),
        ("-1030 mm", "-5150/127"),
    ],
)
def test_lengths_are_read_as_people_write_them(text: str, value: str) -> None:
    """Feet and inches in the trade's spellings, typeset or typed, and metric lengths are exact."""
    assert parse_length(text) == inches(value)


@pytest.mark.parametrize("text", ["40", "40.5", "40 1/2", "1/2", "-3", "3' 4", "3 ft 4-1/2"])
def test_a_bare_number_is_refused(text: str) -> None:
    """A number without its unit is never guessed at; the repair writes it out."""
    with pytest.raises(BareNumberError, match=r"; write .* in") as caught:
        parse_length(text)

    repaired = str(caught.value).split("; write ")[1].split(" or ")[0]
    assert parse_length(repaired) == parse_length(f"{text} in")


@pytest.mark.parametrize("text", ["", "in", "'", "4 yards", "1/0 in", "4 in 3 ft", "1e3 in", "3 in 4 in", "9" * 99])
def test_what_is_no_length_is_refused(text: str) -> None:
    """Anything else says what is wrong and, behind a semicolon, what to write."""
    with pytest.raises(LengthError, match="; write "):
        parse_length(text)


def test_feet_and_inches_add_up() -> None:
    """Worked by hand in exact fractions: sums and differences that a carpenter does every day."""
    assert parse_length("12'-3 5/8\"") + parse_length('9 7/8"') == parse_length("13'-1 1/2\"")
    plate = parse_length('1-1/2"')
    assert parse_length("8'-0\"") - plate - plate - plate == parse_length("7'-7 1/2\"")
    assert parse_length('97-1/8"') == parse_length("8'-1 1/8\"")
    third = Length(parse_length("7'-7\"").inches / 3)
    assert third == parse_length("2'-6 1/3\"")
    assert third.to_tape() == parse_length("2'-6 5/16\"")
    assert -parse_length("1 ft") == parse_length("-12 in")


def test_a_precut_stud_and_three_plates_make_the_usual_wall() -> None:
    """92-5/8 in and three plates of 1-1/2 in are 97-1/8 in (convention of the trade, from memory)."""
    plates = Length(3 * parse_length("1-1/2 in").inches)

    assert show_feet(parse_length("92-5/8 in") + plates) == "8′\u00a01\u200a1⁄8″"


@pytest.mark.parametrize(("text", "millimetres"), [("6'-4\"", 1930), ('7-3/4"', 197), ('4-3/8"', 111), ("3 ft", 914)])
def test_an_inch_is_25_4_millimetres_exactly(text: str, millimetres: int) -> None:
    """Exact by the international yard and pound agreement of 1959; what codes print beside it is rounded both ways.

    The codes print 6'-4" as 1931 mm, 7-3/4" as 196 mm, 3 ft as 900 mm; exactly they are 1930.4, 196.85 and 914.4 mm.
    """
    length = parse_length(text)

    assert length.to_millimetres() == millimetres
    assert abs(length.inches * Fraction(127, 5) - millimetres) <= Fraction(1, 2)


def test_rounding_takes_a_half_up() -> None:
    """Half a mark goes to the greater one, below zero too, so that neighbours stay as far apart as they are."""
    assert inches("1/32").to_tape() == inches("1/16")
    assert inches("-1/32").to_tape() == inches(0)
    assert inches("3/64").to_tape() == inches("1/16")
    assert inches("1/3").to_tape(8) == inches("3/8")
    assert parse_length("0.5 mm").to_millimetres() == 1
    assert parse_length("-0.5 mm").to_millimetres() == 0


def test_rounding_once_keeps_a_stair_true() -> None:
    """Fifteen risers of a 109-7/8 in rise, each rounded to 1/16, miss it by 3/16; the exact ones do not."""
    rise = parse_length("109-7/8 in")
    riser = Length(rise.inches / 15)

    assert 15 * riser.inches == rise.inches
    assert abs(15 * riser.to_tape().inches - rise.inches) == Fraction(3, 16)


@pytest.mark.parametrize(
    ("value", "in_inches", "in_feet"),
    [
        ("0", "0″", "0″"),
        ("1/2", "1⁄2″", "1⁄2″"),
        ("25/2", "12\u200a1⁄2″", "1′\u00a00\u200a1⁄2″"),
        ("12", "12″", "1′\u00a00″"),
        ("145/4", "36\u200a1⁄4″", "3′\u00a00\u200a1⁄4″"),
        ("-81/2", "−40\u200a1⁄2″", "−3′\u00a04\u200a1⁄2″"),
        ("1/31", "1⁄16″", "1⁄16″"),
        ("-1/64", "0″", "0″"),
    ],
)
def test_lengths_are_shown_for_reading(value: str, in_inches: str, in_feet: str) -> None:
    """True primes, a fraction slash, a hair space before the fraction; 3′ 0 1/4″ can't be read as 3 1/4."""
    assert show_inches(inches(value)) == in_inches
    assert show_feet(inches(value)) == in_feet


def test_millimetres_are_shown_whole() -> None:
    """Whole millimetres with a fixed blank, a true minus below zero."""
    assert show_millimetres(parse_length("1.0304 m")) == "1030\u00a0mm"
    assert show_millimetres(parse_length("-5 mm")) == "−5\u00a0mm"


@given(TAPE_MARKS)
def test_what_is_shown_reads_back(length: Length) -> None:
    """Every mark of a tape, shown in inches or in feet and inches, is read as the same length."""
    assert parse_length(show_inches(length)) == length
    assert parse_length(show_feet(length)) == length


@given(st.integers(-40_000, 40_000))
def test_whole_millimetres_read_back(millimetres: int) -> None:
    """A whole millimetre, read and shown, is the same millimetre."""
    length = parse_length(f"{millimetres} mm")

    assert length.to_millimetres() == millimetres
    assert parse_length(show_millimetres(length)) == length


@given(st.fractions(min_value=-500, max_value=500, max_denominator=2000), st.sampled_from([1, 2, 4, 8, 16, 32]))
def test_a_rounded_length_is_the_nearest_mark(value: Fraction, parts: int) -> None:
    """No mark is nearer; a length that lies on a mark does not move."""
    length = Length(value)
    rounded = length.to_tape(parts)

    assert abs(rounded.inches - value) <= Fraction(1, 2 * parts)
    assert (rounded.inches * parts).denominator == 1
    assert rounded.to_tape(parts) == rounded


@given(st.text(alphabet="0123456789 '\"/-.inftmc½″′⁄", max_size=LONGEST + 2))
def test_no_text_breaks_the_parser(text: str) -> None:
    """Any mixture of the signs of a length is a length or a LengthError."""
    with contextlib.suppress(LengthError):
        parse_length(text)
