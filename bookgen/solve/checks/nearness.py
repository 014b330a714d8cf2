"""Two solids of the level in, how far apart they are out: from a round pipe to a box, or from box to box."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.geometry import AXES, Box, Rod, Solid, root_above
from bookgen.model.meeting import nearest_squared


def apart(solid: Solid, box: Box) -> Fraction:
    """Return the inches between a solid and a box, 0 where they touch; a root is rounded outward by under 2^-20 in.

    What is neither round nor a box is taken as the box round it, so it is never further than it says.
    """
    if isinstance(solid, Rod):
        return max(root_above(nearest_squared(solid, box)) - solid.radius, Fraction(0))
    own = solid.bounds()
    gaps = (max(own.low.on(a) - box.high.on(a), box.low.on(a) - own.high.on(a), Fraction(0)) for a in AXES)
    return root_above(sum((gap * gap for gap in gaps), Fraction(0)))
