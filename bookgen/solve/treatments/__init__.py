"""One file a treatment: its choices and its site in, an Assembly out; here the table that names them all."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bookgen.solve.site import Envelope, Site, Worked
from bookgen.solve.treatments import (
    access_opening,
    beam_soffit,
    chase,
    closet,
    furring,
    hung_soffit,
    post_wrap,
    stair_opening,
    utility_room,
    wall_plan,
    wall_soffit,
)

# What works out the treatment that a record calls so? The choices are the record of that name.
TREATMENTS: tuple[tuple[str, Callable[[Site, Any], Worked]], ...] = (
    ("wall soffit", wall_soffit.solve),
    ("hung soffit", hung_soffit.solve),
    ("beam soffit", beam_soffit.solve),
    ("furring", furring.solve),
    ("post wrap", post_wrap.solve),
    ("chase", chase.solve),
    ("closet", closet.solve),
    ("utility room", utility_room.solve),
    ("stair opening", stair_opening.solve),
    ("access opening", access_opening.solve),
)

# What room does the treatment that a record calls so fill? Those that are left out fill none but their own pieces.
ENVELOPES: tuple[tuple[str, Callable[[Site, Any], tuple[Envelope, ...]]], ...] = (
    ("wall soffit", wall_plan.envelopes),
    ("hung soffit", hung_soffit.envelopes),
    ("beam soffit", beam_soffit.envelopes),
    ("furring", furring.envelopes),
    ("post wrap", post_wrap.envelopes),
    ("chase", chase.envelopes),
    ("closet", closet.envelopes),
    ("utility room", utility_room.envelopes),
    ("stair opening", stair_opening.envelopes),
)
