"""What was solved in, the charts of an edition out: headroom, runs, shares of material, the work by its photos."""

from bookgen.compose.charts.headroom import headroom_map
from bookgen.compose.charts.run import run_charts
from bookgen.compose.charts.shares import share_charts
from bookgen.compose.charts.work import time_line

__all__ = ["headroom_map", "run_charts", "share_charts", "time_line"]
