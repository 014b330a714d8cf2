"""The books of the sample project, composed once for all tests of a process that ask them something.

Their drawings are drawn once for all processes of a run, and kept as those of any other book.
"""

from __future__ import annotations

from functools import cache

from bookgen.bind import drawings
from bookgen.cache import known_cache
from bookgen.compose import compose, for_edition
from bookgen.model.book import Book, Edition
from bookgen.solve.takeoff.buy import buy
from tests.sample_house import sample_house


@cache
def sample_project_book(edition: Edition) -> Book:
    """Return the book of one edition of the sample project."""
    solved = sample_house()
    told = for_edition(buy(solved) if edition is Edition.TRADE else solved, edition)
    drawn, problems = drawings(told, edition, known_cache())
    assert not problems
    return compose(told, *drawn, edition)
