"""A finished photo that is all there is of a chapter stands in it once; one among others stands in their row too."""

from __future__ import annotations

from dataclasses import replace

from bookgen.compose.chapters import told_once
from bookgen.model.book import Edition, Phase, PictureMark
from tests.render.site_fixture import sample_project_site
from tests.sample_books import sample_project_book

SAMPLE = sample_project_book(Edition.SAMPLE)
CHAPTER = next(chapter for chapter in SAMPLE.chapters if chapter.hero and not chapter.shown_once)
assert CHAPTER.hero is not None
HERO = replace(CHAPTER.hero, marks=())
FINISHED = Phase("finished", "Finished", "", (HERO,), ())


def test_a_lone_finished_photo_is_left_to_the_opening() -> None:
    """With another picture beside it, or with marks that only the whole of it shows, it stays."""
    before = replace(FINISHED, name="before", pictures=(replace(HERO, phase="before", digest="0" * 64),))
    marked = replace(HERO, marks=(PictureMark("point", "1", False, "valve", ((50, 50),)),))
    pointed = replace(FINISHED, pictures=(marked,))

    assert [phase.pictures for phase in told_once((FINISHED,))] == [()]
    assert told_once((before, FINISHED)) == (before, FINISHED)
    assert told_once((pointed,)) == (pointed,)


def test_a_site_shows_it_once_with_its_words() -> None:
    """Some chapters of the sample house have shared no other photo: one picture on the page, its caption below it."""
    alone = [chapter for chapter in SAMPLE.chapters if chapter.shown_once]
    assert alone
    for chapter in alone:
        page = next(page for name, page in sample_project_site(Edition.SAMPLE).pages.items() if chapter.slug in name)
        assert chapter.hero is not None
        shown = [image for image in page.select("main img") if chapter.hero.digest[:12] in image["src"]]
        assert len(shown) == 1
        assert page.select_one(".hero figcaption").get_text() == chapter.hero.caption
