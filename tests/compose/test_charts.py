"""Charts as data: every headroom, reach, share and day on them is the model's, and planned work says that it is."""

from __future__ import annotations

import datetime
from dataclasses import replace
from fractions import Fraction

import pytest

from bookgen.compose.charts import headroom_map, run_charts, share_charts, time_line
from bookgen.compose.charts.undersides import undersides, without_holes
from bookgen.compose.show import Show
from bookgen.compose.terms import terms
from bookgen.model.book import Edition
from bookgen.model.chart import AlongRun, Chart, HeadroomMap, Shares, TimeLine
from bookgen.model.length import Length, parse_length
from bookgen.model.records.inside import Known
from bookgen.model.solved import Solved, StockTotal
from bookgen.model.tape import Units
from bookgen.trade.weight import pounds
from tests.draw.drawn import house
from tests.sample_books import sample_project_book

SHOW = Show("imperial", terms("en"))
DAY = datetime.date


def planned(solved: Solved, key: str) -> Solved:
    """Return the same house where nobody has confirmed one of its treatments."""
    changed = tuple(
        replace(one, assembly=replace(one.assembly, known=Known(how="planned")))
        if one.assembly and one.key == key
        else one
        for one in solved.obstacles
    )
    return replace(solved, obstacles=changed)


def map_of(solved: Solved, units: Units = "imperial") -> HeadroomMap:
    """Return the map of a house."""
    figure = headroom_map(solved, replace(SHOW, units=units)).figure
    assert isinstance(figure, HeadroomMap)
    return figure


def test_each_low_spot_has_the_headroom_that_was_solved() -> None:
    """Every soffit of the sample is named, lowest first, with the very headroom of its section and its check."""
    solved = house("sample")
    names = {file.key: file.record.obstacle for file in solved.project.obstacles}
    soffits = {"wall soffit", "hung soffit", "beam soffit"}
    wanted = [
        (names[one.key], SHOW.length(one.headroom))
        for one in sorted(solved.obstacles, key=lambda one: one.headroom or Length(Fraction(0)))
        if one.assembly is not None and one.assembly.treatment in soffits and one.headroom is not None
    ]
    found = [(spot.name, spot.words) for spot in map_of(solved).spots]
    assert found[: len(wanted)] == wanted
    assert len({spot.letter for spot in map_of(solved).spots}) == len(found)


@pytest.mark.parametrize("name", ["sample", "imperial", "metric"])
def test_a_letter_stands_in_what_it_names(name: str) -> None:
    """What is lowest over the spot of a letter has the headroom that the list gives."""
    solved = house(name)
    show = replace(SHOW, units="metric" if name == "metric" else "imperial")
    over = undersides(solved)
    for spot in map_of(solved, show.units).spots:
        x, y = (Fraction(side).limit_denominator(1 << 16) for side in spot.at)
        here = [one for one in over if any(low <= y <= high for low, high in one.outline.spans(0, x))]
        last = here[-1]  # painted last, so it is seen
        words = (show.of(last.known) if last.known else show).size_of(Length(last.headroom))
        assert spot.words.startswith(words), spot


def test_each_band_holds_the_heights_that_are_painted_in_it() -> None:
    """The interval between contours is 4 in, and a band without any height has no words."""
    solved, figure = house("sample"), map_of(house("sample"))
    for one, painted in zip(undersides(solved), figure.undersides, strict=True):
        low, high = (parse_length(part).inches for part in figure.bands[painted.band].split(" to "))
        assert low <= one.headroom < high
        assert high - low == 4
    assert figure.bands[1] == ""


def test_what_hangs_lowest_is_painted_last() -> None:
    """After the bare rooms no underside is higher than the one before: the map shows the least headroom."""
    for name in ("sample", "imperial"):
        solved = house(name)
        heights = [one.headroom for one in undersides(solved)][len(solved.rooms) :]
        assert heights == sorted(heights, reverse=True)
        assert len(set(heights)) > 1


def test_of_two_figures_asked_the_larger_is_the_limit() -> None:
    """A soffit over two rooms is asked two figures; the chart draws the one that asks more."""
    solved = house("sample")
    more = tuple(
        replace(one, figure=Length(one.figure.inches + 3), source="the other") if one.figure else one
        for one in solved.findings
    )
    _, figure = along(replace(solved, findings=(*more, *solved.findings)), "04-ducts")
    limit = figure.profiles[0].limit
    assert limit is not None
    assert (limit.value, limit.words) == (79.0, "asked: at least 6′\u00a07″, the other")


def test_planned_headroom_is_called_planned() -> None:
    """What nobody has confirmed is dashed, about, and planned, on the map and along its run."""
    solved = planned(house("sample"), "02-drain")
    figure = map_of(solved)
    spot = next(spot for spot in figure.spots if spot.name.startswith("Main drain"))
    assert spot.words == "about 6′\u00a04″, planned"
    assert any(one.planned for one in figure.undersides)
    file = next(file for file in solved.project.obstacles if file.key == "02-drain")
    along = run_charts((file,), solved, SHOW)[0].figure
    assert isinstance(along, AlongRun)
    assert [profile.title for profile in along.profiles] == [
        "Headroom, planned",
        "Reach off the finished wall, planned",
    ]


def test_a_hole_for_a_light_is_no_underside_of_its_own() -> None:
    """A slit leads to a hole and back to the corner that it left."""
    square = ((0, 0), (4, 0), (4, 4), (0, 4))
    corners = ((0, 0), (2, 0), (2, 1), (3, 1), (3, 2), (2, 1), (2, 0), (4, 0), (4, 4), (0, 4))
    kept = without_holes(tuple((Fraction(u), Fraction(v)) for u, v in corners))
    assert [corner for corner in kept if corner != (2, 0)] == [(Fraction(u), Fraction(v)) for u, v in square]


def along(solved: Solved, key: str) -> tuple[Chart, AlongRun]:
    """Return the chart along the run of one soffit."""
    chart = run_charts(tuple(file for file in solved.project.obstacles if file.key == key), solved, SHOW)[0]
    assert isinstance(chart.figure, AlongRun)
    return chart, chart.figure


def test_along_a_run_in_steps_each_stretch_has_its_own_headroom_and_reach() -> None:
    """The governing stretch has the solved headroom and finished width; the limit is the check's."""
    solved = house("imperial")
    chart, figure = along(solved, "steps")
    headroom, reach = figure.profiles
    assembly = solved.obstacle("steps").assembly
    assert assembly is not None
    lowest = min(step.value for step in headroom.steps)
    assert lowest == float(assembly.measure("headroom").inches)
    assert max(step.value for step in reach.steps) == float(assembly.measure("finished width").inches)
    assert len({step.value for step in headroom.steps}) > 1
    asked = [one.figure for one in solved.findings if one.code == "headroom-low" and one.place == assembly.place]
    assert headroom.limit is not None
    assert headroom.limit.value == max(float(one.inches) for one in asked if one is not None)
    assert headroom.limit.words in chart.desc.replace("Asked", "asked")
    assert reach.limit is None


def test_a_run_that_a_chase_breaks_has_no_headroom_there() -> None:
    """The drain's soffit stops on both sides of the stack's chase, 32 to 48 in from the west block."""
    _, figure = along(house("sample"), "02-drain")
    assert [(step.low, step.high) for step in figure.profiles[0].steps] == [(4.1, 32.0), (48.0, 204.0)]


def test_what_a_stick_and_a_sheet_weigh() -> None:
    """By hand: 1 1/2 x 3 1/2 x 96 in at 30 lb a cubic foot; 32 sq ft at 1.7 lb; nothing for what no table holds."""
    assert pounds("2x4", Length(Fraction(96)), None) == Fraction("8.75")
    treated = pounds("2x4 treated", Length(Fraction(96)), None)
    assert treated is not None
    assert treated > Fraction("8.75")
    assert pounds("1/2 in gypsum board", None, Fraction(48 * 96)) == Fraction("54.4")
    assert pounds("oak cap", Length(Fraction(96)), None) is None


def test_shares_are_parts_of_one_whole_and_say_what_is_left_out() -> None:
    """They add up to one, the largest first; what can't be weighed is named; no price, no chart of cost."""
    solved = house("sample")
    strange = StockTotal("oak cap", 1, Length(Fraction(60)), None)
    more = replace(solved, takeoff=replace(solved.takeoff, totals=(*solved.takeoff.totals, strange)))
    weight, count = share_charts(more, SHOW, "cost", "weight", "count")
    for chart in (weight, count):
        assert isinstance(chart.figure, Shares)
        parts = [row.part for row in chart.figure.rows]
        assert sum(parts) == pytest.approx(1)
        assert parts == sorted(parts, reverse=True)
    assert weight.caption.endswith("Left out: oak cap.")
    pieces = {total.stock: total.pieces for total in solved.takeoff.totals}
    assert f", {pieces['2x4']} pieces" in count.desc
    assert "Oak cap: under 1 %, 1 piece." in count.desc


def test_the_work_stands_on_the_days_of_its_photos() -> None:
    """Each phase has its own days, in the order of the book; months are named, the year where it starts."""
    days = {"before": [DAY(2025, 11, 30)], "framed": [], "finished": [DAY(2026, 1, 2), DAY(2026, 1, 2)]}
    chart = time_line((("Drain", days), ("Nothing", {})), SHOW)
    assert chart is not None
    assert isinstance(chart.figure, TimeLine)
    assert [row.name for row in chart.figure.rows] == ["Drain"]
    assert chart.figure.rows[0].days == ((DAY(2025, 11, 30).toordinal(),), (), (DAY(2026, 1, 2).toordinal(),))
    assert [tick.words for tick in chart.figure.ticks] == ["November 2025", "December", "January 2026", "February"]
    assert f"finished {SHOW.day(DAY(2026, 1, 2))}." in chart.desc


def test_one_day_makes_no_time_line() -> None:
    """Where all photos are of one day, or none has a day, there is nothing to chart."""
    assert time_line((("Drain", {"before": [DAY(2026, 1, 2)]}),), SHOW) is None
    assert time_line((("Drain", {}),), SHOW) is None


def test_each_edition_has_the_charts_that_its_readers_want() -> None:
    """A sample shows how the work went by its shared photos, and neither the plan nor the material of the house."""
    owner, trade, sample = (sample_project_book(edition) for edition in (Edition.OWNER, Edition.TRADE, Edition.SAMPLE))
    for book in (owner, trade):
        assert book.headroom is not None
        assert any(chapter.charts for chapter in book.chapters)
    assert [chart.key for chart in owner.shares] == ["share-weight"]
    assert [chart.key for chart in trade.shares] == ["share-weight", "share-count"]
    assert sample.headroom is None
    assert sample.shares == ()
    assert not any(chapter.charts for chapter in sample.chapters)
    assert sample.work is not None
    assert isinstance(sample.work.figure, TimeLine)
    shared = {chapter.title for chapter in sample.chapters}
    assert {row.name for row in sample.work.figure.rows} <= shared
