"""Marks and see-throughs in the book: words, letters and tags, and what a sample edition may know of them."""

from __future__ import annotations

from functools import cache

import pytest

from bookgen.compose import compose, for_edition
from bookgen.compose.seeing import before_after
from bookgen.model.book import Book, Chapter, Edition, Picture
from bookgen.model.solved import Solved
from tests.sample_house import sample_house


@cache
def solved() -> Solved:
    """Return the sample project, solved."""
    return sample_house()


@cache
def book(edition: Edition) -> Book:
    """Return the sample project's book of one edition, without drawings."""
    return compose(for_edition(solved(), edition), {}, None, edition)


def chapter(edition: Edition, word: str) -> Chapter:
    """Return the chapter whose title holds *word*."""
    return next(one for one in book(edition).chapters if word in one.title)


def test_a_measured_mark_says_where_and_how_it_is_known() -> None:
    """The plug of the cleanout: 40 in east, 16-3/4 in over the finished floor, off the photo of its day."""
    framed = next(phase for phase in chapter(Edition.OWNER, "Drain").phases if phase.name == "framed")
    (mark,) = framed.pictures[0].marks
    assert (mark.shape, mark.label, mark.tag) == ("point", "03", True)
    assert "east of the west block" in mark.where
    assert "within" in mark.where
    assert "measured on the photo" in mark.known
    assert "April\u00a01, 2026" in mark.known
    assert mark.dots == ((44.94, 72.17),)  # 719 of 1600 and 866 of 1200


def test_marks_without_a_tag_get_letters() -> None:
    """Boxes of the panel and the network board have tags; the outlet gets the first letter."""
    framed = next(phase for phase in chapter(Edition.OWNER, "Panel").phases if phase.name == "framed")
    assert [(mark.label, mark.shape) for mark in framed.pictures[0].marks] == [
        ("02", "box"),
        ("20", "box"),
        ("A", "point"),
    ]


def test_marks_go_along_onto_the_finished_picture() -> None:
    """The plug comes to lie on its cover, whose frame is 664 to 758 across and 784 to 917 down of 1600 by 1200."""
    (see,) = chapter(Edition.OWNER, "Drain").see_throughs
    (mark,) = see.marks
    across, down = mark.dots[0]
    assert 664 < across * 16 < 758
    assert 784 < down * 12 < 917


def test_a_mark_off_the_pane_stays_on_its_own_picture() -> None:
    """The outlet of the guest room is on a wall, and the pane there is the ceiling."""
    (see,) = chapter(Edition.OWNER, "Lines").see_throughs
    assert see.framed.marks
    assert see.marks == ()


@pytest.mark.parametrize("edition", [Edition.OWNER, Edition.TRADE])
def test_the_shift_of_what_lies_deeper_is_told(edition: Edition) -> None:
    """In inches where the photos are tied to the wall, and as unknown where they are not."""
    assert "5\u200a1\u20442" in chapter(edition, "Drain").see_throughs[0].shift
    assert "nobody has worked out" in chapter(edition, "Water").see_throughs[0].shift


def test_a_sample_edition_shows_shared_photos_and_no_place() -> None:
    """No mark, no tag number, no measure; and only pairs of which both photos are shared."""
    shared = {
        use.file
        for file in solved().project.obstacles
        for phase in (file.record.photos.framed, file.record.photos.finished)
        for use in phase
        if use.share and file.record.share
    }
    known = {solved().project.photos[name].digest for name in shared}
    sample = book(Edition.SAMPLE)
    seen = [see for one in sample.chapters for see in one.see_throughs]
    assert seen
    for see in seen:
        assert {see.framed.digest, see.finished.digest} <= known
        assert see.marks == ()
        assert not any(sign.isdigit() for sign in see.shift)
    assert all(picture.marks == () for picture in sample.pictures())
    assert not chapter(Edition.SAMPLE, "Panel").see_throughs  # its framed photo is not shared


def test_before_and_finished_are_compared_only_in_one_shape() -> None:
    """A wide picture is not laid on an upright one."""
    wide, upright = (Picture(name, "A wall.", "", w, h, "before", "") for name, w, h in (("a", 4, 3), ("b", 3, 4)))
    assert before_after(wide, wide) == (wide, wide)
    assert before_after(wide, upright) is None
    assert before_after(None, wide) is None
