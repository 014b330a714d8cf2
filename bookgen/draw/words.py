"""Trade words, lengths and ways of looking in; the words a homeowner reads on a sketch, out."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import floor

from bookgen.draw.eye import Compass
from bookgen.draw.paper import Paper
from bookgen.model.length import (
    INCHES_PER_FOOT,
    TAPE,
    Length,
)
from bookgen.model.tape import IN_FEET_FROM, Tape, Units
from bookgen.trade.tongue import Say, Tongue

# Which note gathers the pieces of a role, and what does a homeowner call them?
_NOTES = {
    "rail": "Ladder",
    "rung": "Ladder",
    "top rail": "Ladder",
    "bottom rail": "Ladder",
    "end rail": "Ladder",
    "end upright": "Ladder",
    "nailer": "Nailer",
    "cleat": "Wall cleat",
    "crosser": "Crosser",
    "fireblock": "Fire block",
    "strip": "Furring strip",
    "edge strip": "Furring strip",
    "stud": "Stud",
    "king stud": "Stud",
    "cripple": "Stud",
    "trimmer": "Stud",
    "jack stud": "Stud",
    "bottom plate": "Plate",
    "top plate": "Plate",
    "plate": "Plate",
    "header": "Header",
    "board": "Wallboard",
    "block": "Blocking",
    "blocking": "Blocking",
    "flat": "Post wrap",
    "joist": "Joist",
    "block wall": "Block wall",
}
# A role may mean another thing in another treatment.
_NOTES_BY_TREATMENT = {
    ("stair opening", "rail"): "Hand rail",
    ("stair opening", "plate"): "Sloped plate",
    ("stair opening", "stud"): "Short stud",
    ("chase", "rail"): "Upright",
}


def note_word(treatment: str, role: str) -> str:
    """Return the homeowner's word for the pieces of a role; the trade's word where there is none."""
    word = _NOTES_BY_TREATMENT.get((treatment, role)) or _NOTES.get(role)
    return word or role[:1].upper() + role[1:]


def size(length: Length, *, units: Units, tall: bool = False) -> str:
    """Return a size for a dimension; *tall* ones and long ones in feet and inches."""
    tape = Tape(units)
    return tape.long(length) if tall else tape.plain(length)


def spoken(length: Length, paper: Paper) -> str:
    """Return a length in words that can be read aloud: 6 feet 4 and 3/16 inches."""
    say = paper.tongue.say
    metric = say("{count} millimeters", count=length.to_millimetres())
    return Tape(paper.units).either(_spoken_inches(length, say), metric)


def _spoken_inches(length: Length, say: Say) -> str:
    total = floor(length.inches * TAPE + Fraction(1, 2))
    feet, sixteenths = divmod(total, TAPE * INCHES_PER_FOOT)
    whole, rest = divmod(Fraction(sixteenths, TAPE), 1)
    if total < TAPE * int(IN_FEET_FROM):
        feet, whole = 0, whole + feet * INCHES_PER_FOOT
    inches = say("{whole} and {rest}", whole=whole, rest=rest) if whole and rest else str(rest or whole)
    one = (whole == 1 and not rest) or (not whole and rest)
    parts = [say("{count} foot", count=feet) if feet == 1 else say("{count} feet", count=feet)] if feet else []
    if whole or rest or not feet:
        parts.append(say("{count} inch", count=inches) if one else say("{count} inches", count=inches))
    return " ".join(parts)


def listed(names: Sequence[str], say: Say) -> str:
    """Return names as a list in a sentence: a, b and c."""
    if len(names) < 2:
        return "".join(names)
    return say("{others} and {last}", others=", ".join(names[:-1]), last=names[-1])


def lower_first(text: str) -> str:
    """Return text for the middle of a sentence; a word in capitals stays."""
    return text[:1].lower() + text[1:] if text[1:2].islower() or text[1:2] == " " else text


def looking(compass: Compass, tongue: Tongue) -> str:
    """Return which way one looks."""
    if compass == "up":
        return tongue.say("seen from below, north up as on the plan")
    return (
        tongue.say("looking down, north up")
        if compass == "down"
        else tongue.say("looking {way}", way=tongue.name(compass))
    )
