"""A Project in, everything worked out: solids, headroom, takeoff and findings; pure."""

from bookgen.solve.propose import propose
from bookgen.solve.whole import judge, solve

__all__ = ["judge", "propose", "solve"]
