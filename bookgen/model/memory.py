"""Work and what it hangs on in, what came of it out: worked out, or as it was the last time, which is the same."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from bookgen.model.project import Places

Value = TypeVar("Value")


class Memory:
    """What was worked out before. It may forget anything at any moment; this one remembers nothing."""

    def once(
        self,
        what: str,  # noqa: ARG002 - for those that remember
        of: object,  # noqa: ARG002
        kind: type[Value],  # noqa: ARG002
        make: Callable[[], Value],
        lasting: Callable[[Value], bool] = lambda _: True,  # noqa: ARG002
        places: Places | None = None,  # noqa: ARG002
    ) -> Value:
        """Return what *make* returns, of the class *kind*, made of nouns, plain values and mappings.

        *make* may ask nothing that could change but *of*. What is not *lasting* is worked out again the next time.
        With *places*, those among them that stand in what is returned are where the same values stand now.
        """
        return make()


NO_MEMORY = Memory()
