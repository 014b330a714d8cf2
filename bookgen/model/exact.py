"""The exact number that lengths are made of: whole numbers in, a Fraction out that counts faster than the library's.

In meaning it is the library's Fraction, and nothing but time tells them apart. A level is worked out in some hundred
thousand comparisons, sums and products, and the library spends most of each on asking what sort of number the other one
is (`python -m tests.benchmarks.solving` shows what that comes to). Here two fractions, or one and a whole number, are
taken at once; every other sort is left to the library. Both sorts mix: a sum of the two is one of these.
"""

from __future__ import annotations

import fractions
import sys
from math import gcd
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from fractions import Fraction
else:
    _Library = fractions.Fraction
    _new = object.__new__
    # By what is a numerator multiplied in the hash of a fraction with this denominator? "Hashing of numeric types" in
    # the library's reference says how; worked out once for the marks of a tape and for tenths of a millimetre.
    _INVERSES = {
        denominator: pow(denominator, -1, sys.hash_info.modulus)
        for denominator in (2**marks * rest for marks in range(10) for rest in (1, 3, 5, 127, 635))
    }

    class Fraction(_Library):
        """An exact number: numerator over denominator, in lowest terms, the denominator positive."""

        __slots__ = ()

        def __hash__(self) -> int:
            denominator = self._denominator
            if denominator == 1:
                return hash(self._numerator)
            inverse = _INVERSES.get(denominator)
            if inverse is None:
                return _Library.__hash__(self)
            numerator = self._numerator
            found = hash(hash(abs(numerator)) * inverse)
            found = found if numerator >= 0 else -found
            return -2 if found == -1 else found

        def __bool__(self) -> bool:
            return self._numerator != 0

        def __float__(self) -> float:
            return self._numerator / self._denominator

        def __eq__(self, other: Any) -> bool:
            if self is other:
                return True
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
                top, bottom, its_bottom = self._numerator, self._denominator, other._denominator
                if bottom == its_bottom:
                    top += other._numerator
                else:
                    top, bottom = top * its_bottom + other._numerator * bottom, bottom * its_bottom
                number = _new(Fraction)
                if bottom != 1 and (common := gcd(top, bottom)) != 1:
                    top //= common
                    bottom //= common
                number._numerator = top
                number._denominator = bottom
                return number
            if kind is int:
                return _made(self._numerator + other * self._denominator, self._denominator)
            return _own(_Library.__add__(self, other))

        __radd__ = __add__

        def __sub__(self, other: Any) -> Fraction:
            kind = type(other)
            if kind is Fraction or kind is _Library:
                top, bottom, its_bottom = self._numerator, self._denominator, other._denominator
                if bottom == its_bottom:
                    top -= other._numerator
                else:
                    top, bottom = top * its_bottom - other._numerator * bottom, bottom * its_bottom
                number = _new(Fraction)
                if bottom != 1 and (common := gcd(top, bottom)) != 1:
                    top //= common
                    bottom //= common
                number._numerator = top
                number._denominator = bottom
                return number
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

    # Sums, differences and this say over again what `_made` does: a call would take as long as the work.
    def _ratio(numerator: int, denominator: int) -> Fraction:
        number = _new(Fraction)
        if denominator != 1 and (common := gcd(numerator, denominator)) != 1:
            numerator //= common
            denominator //= common
        number._numerator = numerator
        number._denominator = denominator
        return number

    def _own(result: Any) -> Any:
        """Return what the library worked out, as one of these if it is a fraction."""
        return _made(result._numerator, result._denominator) if type(result) is _Library else result


__all__ = ["Fraction"]
