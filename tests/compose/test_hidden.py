"""Where things are, as somebody with a tape in the finished room finds them; the register's lines and their links."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from functools import cache

from bookgen.compose import compose
from bookgen.compose.hidden import height_words, tied_words, where
from bookgen.compose.show import Show
from bookgen.compose.sighted import mark_place
from bookgen.compose.terms import terms
from bookgen.model.book import Edition, RegisterRow
from bookgen.model.evidence import MarkSighting, PhotoEvidence, Sighting
from bookgen.model.length import parse_length
from bookgen.model.solved import Solved
from bookgen.render.tags import code_text
from tests.sample_books import sample_project_book
from tests.sample_house import sample_house

SHOW = Show("imperial", terms("en"))
PLAIN = str.maketrans({"\u200a": " ", "\u00a0": " ", "\u2044": "/"})


@cache
def house() -> Solved:
    """Return the sample house."""
    return sample_house()


def told(what: str, show: Show = SHOW) -> str:
    """Return where a hidden thing of the sample house is."""
    for file, worked in zip(house().project.obstacles, house().obstacles, strict=True):
        for thing in worked.hidden:
            if thing.what == what:
                return where(thing, house().room(file.record.room), house().level, show).translate(PLAIN)
    raise LookupError(what)


def row(tag: str) -> RegisterRow:
    """Return a line of the owner's register."""
    return next(one for one in sample_project_book(Edition.OWNER).register if one.tag == tag)


def test_runs_are_taped_from_finished_walls() -> None:
    """The drain's axis is 281 in north, the finished wall at 283.4; it goes from 40 to 192, the west wall at 4.6 in.

    Its axis rises from 82 in over the slab; the underside is half of 3-1/2 in lower, the finished floor 0.3 in up.
    """
    words = told("Main drain")
    # The end of a pipe on a slope leans: its lower edge lies 0.04 in further out.
    assert words.startswith("from 35 1/4\u2033 to 15\u2032 7 1/2\u2033 off the west wall")
    assert "2 1/2\u2033 off the north wall" in words
    assert "block" not in words


def test_what_lies_behind_the_board_says_so() -> None:
    """The water line stands 1.9 in off the block, the finished wall 4.6 in: 2-3/4 in behind its face."""
    assert "2 3/4\u2033 behind the face of the east wall" in told("Water service, going up")


def test_metric_places_come_in_steps_of_five() -> None:
    """The same drain in millimetres: 901 and 62 as whole fives."""
    words = told("Main drain", replace(SHOW, units="metric"))
    assert all(int(number.replace(",", "")) % 5 == 0 for number in re.findall(r"(\d[\d,]*) mm", words))


def test_high_things_are_told_from_the_ceiling_too() -> None:
    """The gauge is nearer to the ceiling at 87.5 in than to the floor; the valve at 35.5 in is not."""
    points = {point.tag: point for file in house().project.obstacles for point in file.record.access}
    spots = {spot.tag: spot for worked in house().obstacles for spot in worked.access}
    high, low = (height_words(points[tag], spots[tag], house(), SHOW).translate(PLAIN) for tag in ("16", "01"))
    assert high == "4\u2032 11 3/4\u2033 above the floor; 27 1/2\u2033 below the ceiling there"
    assert low == "35 1/4\u2033 above the floor"


def test_a_mark_measured_on_a_photo_stands_for_a_tape() -> None:
    """The site notes put the plug of the cleanout at 40 in from the west block and 17 in over the slab, 16.7 the floor.

    The photo's own bound is printed with it, and a tag that no photo was measured for has no such sentence.
    """
    words = row("03").tied.translate(PLAIN)
    place = words.partition("As a photo shows it: ")[2]
    found = re.fullmatch(r"(.*) east of the west block, (.*) above the floor, within (.*)\.", place)
    assert found is not None, words
    along, up, within = (
        parse_length(one.replace("\u2032", "'").replace("\u2033", '"')).inches for one in found.groups()
    )
    assert abs(along - 40) <= 1
    assert abs(up - Fraction("16.7")) <= 1
    assert Fraction(1, 4) <= within <= 1
    assert "As a photo" not in row("01").tied


def test_a_mark_on_a_ceiling_is_told_east_and_north() -> None:
    """On a level face the second distance is no height: nothing is taken off it for the floor."""
    seen = Sighting("Light", *(parse_length(one) for one in ("50 in", "60 in", "0.4 in", "0.3 in")))
    words = mark_place(MarkSighting("one", "a.jpg", 0, "level", seen), Fraction(3, 10), SHOW).translate(PLAIN)
    assert words == "4\u2032 2\u2033 east of the west block, 5\u2032 0\u2033 north of the south block, within 1/2\u2033"


def test_best_ties_are_printed_with_their_error() -> None:
    """The valve: 170 in north, corners at 146.25 and 283.4, along the finished wall; good to half an inch."""
    words = row("01").tied.translate(PLAIN)
    assert words.startswith(
        "23 3/4\u2033 from the south-east corner of the guest room; 9\u2032 5 1/2\u2033 from the north-east"
    )
    assert "along the east wall" in words
    assert words.endswith("Good to about 1/2\u2033.")


def test_assumed_places_have_no_ties() -> None:
    """Nobody measured where the gas shutoff is, so nobody is sent there with a tape."""
    assert row("05").tied == ""
    assert row("05").height == SHOW.terms["not measured"]


def test_every_line_of_the_register_leads_to_its_own_line() -> None:
    """A hidden thing without a tag has a key that is also in its chapter; no two share one."""
    book = sample_project_book(Edition.OWNER)
    keys = [one.key for one in book.register if not one.tag]
    inside = {line.key: chapter.slug for chapter in book.chapters for line in chapter.hidden}
    assert len(keys) == len(set(keys)) > 20
    for one in book.register:
        assert one.tag or inside[one.key] == one.chapter


def test_a_cover_that_is_not_there_has_no_size() -> None:
    """The damper's hand hole of 8 by 8 in was never cut; the cleanout's panel is there and told with its size."""
    assert row("15").cover == "no cover: no hand hole was noted as cut; one of 8 x 8 in is wanted"
    assert row("03").cover == "12\u2033\u00a0×\u00a014\u2033 lift-out panel: lift it up and out"


def test_a_sample_has_no_ties() -> None:
    """Neither in a chapter nor as a plan."""
    book = sample_project_book(Edition.SAMPLE)
    assert not book.register
    assert not [reach for chapter in book.chapters for reach in chapter.reaches]
    assert "Good to about" not in str(book.chapters)


def test_a_place_without_marks_says_nothing() -> None:
    """The panel's closet has no mark to tape from."""
    assert tied_words("02", house(), SHOW) == ""


def test_tags_and_codes_stay_when_records_come_and_go() -> None:
    """A tag is written in its record, so a book bound with or without other records gives the rest the same numbers.

    The same goes for what the codes hold and for the identities in the calendar.
    """
    whole = house()
    gone = whole.project.obstacles[1].key
    fewer = replace(
        whole,
        project=replace(whole.project, obstacles=tuple(f for f in whole.project.obstacles if f.key != gone)),
        obstacles=tuple(one for one in whole.obstacles if one.key != gone),
        faces=tuple(face for face in whole.faces if face.obstacle != gone),
        photos=PhotoEvidence(),
    )
    before, after = (compose(one, {}, None, Edition.OWNER) for one in (fewer, whole))
    assert before.book_id == after.book_id
    numbers = {row.tag: (row.what, code_text(after, row)) for row in after.register if row.tag}
    for row in before.register:
        if row.tag:
            assert numbers[row.tag] == (row.what, code_text(before, row))
    assert {row.uid for row in before.upkeep} <= {row.uid for row in after.upkeep}
