"""The two ends of a run in, where its framing starts and stops and which wall, if any, each end meets, out."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.frozen import dataclass
from bookgen.solve.framing import Stretch
from bookgen.solve.site import Site

SLACK = Fraction(1, 4)  # inches by which an end may miss the face of a wall and still be meant to meet it


@dataclass(frozen=True, slots=True)
class Ends:
    """From where to where the framing goes, in stations, and whether each end meets a wall."""

    low: Fraction
    high: Fraction
    low_meets: bool
    high_meets: bool

    def run(self) -> Stretch:
        """Return both stations."""
        return self.low, self.high


def stud_face(site: Site) -> Fraction:
    """Return how far the front of the lining's studs stands off the block, in inches."""
    return site.level.wall_face - site.project.record.level.wall_lining.board.inches


def ends(site: Site, run: Stretch, across: Stretch) -> Ends:
    """Return the ends of a run; one that lies in a wall, or at it, is set to the face of its studs."""
    low, high = run
    low_meets = high_meets = False
    for first, second in _walls(site, across):
        reach = site.level.wall_board + SLACK
        if first - reach <= low <= second + reach:
            low, low_meets = second, True
        if first - reach <= high <= second + reach:
            high, high_meets = first, True
    return Ends(low, high, low_meets, high_meets)


def _walls(site: Site, across: Stretch) -> list[Stretch]:
    """Return the stretches of the run that walls across it take up, from stud face to stud face."""
    level, face = site.level, stud_face(site)
    length = level.east_west if site.frame.along == "x" else level.north_south
    far = max(level.east_west, level.north_south)
    found = [(-far, face), (length - face, length + far)]
    low, high = sorted(site.frame.zero + site.frame.off * side for side in across)
    for wall in site.project.record.partitions.values():
        crosses = (wall.runs == "north") == (site.frame.along == "x")
        if crosses and wall.along.low.inches <= low + SLACK and high - SLACK <= wall.along.high.inches:
            found.append((wall.thick.low.inches, wall.thick.high.inches))
    return found
