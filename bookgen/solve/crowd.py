"""Boxes in, those that meet a given box out: many boxes are sorted out at once, and the exact ones decide.

Rounded bounds only tell who can't be near, with a margin far wider than their error, so no answer hangs on them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bookgen.model.geometry import Box

MARGIN = 1e-6  # inches; a rounded bound of a level is off by less than 1e-12


@dataclass(frozen=True, slots=True, eq=False)
class Crowd:
    """Boxes by number, and their bounds rounded, a row each: low x, y, z and high x, y, z in inches."""

    boxes: tuple[Box, ...]
    bounds: NDArray[np.float64]

    def meeting(self, box: Box) -> list[int]:
        """Return the numbers of the boxes whose inside meets the inside of *box*, in order."""
        return [number for number in self.near(box) if self.boxes[number].overlaps(box)]

    def near(self, box: Box) -> list[int]:
        """Return the numbers of all boxes that may meet or touch *box*, in order, and perhaps a few more."""
        asked = row(box)
        low, high = self.bounds[:, :3], self.bounds[:, 3:]
        may = ((low <= asked[3:] + MARGIN) & (high >= asked[:3] - MARGIN)).all(axis=1)
        found: list[int] = np.flatnonzero(may).tolist()
        return found


def crowd(boxes: Iterable[Box]) -> Crowd:
    """Return boxes ready to be asked."""
    kept = tuple(boxes)
    return Crowd(kept, np.array([row(box) for box in kept], dtype=np.float64).reshape(-1, 6))


def row(box: Box) -> NDArray[np.float64]:
    """Return the rounded bounds of a box: low x, y, z and high x, y, z in inches."""
    low, high = box.low, box.high
    return np.array([float(low.x), float(low.y), float(low.z), float(high.x), float(high.y), float(high.z)])
