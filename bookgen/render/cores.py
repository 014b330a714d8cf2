"""The environment in, how many things may be done at once out."""

from __future__ import annotations

import os

CORES = "BOOKGEN_CORES"


def cores() -> int:
    """Return how many cores this process may use: what BOOKGEN_CORES says, else what the machine gives it."""
    said = os.environ.get(CORES, "")
    if said.isdecimal() and int(said):
        return int(said)
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
