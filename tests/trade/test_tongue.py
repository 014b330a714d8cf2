"""Every language says everything that the program says."""

from __future__ import annotations

import ast
import datetime
import tomllib
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from string import Formatter

import pytest
from babel.dates import format_date, format_skeleton
from babel.numbers import format_decimal

import bookgen
from bookgen.compose.terms import terms
from bookgen.trade.cautions import Signal
from bookgen.trade.tongue import LANGUAGES, tongue
from tests.trade.said import calls, sentences, told, unsaid

KEYED = Path(bookgen.__file__).parent / "compose" / "terms"
OTHERS = [code for code in LANGUAGES if code != "en"]


def gaps(form: str) -> set[str]:
    """Return the names of a sentence's gaps."""
    return {gap for _, gap, _, _ in Formatter().parse(form) if gap}


@pytest.mark.parametrize("code", OTHERS)
def test_every_sentence_has_its_translation(code: str) -> None:
    """One that is changed in English has to be read again in every language; none is left over."""
    words = tongue(code).words

    assert sorted(sentences() - set(words)) == []
    assert sorted(set(words) - sentences()) == []
    assert [english for english, said in words.items() if gaps(english) != gaps(said)] == []


@pytest.mark.parametrize("code", OTHERS)
def test_every_keyed_word_has_its_translation(code: str) -> None:
    """The keys of the book's fixed words, and their gaps, are those of the English file; so are the emergencies."""
    english, other = (tomllib.loads((KEYED / f"{one}.toml").read_text("utf-8")) for one in ("en", code))

    assert sorted(set(english["words"]) ^ set(other["words"])) == []
    assert [key for key, form in english["words"].items() if gaps(form) != gaps(other["words"][key])] == []
    assert [(one["caution"], len(one["steps"])) for one in other["emergency"]] == [
        (one["caution"], len(one["steps"])) for one in english["emergency"]
    ]


def test_what_is_said_can_be_read_off_the_code() -> None:
    """`say` is given a sentence, or a field of a table, never a text put together: nobody could translate that."""
    assert [f"{call.file}: {ast.unparse(call.said)}" for call in calls() if not told(call)] == []


def test_no_remark_of_a_treatment_goes_past_the_tables() -> None:
    """A whole sentence in solve is said in the language of the book."""
    assert sorted(unsaid()) == []


def test_signal_words_are_those_of_the_standard() -> None:
    """ANSI Z535 signs in Spanish, from memory: PELIGRO, ADVERTENCIA, PRECAUCIÓN, AVISO."""
    assert [terms("en")[f"signal {word.value}"] for word in Signal] == [word.value for word in Signal]
    assert [terms("es")[f"signal {word.value}"] for word in Signal] == [
        "PELIGRO",
        "ADVERTENCIA",
        "PRECAUCIÓN",
        "AVISO",
    ]


@pytest.mark.parametrize(("code", "locale"), [("en", "en_US"), ("es", "es_US")])
def test_dates_and_numbers_as_the_language_writes_them(code: str, locale: str) -> None:
    """Unicode CLDR, as Babel carries it: es_US writes 1,234.6 where es writes 1.234,6; our minus sign is U+2212."""
    words = tongue(code)
    for month in range(1, 13):
        day = datetime.date(2026, month, 15)
        assert words.day(day).replace("\u00a0", " ") == format_date(day, "long", locale=locale)
        assert words.month(day) == format_skeleton("yMMMM", day, locale=locale)
        assert words.forms.months[month - 1] == format_date(day, "MMMM", locale=locale)
    for text in ("1234.55", "0.5", "1234567", "-1234.5", "12", "999.96"):
        told = words.number(Fraction(text), 2).replace("\u2212", "-")
        assert told == format_decimal(Decimal(text), "#,##0.##", locale=locale)


def test_an_index_is_in_the_order_of_the_language() -> None:
    """Spanish has ñ as a letter after n, and passes over accents (Unicode CLDR, collation of es, from memory)."""
    words = ["nuez", "ñame", "árbol", "zanja", "Ángulo", "nube", "3 in", "oca", "arco"]

    assert sorted(words, key=tongue("es").order) == [
        "3 in", "Ángulo", "árbol", "arco", "nube", "nuez", "ñame", "oca", "zanja",
    ]  # fmt: skip
    assert sorted(["ñame", "nube"], key=tongue("en").order) == ["ñame", "nube"]
    assert [tongue("es").initial(word) for word in ("Ángulo", "ñame", "3 in", "übung")] == ["A", "Ñ", "#", "U"]


def test_a_number_is_rounded_once_a_half_going_up() -> None:
    """A half goes up, as on a tape; CLDR leaves the rounding to the program."""
    assert tongue("es").number(Fraction("1234.55"), 1) == "1,234.6"


def test_names_are_told_piece_by_piece() -> None:
    """A face is known by its English name; what a record has named stays in it."""
    spanish = tongue("es")

    assert spanish.name("Sala, west wall, stretch 2") == "Sala, pared oeste, tramo 2"
    assert spanish.name("Tanque") == "Tanque"
    assert tongue("en").name("bottom, west part") == "bottom, west part"


def test_a_sentence_without_translation_stays_english() -> None:
    """A book that has one is still a book; that none is missing is another test's to say."""
    assert tongue("es").say("Nobody has ever said {this}.", this="so") == "Nobody has ever said so."
