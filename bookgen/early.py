"""A project folder and an edition in, the print engine under way out, before all else that a bind needs is loaded."""

from __future__ import annotations

from pathlib import Path

from bookgen.cache import known_cache
from bookgen.render.warming import Warming, warming
from bookgen.unchanged import digest_of


def engine_for(folder: Path, edition: str, *, prices: bool = False) -> Warming:
    """Begin to warm the engine for one edition of a project, of which a book is about to be made; see `warming`."""
    state = digest_of(folder, edition, str(prices))
    return warming(known_cache(), state, str(folder.resolve()), edition)
