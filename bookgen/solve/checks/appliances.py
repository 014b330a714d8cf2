"""The appliances of a level, and how much fuel they burn together in a room; what the appliance checks share."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.solve.checks.sight import SeenThing, Sight

RUN_BY = frozenset({"gas", "air"})  # what a heating or cooling appliance belongs to


def appliances(sight: Sight) -> Iterator[SeenThing]:
    """Yield each body that burns fuel or moves air, in the record of an appliance."""
    for seen in sight.things:
        heats = seen.file.record.kind == "appliance" and seen.record.system in RUN_BY
        if seen.record.body is not None and (heats or seen.record.input_ is not None):
            yield seen


def takes_room_air(seen: SeenThing) -> bool:
    """Tell whether an appliance burns the air of its room, as far as is known: all but those piped to the outside."""
    return (seen.record.input_ is not None or seen.record.system == "gas") and seen.record.air_from != "outside"


def burnt(seen: tuple[SeenThing, ...]) -> Fraction:
    """Return the Btu an hour that appliances burn together; those without an input count for nothing."""
    return sum((one.record.input_ or Fraction(0) for one in seen), Fraction(0))
