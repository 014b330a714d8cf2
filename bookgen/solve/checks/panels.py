"""The electrical panels of a level, each with the side that somebody stands before; what the panel checks share."""

from __future__ import annotations

from collections.abc import Iterator

from bookgen.model.frozen import dataclass
from bookgen.solve.checks.clear import View, view_of
from bookgen.solve.checks.sight import SeenThing, Sight
from bookgen.solve.positions import run_frame
from bookgen.trade.called import called

NAMED = "panel"


@dataclass(frozen=True, slots=True)
class Panel:
    """A box with breakers or fuses; *view* is None where no record says which side is its front."""

    seen: SeenThing
    view: View | None


def panels(sight: Sight) -> Iterator[Panel]:
    """Yield each body of the power system that is a panel: in a panel's record, or by its name."""
    for seen in sight.things:
        body = seen.record.body is not None and seen.record.system == "power"
        if body and (seen.file.record.kind == "panel" or called(NAMED).search(seen.record.what)):
            yield Panel(seen, _view(sight, seen))


def _view(sight: Sight, seen: SeenThing) -> View | None:
    side = seen.record.front or _side_of_run(sight, seen)
    return None if side is None else view_of(seen.box, side, sight.level.floor)


def _side_of_run(sight: Sight, seen: SeenThing) -> str | None:
    """Return the side that looks into the room where the run goes along a wall."""
    run = seen.file.record.run
    if run is None or run.along in {"east", "north"}:
        return None
    frame = run_frame(run, sight.level)
    if frame.along == "x":
        return "north" if frame.off > 0 else "south"
    return "east" if frame.off > 0 else "west"
