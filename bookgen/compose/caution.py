"""Cautions of the records in, signal panels out: each hazard once, the gravest first."""

from __future__ import annotations

from bookgen.model.book import SignalPanel
from bookgen.model.records.obstacle import Caution
from bookgen.trade.cautions import caution


def panels(cautions: tuple[Caution, ...]) -> tuple[SignalPanel, ...]:
    """Return the signal panels of a chapter, each hazard once, gravest first."""
    order = ("DANGER", "WARNING", "CAUTION", "NOTICE")
    found: dict[str, SignalPanel] = {}
    for one in cautions:
        panel = panel_of(one.hazard, one.add)
        found.setdefault(one.hazard, panel)
    return tuple(sorted(found.values(), key=lambda panel: order.index(panel.word)))


def panel_of(hazard: str, add: str | None = None) -> SignalPanel:
    """Return the panel of one hazard by its key; `read` has already refused keys that are not in the table."""
    row = caution(hazard)
    if row is None:
        raise LookupError(f"no caution called {hazard}")
    avoidance = f"{row.avoidance} {add}" if add else row.avoidance
    return SignalPanel(row.signal.value, row.hazard, row.consequence, avoidance, row.call)
