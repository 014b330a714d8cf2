"""A hidden thing with its record in, whether it carries burnt gas out."""

from __future__ import annotations

from bookgen.model.assembly import HiddenThing
from bookgen.model.records.inside import Hidden


def is_flue(record: Hidden, thing: HiddenThing) -> bool:
    """Tell whether a thing carries burnt gas: its record says what vent it is, or it is a duct of the gas system."""
    return record.vent is not None or (record.duct is not None and thing.system == "gas")
