"""The exact number that lengths are made of: whole numbers in, a Fraction out that counts faster than the library's.

In meaning it is the library's Fraction, and nothing but time tells them apart. A level is worked out in some hundred
thousand comparisons, sums and products, and the library spends most of each on asking what sort of number the other one
is (`python -m tests.benchmarks.solving` shows what that comes to). Here two fractions, or one and a whole number, are
taken at once; every other sort is left to the library. Both sorts mix: a sum of the two is one of these.
"""

from __future__ import annotations

import fractions
from math import gcd
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from fractions import Fraction
else:
    _Library = fractions.Fraction
    _new = object.__new__

    class Fraction(_Library):
        """An exact number: numerator over denominator, in lowest terms, the denominator positive."""

        __slots__ = ()

        def __hash__(self) -> int:
            return hash(self._numerator) if self._denominator == 1 else _Library.__hash__(self)

        def __bool__(self) -> bool:
            return self._numerator != 0

        def __float__(self) -> float:
            return self._numerator / self._denominator

        def __eq__(self, other: Any) -> bool:
            kind = type(other)
            if kind is Fraction or kind is _Library:
                return self._numerator == other._numerator and self._denominator == other._denominator
            return _Library.__eq__(self, other)

        def __lt__(self, other: Any) -> bool:
            kind = type(other)
            if kind is Fraction or kind is _Library:
                return self._numerator * other._denominator < other._numerator * self._denominator
            if kind is int:
                return self._numerator < other * self._denominator
            return _Library.__lt__(self, other)

        def __le__(self, other: Any) -> bool:
            kind = type(other)
            if kind is Fraction or kind is _Library:
                return self._numerator * other._denominator <= other._numerator * self._denominator
            if kind is int:
                return self._numerator <= other * self._denominator
            return _Library.__le__(self, other)

        def __gt__(self, other: Any) -> bool:
            kind = type(other)
            if kind is Fraction or kind is _Library:
                return self._numerator * other._denominator > other._numerator * self._denominator
            if kind is int:
                return self._numerator > other * self._denominator
            return _Library.__gt__(self, other)

        def __ge__(self, other: Any) -> bool:
            kind = type(other)
            if kind is Fraction or kind is _Library:
                return self._numerator * other._denominator >= other._numerator * self._denominator
            if kind is int:
                return self._numerator >= other * self._denominator
            return _Library.__ge__(self, other)

        def __neg__(self) -> Fraction:
            return _made(-self._numerator, self._denominator)

        def __abs__(self) -> Fraction:
            return _made(abs(self._numerator), self._denominator)

        def __add__(self, other: Any) -> Fraction:
            kind = type(other)
            if kind is Fraction or kind is _Library:
                return _sum(self._numerator, self._denominator, other._numerator, other._denominator)
            if kind is int:
                return _made(self._numerator + other * self._denominator, self._denominator)
            return _own(_Library.__add__(self, other))

        __radd__ = __add__

        def __sub__(self, other: Any) -> Fraction:
            kind = type(other)
            if kind is Fraction or kind is _Library:
                return _sum(self._numerator, self._denominator, -other._numerator, other._denominator)
            if kind is int:
                return _made(self._numerator - other * self._denominator, self._denominator)
            return _own(_Library.__sub__(self, other))

        def __rsub__(self, other: Any) -> Fraction:
            return -self + other

        def __mul__(self, other: Any) -> Fraction:
            kind = type(other)
            if kind is Fraction or kind is _Library:
                return _ratio(self._numerator * other._numerator, self._denominator * other._denominator)
            if kind is int:
                return _ratio(self._numerator * other, self._denominator)
            return _own(_Library.__mul__(self, other))

        __rmul__ = __mul__

        def __truediv__(self, other: Any) -> Fraction:
            kind = type(other)
            if (kind is Fraction or kind is _Library) and other._numerator > 0:
                return _ratio(self._numerator * other._denominator, self._denominator * other._numerator)
            if kind is int and other > 0:
                return _ratio(self._numerator, self._denominator * other)
            return _own(_Library.__truediv__(self, other))

        def __rtruediv__(self, other: Any) -> Fraction:
            return _own(_Library.__rtruediv__(self, other))

        def __mod__(self, other: Any) -> Fraction:
            return _own(_Library.__mod__(self, other))

        def __rmod__(self, other: Any) -> Fraction:
            return _own(_Library.__rmod__(self, other))

        def __pow__(self, other: Any) -> Fraction:
            return self * self if type(other) is int and other == 2 else _own(_Library.__pow__(self, other))

    def _made(numerator: int, denominator: int) -> Fraction:
        """Return the number of two whole numbers that are in lowest terms already."""
        number = _new(Fraction)
        number._numerator = numerator
        number._denominator = denominator
        return number

    # The next two say over again what `_made` and each other do: a call would take as long as the work.
    def _ratio(numerator: int, denominator: int) -> Fraction:
        number = _new(Fraction)
        if denominator != 1 and (common := gcd(numerator, denominator)) != 1:
            numerator //= common
            denominator //= common
        number._numerator = numerator
        number._denominator = denominator
        return number

    def _sum(top: int, bottom: int, its_top: int, its_bottom: int) -> Fraction:
        if bottom == its_bottom:
            top += its_top
        else:
            top, bottom = top * its_bottom + its_top * bottom, bottom * its_bottom
        number = _new(Fraction)
        if bottom != 1 and (common := gcd(top, bottom)) != 1:
            top //= common
            bottom //= common
        number._numerator = top
        number._denominator = bottom
        return number

    def _own(result: Any) -> Any:
        """Return what the library worked out, as one of these if it is a fraction."""
        return _made(result._numerator, result._denominator) if type(result) is _Library else result


__all__ = ["Fraction"]
