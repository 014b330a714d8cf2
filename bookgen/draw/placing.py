"""Notes and the ground of a sheet in; a place for each note, near what it names, with a leader that is clear, out.

Every free spot of the sheet is asked. A place costs what its leader is long, how steep it is and the borders that it
crosses; a leader over a size, over another leader or over words costs more than any length. A note on a thing that is
large enough stands in it and needs no leader. A note without a good place is handed back: it goes into the key.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache, partial
from itertools import pairwise

import numpy as np

from bookgen.draw.choices import BARRED, CLEAR, GIVEN_UP, Choices, Leader, Others, Place, Sheet
from bookgen.draw.ground import Cells, Ground, Where, cells_in, cells_under
from bookgen.draw.meetings import Lines, boxes_meet, lines_of, runs_through
from bookgen.draw.notes import Note, settings_of

BESIDE, OVER = 1.6, 1.0  # millimetres between the words of two notes, beside and over one another
TRIES = 3  # orders in which the notes choose
ROUNDS = 2  # each note moves again once all the others stand
INSIDE = -10.0  # what it is worth to stand in the thing itself


def placed(notes: Sequence[Note], ground: Ground, sheet: Sheet) -> tuple[tuple[Place, ...], tuple[Note, ...]]:
    """Return the places of the notes, in their order, and the notes that found no good one.

    Tags choose first, having one spot only; a note that found no clear place chooses before all others, once more.
    """
    order = sorted(range(len(notes)), key=lambda number: not notes[number].tag)

    @cache
    def choices(number: int) -> Choices:
        spots = [ground.at(spot) for spot in notes[number].spots]
        return Choices(notes[number], np.array(spots, dtype=float), sheet)

    found: dict[int, Place] = {}
    for _ in range(TRIES):
        tried = _in_order(notes, choices, order, ground, sheet.lines)
        if not found or _worst(tried, notes) < _worst(found, notes):
            found = tried
        order = [n for n in order if n in tried or notes[n].rooms or not choices(n).hopeless]
        before, order = order, sorted(order, key=lambda number: number in tried)
        if order == before:
            break
    return tuple(found[number] for number in sorted(found)), tuple(n for i, n in enumerate(notes) if i not in found)


def _worst(places: Mapping[int, Place], notes: Sequence[Note]) -> float:
    """Return what all places cost together; words that go into the key cost more than any place, a tag most.

    They cost least where the key names the hatch anyway.
    """
    left_over = (note for number, note in enumerate(notes) if number not in places)
    keyed = (GIVEN_UP if note.in_key else (4 if note.tag else 2) * BARRED for note in left_over)
    return sum(place.cost for place in places.values()) + sum(keyed)


def _in_order(
    notes: Sequence[Note], choices: Callable[[int], Choices], order: Sequence[int], ground: Ground, sizes: Lines
) -> dict[int, Place]:
    """Return the places of all notes where each has chosen in turn, and again once all the others stood."""
    standing = _Standing(ground.shape)
    for _ in range(ROUNDS):
        for number in order:
            known = standing.places.get(number)
            if known is not None and (known.leader is None or known.cost <= choices(number).cheapest):
                continue  # it stands as well as it would alone
            known, more = known and known.beside(standing.starts(number)), standing.more_starts(number)
            if more is not None:
                best = choices(number).better_now(partial(standing.others, number), known, more)
            else:
                others = standing.others(number)
                best = _inside(notes[number], others, sizes, ground) or choices(number).best(others, known)
            if best is not None:
                standing.places[number] = best
    return standing.places


class _Standing:
    """The notes that stand, how many of their words and leaders take each cell, and beside what each has chosen."""

    def __init__(self, shape: tuple[int, ...]) -> None:
        self.places: dict[int, Place] = {}
        self._beside: dict[int, Mapping[int, Place]] = {}
        self._under: dict[Leader | None, tuple[Where, ...]] = {None: ()}
        self._counted: dict[int, Place] = {}
        self._counts: Cells = np.zeros(shape, dtype=np.int32)

    def starts(self, number: int) -> frozenset[float]:
        """Return where all notes but one start."""
        return frozenset(place.at[0] for other, place in self.places.items() if other != number)

    def more_starts(self, number: int) -> frozenset[float] | None:
        """Return where others start besides those that stood when a note chose; None where one of these has moved."""
        beside = self._beside.get(number)
        if beside is None or not all(place.stands_in(self.places.get(other)) for other, place in beside.items()):
            return None
        return self.starts(number) - {place.at[0] for place in beside.values()}

    def others(self, number: int) -> Others:
        """Return what all notes but one take: it chooses beside them."""
        beside = {other: place for other, place in self.places.items() if other != number}
        self._beside[number] = beside
        self._count(beside)
        boxes = np.array([place.box() for place in beside.values()], dtype=float).reshape(-1, 4)
        lines = [line for place in beside.values() if place.leader is not None for line in pairwise(place.leader)]
        around = boxes + np.array([-BESIDE, -OVER, BESIDE, OVER])
        return Others(self.starts(number), around, lines_of(lines), self._counts)

    def _count(self, places: Mapping[int, Place]) -> None:
        """Count the cells under these notes, which mostly stand where they were counted before."""
        for other, place in [*self._counted.items()]:
            if not place.stands_in(places.get(other)):
                self._add(self._counted.pop(other), -1)
        for other, place in places.items():
            if other not in self._counted:
                self._counted[other] = place
                self._add(place, 1)

    def _add(self, place: Place, one: int) -> None:
        left, low, right, high = place.box()
        cells_in(self._counts, (left - BESIDE, low - OVER, right + BESIDE, high + OVER))[:] += one
        if place.leader not in self._under:  # most notes choose the same place again
            self._under[place.leader] = cells_under(place.leader or (), self._counts.shape, thick=1)
        for where in self._under[place.leader]:
            self._counts[where] += one  # a cell that is named twice counts once, on the way back as well


def _inside(note: Note, others: Others, sizes: Lines, ground: Ground) -> Place | None:
    """Return the place in the thing itself, where it has room and none of the lines, leaders or sizes, runs through."""
    for room in note.rooms:
        left, low = ground.at((float(room.left), float(room.bottom)))
        right, high = ground.at((float(room.right), float(room.top)))
        for setting in settings_of(note):
            wide, tall = right - left - 2 * CLEAR, high - low - 2 * CLEAR
            if setting.wide <= wide and setting.over + setting.deep <= tall:
                x = (left + right - setting.wide) / 2
                y = (low + high - setting.over + setting.deep) / 2
                place = Place(setting, (x, y), None, INSIDE, INSIDE)
                clear = not boxes_meet(np.array([place.box()]), others.boxes).any()
                near = (line for some in (others.lines, sizes) for line in some.near(place.box()))
                if clear and not any(runs_through(line, place.box()) for line in near):
                    return place
    return None
