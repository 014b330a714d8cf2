"""Stations along a run in, the shortest words that still name each of them out."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from bookgen.compose.show import Show
from bookgen.model.length import Length

ROW = 4  # so many stations at one spacing are told as a row


def stations(where: Iterable[Length], show: Show, *, lengthwise: bool) -> str:
    """Return where pieces go: each station, or `every 16″ from … to …` where some follow at one spacing."""
    counts: dict[Fraction, int] = {}
    for at in where:
        counts[at.inches] = counts.get(at.inches, 0) + 1
    by_count: dict[int, list[Fraction]] = {}
    for station, count in sorted(counts.items()):
        by_count.setdefault(count, []).append(station)
    first = "station from" if lengthwise else "station at"
    words = []
    for count, found in sorted(by_count.items()):
        said = show.terms[first].format(stations=", ".join(_rows(found, show)))
        form = "stations each" if len(found) > 1 else "stations alike"
        words.append(said if count == 1 else show.terms[form].format(count=count, stations=said))
    return "; ".join(words)


def _rows(found: list[Fraction], show: Show) -> list[str]:
    words, start = [], 0
    while start < len(found):
        end = _row_end(found, start)
        if end - start + 1 >= ROW:
            spacing, low, high = found[start + 1] - found[start], found[start], found[end]
            form = show.terms["stations every"]
            words.append(form.format(spacing=show.inches(spacing), low=show.inches(low), high=show.inches(high)))
            start = end + 1
        else:
            words.append(show.inches(found[start]))
            start += 1
    return words


def _row_end(found: list[Fraction], start: int) -> int:
    """Return the last of the stations that follow *start* at one spacing."""
    end = min(start + 1, len(found) - 1)
    while end + 1 < len(found) and found[end + 1] - found[end] == found[start + 1] - found[start]:
        end += 1
    return end
