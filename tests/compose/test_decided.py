"""What was decided when a treatment was worked out is told to those who build, and to nobody who only looks."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from bookgen.compose import compose, for_edition
from bookgen.compose.decided import line_rows
from bookgen.compose.show import Show
from bookgen.compose.terms import terms
from bookgen.model.assembly import Difference
from bookgen.model.book import Edition, LineRow
from tests.compose.test_hidden import house
from tests.sample_books import sample_project_book

SHOW = Show("imperial", terms("en"))


def test_a_chapter_says_why_its_treatment_is_built_so() -> None:
    """Owner and trade read every remark of the solver; in a sample a remark might name what is not shared."""
    said = {words for one in house().obstacles if one.assembly for words in one.assembly.remarks}
    assert any("not behind this cover" in words for words in said)
    for edition in (Edition.OWNER, Edition.TRADE):
        assert {words for one in sample_project_book(edition).chapters for words in one.reasons} == said
    sample = sample_project_book(Edition.SAMPLE).chapters
    assert not any(one.reasons or one.lines or one.differences for one in sample)


def test_lines_are_held_side_by_side_only_where_they_take_otherwise() -> None:
    """Along the sample's drain steps would take the same; 14.4 sq in are a tenth of a square foot."""
    drain = house().obstacle("02-drain").assembly
    assert drain is not None
    assert line_rows([drain], SHOW) == ()
    straight, stepped = drain.costs
    longer = replace(drain, costs=(straight, replace(stepped, floor=straight.floor - Fraction("144"), corners=2)))
    assert line_rows([longer], SHOW) == (
        LineRow("One straight line", "10.1 sq ft", "24.1 sq ft", "0"),
        LineRow("In steps", "9.1 sq ft", "24.1 sq ft", "2"),
    )


def test_what_is_known_of_a_wall_stands_where_somebody_looks_before_drilling() -> None:
    """A wall has no chapter: what fills it, and studs found otherwise than laid out, stand with its faces."""
    walls = house().level.linings
    odd = Difference("Studs", "16 in apart", "at 5 in")
    told = tuple(
        replace(wall, remarks=("Between its studs lies R-13 batt.",), differences=(odd,)) if number == 0 else wall
        for number, wall in enumerate(walls)
    )
    solved = for_edition(replace(house(), level=replace(house().level, linings=told)), Edition.OWNER)
    pages = [page for page in compose(solved, {}, None, Edition.OWNER).faces if page.told]
    assert {page.room for page in pages} >= {face.room.capitalize() + " room" for face in walls[0].faces}
    assert all(
        "R-13" in " ".join(page.told) and "at 5 in" in " ".join(page.told)
        for page in pages
        if "P2" not in " ".join(page.told)
    )
