"""What a photo told of a place in, words for it with how sure it is out; a mark on a photo may stand for a tape."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from bookgen.compose.show import Show
from bookgen.model.evidence import MarkSighting
from bookgen.model.length import Length
from bookgen.model.solved import Solved

PHASES = ("before", "framed", "finished")


def mark_place(found: MarkSighting, floor: Fraction, show: Show) -> str:
    """Return where a measured mark is, and within what; *floor* is the finished floor's height above the slab."""
    sighting = found.sighting
    within = max(sighting.along_within, sighting.up_within)
    above = Fraction(0) if found.way == "level" else floor
    return show.terms[f"mark place {found.way}"].format(
        along=show.about(sighting.along.inches),
        up=show.about(max(sighting.up.inches - above, Fraction(0))),
        within=show.length(_rounded_up(within)),
    )


def tied_by_photo(tag: str, solved: Solved, show: Show) -> str:
    """Return the sentence on where a photo shows a tagged thing; "" where no mark of it is measured.

    The photo may be of another record. Of several photos the surest one counts.
    """
    found = [one for one in solved.photos.marks if _tag(one, solved) == tag]
    if not found:
        return ""
    best = min(found, key=lambda one: max(one.sighting.along_within, one.sighting.up_within))
    return show.terms["tie by photo"].format(place=mark_place(best, solved.level.floor, show))


def _tag(found: MarkSighting, solved: Solved) -> str | None:
    record = next(file.record for file in solved.project.obstacles if file.key == found.obstacle)
    uses = (use for phase in PHASES for use in getattr(record.photos, phase) if use.file == found.file)
    return next((use.marks[found.index].tag for use in uses if found.index < len(use.marks)), None)


def _rounded_up(within: Length) -> Length:
    """Return a bound in whole quarters of an inch, never smaller than it is."""
    return Length(Fraction(ceil(within.inches * 4), 4))
