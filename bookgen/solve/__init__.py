"""A Project in, everything worked out: solids, headroom, takeoff and findings; pure. `propose/` tries treatments."""

from bookgen.solve.whole import judge, solve

__all__ = ["judge", "solve"]
