"""What a problem says of its one place is said in every language: rule, repair and value, from whatever raises it."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from string import Formatter

import pytest

import bookgen.trade.tongue
from bookgen.trade.tongue import LANGUAGES, WRITTEN, Tongue, tongue
from tests.compose.pseudo import bare, marked
from tests.trade.problems_said import GAP, modules, said_by_problems, walked

OTHERS = [code for code in LANGUAGES if code != "en"]
# What a record or a folder is written with, so that it stands as it is in a sentence of any language.
RECORD_WORDS = {
    *("above", "ball", "block", "both", "ceiling", "drain", "duct", "east", "finished", "floor", "joists", "months"),
    *("none", "north", "notes", "obstacles", "off", "partitions", "photos", "post", "round", "sides", "slab", "steel"),
    *("the", "valve", "wall"),
}


def rows(code: str, table: str) -> dict[str, str]:
    """Return a table of a language as it is written."""
    return dict(bookgen.trade.tongue._document(code).get(table, {}))


def in_brackets(code: str) -> Tongue:
    """Return a language whose every word of a problem stands in brackets."""
    english = {**rows(code, "names"), **rows(code, "told")}
    return replace(
        tongue(code), words={}, tellings=bookgen.trade.tongue._patterns({one: marked(one) for one in english})
    )


@pytest.mark.parametrize("code", OTHERS)
def test_every_problem_is_told(code: str) -> None:
    """Whatever the code can hand to a problem as its rule, repair or value finds its row; nothing stays English."""
    brackets = in_brackets(code)
    found = {
        text.replace(GAP, "…"): (sorted(places)[0], left)
        for text, places in said_by_problems().items()
        if (left := bare(brackets.told(text.replace(GAP, "7")), RECORD_WORDS))
    }
    assert len(said_by_problems()) > 500
    assert found == {}


@pytest.mark.parametrize("code", OTHERS)
def test_each_row_is_the_one_that_is_taken(code: str) -> None:
    """No other row takes a sentence away, and what stands in its gaps comes out whole, in the place it belongs."""
    told, spanish = rows(code, "told"), tongue(code)
    wrong = {}
    for english, said in told.items():
        names = {gap: filling(gap, number) for number, gap in enumerate(gaps(english))}
        if spanish.told(english.format(**names)) != said.format(**names):
            wrong[english] = spanish.told(english.format(**names))
    assert wrong == {}
    assert [english for english, said in told.items() if set(gaps(english)) != set(gaps(said))] == []


def gaps(form: str) -> list[str]:
    """Return the gaps of a sentence, in order."""
    return [gap for _, gap, _, _ in Formatter().parse(form) if gap]


def filling(gap: str, number: int) -> str:
    """Return what might stand in a gap: a number, a length, or a word that no row has."""
    plain = {"number": f"{number + 2}", "size": f"{number + 2} in", "low": f"{number + 2} mm"}
    return plain.get(gap, f"ĝ{number}")


@pytest.mark.parametrize("code", OTHERS)
def test_no_row_is_left_over(code: str) -> None:
    """Every piece of a row's English stands in the code that raises problems; a changed sentence leaves none behind."""
    whole = GAP.join([*(text for file in modules() for text in texts_of(file)), *said_by_problems()])
    left = [english for english in rows(code, "told") for piece in pieces(english) if piece not in whole]
    assert left == []


def pieces(form: str) -> Iterator[str]:
    """Yield what stands between the gaps of a sentence."""
    whole = GAP.join(text for text, _, _, _ in Formatter().parse(form))
    yield from (one for one in re.split(f"{GAP}|; ", whole) if one.strip(" {}"))


def texts_of(file: str) -> Iterator[str]:
    """Yield every text of a module, gaps and all."""
    for node in walked(file):
        if isinstance(node, ast.JoinedStr):
            yield "".join(one.value if isinstance(one, ast.Constant) else GAP for one in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield from (node.value, re.sub(r"\{[^{}]*\}", GAP, node.value))


@pytest.mark.parametrize("code", OTHERS)
def test_what_is_to_be_written_stays_as_it_is_written(code: str) -> None:
    """Keys and words of records are the same in every language: `north` in a repair is what the record has to say."""
    spanish = tongue(code)
    for word, form in product(("north", "ceiling", "both sides", "closet"), ("write {}", "did you mean {}?")):
        assert word in spanish.told(form.format(word))
    assert WRITTEN


def test_a_sentence_is_told_with_all_that_stands_in_it() -> None:
    """A repair within a repair, a part by its name, a field by what it means; user text and lengths stay."""
    told = tongue("es").told

    assert told("the bottom rail (Lavadora y tubo, at 3′ 4″) goes 1⁄2″ into Bajante") == (
        "la pieza «riel inferior» (Lavadora y tubo, en 3′ 4″) se mete 1⁄2″ en Bajante"
    )
    assert told("move it 4 in east and 2 in north, beside what hangs there, or take one, or leave it out") == (
        "muévalo 4 in al este y 2 in al norte, junto a lo que cuelga ahí, o take one, o quítelo"
    )
    assert told("add house: the house") == "añada house: la casa"
    assert told("Nobody has said so yet") == "Nobody has said so yet"
    assert tongue("en").told("the value is empty") == "the value is empty"
