"""A wrong word and the right ones in; the words of a message that helps: the nearest one, or all of them, out."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

LONGEST_COMPARED = 60  # characters; a longer text is no slip of the pen
ALIKE = 0.6  # share of letters in common, as difflib counts it
MOST_LISTED = 30


def nearest(text: str, names: Iterable[str]) -> str | None:
    """Return the name that *text* was most likely meant to be; None where none is near."""
    by_plain = {_plain(name): name for name in names}
    close = get_close_matches(_plain(text), by_plain, n=1, cutoff=ALIKE) if len(text) <= LONGEST_COMPARED else []
    return by_plain[close[0]] if close else None


def did_you_mean(text: str, names: Iterable[str]) -> str:
    """Return a repair: the nearest name, else every one there is. *names* must not be empty."""
    known = tuple(names)
    close = nearest(text, known)
    return f"did you mean {close}?" if close else f"write one of {listed(known)}"


def listed(names: Iterable[str]) -> str:
    """Return names as a list in one line, cut where it is long."""
    known = tuple(names)
    rest = len(known) - MOST_LISTED
    return ", ".join(known[:MOST_LISTED]) + (f" and {rest} more" if rest > 0 else "")


def _plain(name: str) -> str:
    return " ".join(name.casefold().replace("_", " ").replace("-", " ").split())
