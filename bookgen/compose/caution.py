"""Cautions of records and tables in, signal panels out: one panel a signal word, in it the acts, each hazard once.

Many panels of one word on one page are read by nobody; so what warns alike stands together under one word, by what the
reader is about to do. The gravest word comes first, as ANSI Z535.4 orders them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from bookgen.compose.show import Show
from bookgen.model.assembly import Assembly
from bookgen.model.book import SignalGroup, SignalPanel, SignalPart
from bookgen.model.records.obstacle import Caution, Obstacle
from bookgen.trade.called import called, sorts
from bookgen.trade.cautions import Caution as Row
from bookgen.trade.cautions import Doing, Signal, caution, cautions_for, hidden_words

Warned = tuple[str, str | None]
"""Key of the table of cautions, and one more sentence for this house."""
ACTS = (Doing.ALWAYS, Doing.OPEN, Doing.DRILL, Doing.COVER, Doing.WORK)
WITHOUT_ASKING = frozenset({Doing.ALWAYS, Doing.DRILL, Doing.CUT})  # acts that nobody looks a thing up for
OLD = ("wall", "ceiling", "floor", "stair", "trim")  # finishes that may be as old as the house
EVERYWHERE = ("wall", "ceiling", "slab", "block wall")  # what every finished lower level has
PAINTED_SHUT = frozenset({"hinged door", "lift-out panel", "magnetic panel", "cover plate", "grille"})
BLOCKED = "fire-blocking-removed"


def warned_by(records: Iterable[Obstacle], built: int) -> tuple[Warned, ...]:
    """Return the cautions that records name; for one that names none, those that the table has for it.

    Those are the ones for its kind, for covers that may be painted shut, and for each thing inside that is called so: a
    floor drain, a cast iron stack. Where nobody opens anything, only what holds without opening.
    """
    found: list[Warned] = []
    for record in records:
        own = [(one.hazard, one.add) for one in record.cautions]
        words = [record.kind, *(word for word in sorted(hidden_words()) if _inside(record, word))]
        words += ["cover"] if any(point.cover.kind in PAINTED_SHUT for point in record.access) else []
        rows = dict.fromkeys(row for word in words for row in cautions_for(word, None, built))
        found += own or [(row.id, None) for row in rows if record.access or _unasked(row)]
    return tuple(found)


def _inside(record: Obstacle, word: str) -> bool:
    """Tell whether something inside is called so; a single word may mean many things, so only longer names count."""
    if " " not in word:
        return False
    words = called(word) if word in sorts() else re.compile(re.escape(word))
    return any(words.search(f"{one.what} {one.pipe or ''}".casefold()) for one in record.inside)


def blocked(assemblies: Iterable[Assembly]) -> tuple[Warned, ...]:
    """Return the caution on fire blocks, where treatments have any."""
    return ((BLOCKED, None),) if any(part.role == "fireblock" for one in assemblies for part in one.parts) else ()


def before_drilling(systems: Iterable[str], built: int, beside: Iterable[str] = ()) -> tuple[Warned, ...]:
    """Return what could hurt before a wall or ceiling is drilled, cut or built on.

    That hangs on what is behind board, on the house's age, on what every level has, and on what stands *beside*.
    """
    there = [system for system in dict.fromkeys(systems) if system in hidden_words()]
    rows = [row for hidden in there for row in cautions_for(hidden, Doing.DRILL, built) if Doing.DRILL in row.doing]
    aged = [row for hidden in OLD for row in cautions_for(hidden, None, built) if row.built_before is not None]
    rows += [row for hidden in (*EVERYWHERE, *beside) for row in cautions_for(hidden, None, built)]
    kept = [row for row in rows if row.built_before is None and row.signal is not Signal.NOTICE]
    return tuple((row.id, None) for row in (*kept, *aged))


def groups(warned: Iterable[Warned], show: Show) -> tuple[SignalGroup, ...]:
    """Return one panel a signal word, the gravest first; of a hazard named twice all sentences stay, each once."""
    adds: dict[str, list[str]] = {}
    for hazard, add in warned:
        adds.setdefault(hazard, []).extend([add] if add and add not in adds.get(hazard, []) else [])
    rows = [(_row(hazard), " ".join(more)) for hazard, more in adds.items()]
    found = []
    for word in Signal:
        parts = []
        for act in ACTS:
            panels = [_panel(row, more, show) for row, more in rows if row.signal is word and act is _act(row)]
            if panels:
                parts.append(SignalPart(show.terms[f"act {act.value}"], _called_once(panels)))
        if parts:
            found.append(SignalGroup(word.value, tuple(parts)))
    return tuple(found)


def panels(cautions: tuple[Caution, ...], show: Show) -> tuple[SignalPanel, ...]:
    """Return a panel for each caution of a record, the gravest first."""
    order = tuple(Signal)
    rows = sorted(((_row(one.hazard), one.add or "") for one in cautions), key=lambda pair: order.index(pair[0].signal))
    return tuple(_panel(row, more, show) for row, more in rows)


def panel_of(hazard: str, show: Show) -> SignalPanel:
    """Return the panel of one hazard by its key; `read` has already refused keys that are not in the table."""
    return _panel(_row(hazard), "", show)


def _row(hazard: str) -> Row:
    row = caution(hazard)
    if row is None:
        raise LookupError(f"no caution called {hazard}")
    return row


def _panel(row: Row, more: str, show: Show) -> SignalPanel:
    avoidance, who = " ".join(filter(None, (show.say(row.avoidance), more))), show.say(row.call)
    call = show.terms["call"].format(who=who[:1].lower() + who[1:])
    return SignalPanel(row.signal.value, show.say(row.hazard), show.say(row.consequence), avoidance, call)


def _act(row: Row) -> Doing:
    """Return the act that a caution stands under: the first that its row names, cutting with drilling."""
    return Doing.DRILL if row.doing[0] is Doing.CUT else row.doing[0]


def _called_once(panels: list[SignalPanel]) -> tuple[SignalPanel, ...]:
    """Return panels with whom to call under the last of those that stand together and call the same."""
    following = [*panels[1:], None]
    return tuple(
        replace(one, call="") if after is not None and after.call == one.call else one
        for one, after in zip(panels, following, strict=True)
    )


def _unasked(row: Row) -> bool:
    return row.signal in {Signal.DANGER, Signal.WARNING} or bool(WITHOUT_ASKING & set(row.doing))
