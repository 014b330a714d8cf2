"""How many hostile things a test tried and what got through, told at the end of a run.

A run with `-rA`, or one of the long job, prints a line for each; DEVELOPERS.md has them in a table.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

Tally = Callable[[str, int, Sequence[object]], None]
"""What was tried, how often, and what got through."""
TRIED = "tried"
