"""A wrong word and the right ones in; the words of a message that helps: the nearest one, or all of them, out."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import SequenceMatcher, get_close_matches

LONGEST_COMPARED = 60  # characters; a longer text is no slip of the pen
ALIKE = 0.75  # share of letters in common, as difflib counts it
ALIKE_FROM_THE_START = 0.6  # the same, where both begin alike: few slips are in the first letter, and sewer is no water
MOST_LISTED = 30


def nearest(text: str, names: Iterable[str]) -> str | None:
    """Return the name that *text* was most likely meant to be; None where none is near."""
    by_plain = {_plain(name): name for name in names}
    flat = _plain(text)
    if len(text) > LONGEST_COMPARED:
        return None
    for close in get_close_matches(flat, by_plain, n=len(by_plain) or 1, cutoff=ALIKE_FROM_THE_START):
        if close[:1] == flat[:1] or SequenceMatcher(None, close, flat).ratio() >= ALIKE:
            return by_plain[close]
    return None


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
