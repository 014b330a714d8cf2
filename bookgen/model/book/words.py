"""Words of the book as data: runs and blocks of a note, facts, and the signal panels that stand before an act."""

from __future__ import annotations

from bookgen.model.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a paragraph: plain, emphasis, strong, code or a link within the text."""

    text: str
    style: str = "plain"
    href: str = ""


@dataclass(frozen=True, slots=True)
class Block:
    """A block of a note: paragraph, heading, bullet list, ordered list, quote; *items* for lists."""

    kind: str
    runs: tuple[Run, ...] = ()
    items: tuple[tuple[Run, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of a list of facts."""

    term: str
    words: str


@dataclass(frozen=True, slots=True)
class SignalPanel:
    """A caution: signal word, hazard, consequence, avoidance, whom to call."""

    word: str  # DANGER, WARNING, CAUTION, NOTICE
    hazard: str
    consequence: str
    avoidance: str
    call: str


@dataclass(frozen=True, slots=True)
class SignalPart:
    """Cautions of one signal word that stand before the same act: what the reader is about to do, and each hazard.

    A panel without `call` calls whom the next one calls.
    """

    act: str
    panels: tuple[SignalPanel, ...]


@dataclass(frozen=True, slots=True)
class SignalGroup:
    """All cautions of one signal word on a page."""

    word: str  # DANGER, WARNING, CAUTION, NOTICE
    parts: tuple[SignalPart, ...]
