"""A finished photo that is all there is of a chapter stands in it once; one among others stands in their row too."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bookgen.compose.chapters import told_once
from bookgen.model.book import Book, Edition, Phase, PictureMark
from tests.render.site_fixture import sample_project_site
from tests.sample_books import sample_project_book


@pytest.fixture(scope="module")
def sample() -> Book:
    """The sample edition of the sample house."""
    return sample_project_book(Edition.SAMPLE)


def test_a_lone_finished_photo_is_left_to_the_opening(sample: Book) -> None:
    """With another picture beside it, or with marks that only the whole of it shows, it stays."""
    chapter = next(chapter for chapter in sample.chapters if chapter.hero and not chapter.shown_once)
    assert chapter.hero is not None
    hero = replace(chapter.hero, marks=())
    finished = Phase("finished", "Finished", "", (hero,), ())
    before = replace(finished, name="before", pictures=(replace(hero, phase="before", digest="0" * 64),))
    marked = replace(hero, marks=(PictureMark("point", "1", False, "valve", ((50, 50),)),))
    pointed = replace(finished, pictures=(marked,))

    assert [phase.pictures for phase in told_once((finished,))] == [()]
    assert told_once((before, finished)) == (before, finished)
    assert told_once((pointed,)) == (pointed,)


def test_a_site_shows_it_once_with_its_words(sample: Book) -> None:
    """Some chapters of the sample house have shared no other photo: one picture on the page, its caption below it."""
    alone = [chapter for chapter in sample.chapters if chapter.shown_once]
    assert alone
    for chapter in alone:
        page = next(page for name, page in sample_project_site(Edition.SAMPLE).pages.items() if chapter.slug in name)
        assert chapter.hero is not None
        shown = [image for image in page.select("main img") if chapter.hero.digest[:12] in image["src"]]
        assert len(shown) == 1
        assert page.select_one(".hero figcaption").get_text() == chapter.hero.caption
