"""A number of turns in, a plain loop run for so long out: the measure that every benchmark's times are held against."""

from __future__ import annotations

LOOPS = 2_000_000


def yardstick(loops: int = LOOPS) -> int:
    """Return the result of a loop of whole-number work."""
    total = 0
    for number in range(loops):
        total = (total * 31 + number) % 1_000_003
    return total
