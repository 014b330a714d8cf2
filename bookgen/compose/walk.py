"""Shutoffs, register, upkeep and papers of a book in, what to walk through at the hand-over out, to be signed.

What to show is that of LEED for Homes, AE 1.1 (2008): equipment, how to use it, how to maintain it (a paraphrase).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from bookgen.compose.show import Show
from bookgen.model.book import Book, WalkGroup

GIVEN = ("book", "site", "tags", "calendar", "papers", "keys", "spares")


def with_walk(book: Book, show: Show) -> Book:
    """Return *book* with its walk-through; a group without anything to show is left out."""
    return replace(book, walk=tuple(_groups(book, show)))


def _groups(book: Book, show: Show) -> Iterator[WalkGroup]:
    terms = show.terms
    stops = {panel.tag for panel in book.shutoffs if panel.tag}
    shutoffs = [f"{_tagged(panel.tag, panel.what)}: {panel.turn}" for panel in book.shutoffs]
    reached = [_tagged(row.tag, row.what) for row in book.register if row.tag and row.tag not in stops]
    upkeep = [f"{_tagged(row.tag, row.do)}, {row.every}" for row in book.upkeep]
    told = [note.title for note in book.emergencies]
    told += [terms["walk hazards"]] if book.hazards else []
    told += [terms["walk drill"]] if book.faces else []
    there = {"papers": book.papers, "keys": book.security, "spares": book.materials}
    given = [terms[f"walk given {one}"] for one in GIVEN if there.get(one, True)]
    for name, items in (
        ("shutoffs", shutoffs), ("reached", reached), ("upkeep", upkeep), ("told", told), ("given", given),
    ):  # fmt: skip
        if items:
            yield WalkGroup(terms[f"walk {name}"], tuple(items))


def _tagged(tag: str, what: str) -> str:
    return f"{tag} {what}" if tag else what
