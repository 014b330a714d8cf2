"""The exact number counts as the library's Fraction does, by itself, mixed with it and with every other sort."""

from __future__ import annotations

import operator
import pickle
from decimal import Decimal
from fractions import Fraction as LibraryFraction
from math import ceil, floor
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookgen.model.exact import Fraction

PAIRS = st.fractions(max_denominator=10_000)
OTHERS = PAIRS | st.integers(-10_000, 10_000) | st.floats(-1e6, 1e6, allow_nan=False) | st.booleans()
ORDER = (operator.lt, operator.le, operator.gt, operator.ge, operator.eq, operator.ne)
COUNTING = (operator.add, operator.sub, operator.mul, operator.truediv, operator.floordiv, operator.mod)


def own(number: LibraryFraction) -> Any:
    """Return the number of the same value; typed loosely, since to the type checker both are one."""
    return Fraction(number.numerator, number.denominator)


def outcome(work: Any, *values: Any) -> Any:
    """Return what comes of it, or the sort of error."""
    try:
        return work(*values)
    except (ArithmeticError, TypeError) as error:
        return type(error)


@given(PAIRS, OTHERS, st.sampled_from([*ORDER, *COUNTING]))
def test_every_operator_gives_what_the_library_gives(number: LibraryFraction, other: Any, work: Any) -> None:
    """On the left and on the right, with another fraction of either sort, whole numbers, floats and truth values."""
    wanted, turned = outcome(work, number, other), outcome(work, other, number)
    others = [other, own(other)] if isinstance(other, LibraryFraction) else [other]
    for same in others:
        assert outcome(work, own(number), same) == wanted
        assert outcome(work, same, own(number)) == turned
        if isinstance(wanted, LibraryFraction):
            found = work(own(number), same)
            assert type(found) is Fraction
            assert (found.numerator, found.denominator) == (wanted.numerator, wanted.denominator)


@given(PAIRS, st.integers(-3, 3))
def test_alone_it_is_what_the_library_makes_of_it(number: LibraryFraction, power: int) -> None:
    """Hash, truth, sign, roundings, text, powers, float, and the way through a file."""
    mine = own(number)

    for work in (hash, bool, operator.neg, abs, floor, ceil, round, str, float, operator.pos):
        assert work(mine) == work(number)
    assert outcome(pow, mine, power) == outcome(pow, number, power)
    assert f"{mine}" == f"{number}"
    back = pickle.loads(pickle.dumps(mine))  # noqa: S301  # written in the same line
    assert back == number
    assert type(back) is type(-mine) is type(abs(mine)) is Fraction
    assert {mine: 1}[number] == {number: 1}[mine] == 1


def test_it_is_read_from_what_the_library_reads() -> None:
    """Text, decimals, floats; and nothing divides by nothing."""
    assert Fraction("3/4") == Fraction("0.75") == Fraction(Decimal("0.75")) == Fraction(0.75) == LibraryFraction(3, 4)
    assert sum([Fraction(1, 3)] * 3) == 1
    assert sorted([Fraction(1, 2), LibraryFraction(1, 3), 0]) == [0, LibraryFraction(1, 3), Fraction(1, 2)]
    with pytest.raises(ZeroDivisionError):
        Fraction(1, 2) / 0
    with pytest.raises(ZeroDivisionError):
        Fraction(1, 0)


def test_other_sorts_are_refused_as_the_library_refuses_them() -> None:
    """A fraction and a word have no sum and no order."""
    word: Any = "a"
    for work in (*ORDER[:4], *COUNTING):
        with pytest.raises(TypeError):
            work(Fraction(1, 2), word)
