"""The books of the sample project, composed once for all tests that ask them something."""

from __future__ import annotations

from functools import cache

from bookgen.compose import compose, for_edition
from bookgen.draw import cutting_diagrams, level_sketches, sketches
from bookgen.model.book import Book, Edition
from bookgen.solve.takeoff.buy import buy
from tests.sample_house import sample_house


@cache
def sample_project_book(edition: Edition) -> Book:
    """Return the book of one edition of the sample project."""
    solved = sample_house()
    told = for_edition(buy(solved) if edition is Edition.TRADE else solved, edition)
    drawn, problems = sketches(told)
    assert not problems
    drawn = {**drawn, **cutting_diagrams(told)}
    return compose(told, drawn, None if edition is Edition.SAMPLE else level_sketches(told), edition)
