from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from bookgen.compose.search import search_index
from bookgen.model.book import Edition, SearchIndex
from bookgen.render.search import entry_href, search_script
from tests.render.book_fixture import BOOK, CORNER, sample_book, trade_book
from tests.render.site_fixture import Site, bind_site, sample_project_site
from tests.render.term_fixture import TERMS
from tests.sample_books import sample_project_book

LARGEST = 60_000  # bytes of the index of the sample project, in UTF-8
SCRIPT = "</script><script>alert(1)</script>&\u2028\u2029"


@pytest.fixture(scope="module", params=["owner", "trade", "sample"])
def bound(request, tmp_path_factory):
    """A book of each edition and its site."""
    book = {"owner": BOOK, "trade": trade_book(), "sample": sample_book()}[request.param]
    return book, bind_site(book, tmp_path_factory.mktemp("search"))


def _data(text: str) -> dict:
    return json.loads(text.removeprefix("window.bookSearch=").removesuffix(";\n"))


def test_every_answer_leads_to_a_page_and_an_element(bound) -> None:
    """Each entry's address is a page of the site, and its anchor an element of that page."""
    book, site = bound
    assert book.search.entries
    for entry in book.search.entries:
        name, _, anchor = entry_href(entry, book).partition("#")
        assert name in site.pages, entry
        assert not anchor or site.pages[name].find(id=anchor), (entry.title, name, anchor)


@pytest.mark.parametrize(
    "edition", [Edition.OWNER, Edition.SAMPLE, pytest.param(Edition.TRADE, marks=pytest.mark.long)]
)
def test_every_answer_of_the_sample_project_has_its_place(edition) -> None:
    """The same for the books that a contractor would really bind."""
    book = sample_project_book(edition)
    site = sample_project_site(edition)
    for entry in book.search.entries:
        name, _, anchor = entry_href(entry, book).partition("#")
        assert not anchor or site.pages[name].find(id=anchor), (entry.title, name, anchor)


def test_an_answer_stands_at_the_place_it_names() -> None:
    """Where a supply that is not the first was written before one that is, each anchor still shows its own panel."""
    outdoor = BOOK.shutoffs[3]
    book = replace(BOOK, shutoffs=(outdoor, *BOOK.shutoffs[:3]))
    hrefs = {e.title: entry_href(e, book) for e in search_index(book).entries if e.kind == "shutoff"}
    assert hrefs[outdoor.what] == "shutoffs.html#shutoff-4"
    assert hrefs["Main water valve"] == "shutoffs.html#shutoff-1"


def test_the_index_of_the_sample_project_is_small() -> None:
    """The script with the data stays under 60 kB for every edition."""
    for edition in Edition:
        book = sample_project_book(edition)
        text = search_script(book, {}, book.terms.__getitem__)
        assert len(text.encode()) < LARGEST, edition


def test_the_index_holds_all_entries_and_their_pictures(bound) -> None:
    """The data names each entry in order; its pictures are files of the book's folder."""
    book, site = bound
    data = _data((site.folder / "assets" / "search-data.js").read_text(encoding="utf-8"))
    assert [row[0] for row in data["entries"]] == [entry.title for entry in book.search.entries]
    assert data["pictures"]
    for picture in data["pictures"]:
        assert (site.folder / picture).is_file()


def test_nothing_in_the_data_ends_a_script() -> None:
    """Words with a closing tag or a line separator come through whole, and none of their signs stands as it is."""
    entry = replace(BOOK.search.entries[0], title=SCRIPT, where=SCRIPT, words=SCRIPT, phrases=(SCRIPT,))
    book = replace(BOOK, search=replace(BOOK.search, entries=(entry,)))
    text = search_script(book, {}, TERMS.__getitem__)
    assert not {"<", ">", "&", "\u2028", "\u2029"} & set(text)
    assert _data(text)["entries"][0][0] == SCRIPT


def test_a_book_without_answers_has_no_search(tmp_path: Path) -> None:
    """No page, no box, no link and no data when there is nothing to find."""
    site = bind_site(replace(BOOK, search=SearchIndex()), tmp_path)
    assert "find.html" not in site.pages
    assert not (tmp_path / "assets" / "search-data.js").exists()
    assert not any(page.select(".seek, .run-find") for page in site.pages.values())


def test_the_box_waits_for_its_script(bound) -> None:
    """Cover, shutoffs, register and find page carry the box, hidden until the script runs; find.html says why."""
    _, site = bound
    for name in {"index.html", "shutoffs.html", "register.html", "find.html"} & set(site.pages):
        box = site.pages[name].select_one("form[role=search]")
        assert box.has_attr("hidden"), name
        field = box.select_one("input")
        assert box.find("label", attrs={"for": field["id"]}), name
        assert box.select_one("[role=status]"), name
    assert TERMS["find without script"] in site.pages["find.html"].find("noscript").get_text()


def test_the_words_of_the_index_stand_on_the_find_page(tmp_path: Path) -> None:
    """Without a script each word of the index is a link there, as in the index itself."""
    site = bind_site(BOOK, tmp_path)
    words = [[a["href"] for a in page.select(".index-words a")] for page in (site.pages["find.html"],
             site.pages["index-of-words.html"])]  # fmt: skip
    assert words[0] == words[1]
    assert CORNER.title in Site(tmp_path).pages["find.html"].get_text()
