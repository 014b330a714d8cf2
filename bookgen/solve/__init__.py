"""A Project in, everything worked out: solids, headroom, takeoff and findings; pure. `propose/` tries treatments."""

from bookgen.solve.whole import judge, located, solve

__all__ = ["judge", "located", "solve"]
