"""Work and what it hangs on in, what came of it out: worked out, or as it was the last time, which is the same."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol, TypeVar

Value = TypeVar("Value")


class Memory(Protocol):
    """What was worked out before; it may forget anything at any moment."""

    def once(
        self,
        what: str,
        of: object,
        kind: type[Value],
        make: Callable[[], Value],
        lasting: Callable[[Value], bool] = lambda _: True,
    ) -> Value:
        """Return what *make* returns, of the class *kind*, made of nouns, plain values and mappings.

        *make* may ask nothing that could change but *of*. What is not *lasting* is worked out again the next time.
        """


class NoMemory:
    """It works everything out."""

    def once(
        self,
        _what: str,
        _of: object,
        _kind: type[Value],
        make: Callable[[], Value],
        _lasting: Callable[[Value], bool] = lambda _: True,
    ) -> Value:
        """Return what *make* returns."""
        return make()


NO_MEMORY = NoMemory()
