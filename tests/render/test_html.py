import re
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from itertools import pairwise
from pathlib import Path
from urllib.parse import unquote

import html5lib
import pytest

from bookgen.cache import known_cache
from bookgen.model.book import Block, Run
from bookgen.model.sketch import Sketch
from bookgen.render.drawings import Figures, drawings_of
from bookgen.render.html import MissingTermError, render_site
from bookgen.render.themes import load_theme
from tests.render.book_fixture import BOOK, CORNER, sample_book, trade_book
from tests.render.site_fixture import Site, bind_site, picture_sets

HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")
SCRIPT = '<script>alert("x")</script>&"\''


@pytest.fixture(scope="module", params=["owner", "trade", "sample"])
def site(request, tmp_path_factory):
    """The site of each edition."""
    book = {"owner": BOOK, "trade": trade_book(), "sample": sample_book()}[request.param]
    return bind_site(book, tmp_path_factory.mktemp(request.param))


@pytest.fixture(scope="module")
def owner(tmp_path_factory):
    """The owner's site."""
    return bind_site(BOOK, tmp_path_factory.mktemp("owner-only"))


def test_every_page_is_strict_html(site: Site) -> None:
    """A strict parser of the HTML standard finds no error in any page."""
    for path in site.folder.rglob("*.html"):
        html5lib.HTMLParser(strict=True).parse(path.read_text(encoding="utf-8"))


def test_every_link_leads_to_a_file_and_an_element(site: Site) -> None:
    """Every relative address of every page is there, and every fragment names an element of its page."""
    for name, page in site.pages.items():
        for target in _addresses(page):
            if target.startswith("tel:"):
                continue
            path, _, fragment = target.partition("#")
            there = (site.folder / name).parent / unquote(path) if path else site.folder / name
            assert there.is_file(), f"{name} -> {target}"
            if fragment:
                other = site.pages[there.resolve().relative_to(site.folder.resolve()).as_posix()]
                assert other.find(id=fragment), f"{name} -> {target}"


def test_no_page_names_an_address_outside(site: Site) -> None:
    """No page, style sheet or script fetches or links anything beyond its own folder."""
    outside = re.compile(r"https?:|//[a-z]|@import", re.IGNORECASE)
    for page in site.pages.values():
        assert not [target for target in _addresses(page) if outside.match(target)]
    for asset in ("book.css", "book.js"):
        text = (site.folder / "assets" / asset).read_text(encoding="utf-8")
        assert not re.search(r"https?:|@import|url\((?!\"data:)", text)


def test_each_page_has_one_h1_and_no_heading_skips_a_level(site: Site) -> None:
    """Headings go down one level at a time from a single h1."""
    for name, page in site.pages.items():
        levels = [HEADINGS.index(heading.name) + 1 for heading in page.find_all(HEADINGS)]
        assert levels.count(1) == 1, name
        assert levels[0] == 1, name
        assert all(after <= before + 1 for before, after in pairwise(levels)), (name, levels)


def test_every_id_is_used_once_and_every_label_is_there(site: Site) -> None:
    """No two elements of a page share an id, and each aria-labelledby finds its elements."""
    for name, page in site.pages.items():
        ids = [element["id"] for element in page.find_all(id=True)]
        assert len(ids) == len(set(ids)), (name, sorted(one for one in ids if ids.count(one) > 1))
        for element in page.find_all(attrs={"aria-labelledby": True}):
            assert set(element["aria-labelledby"].split()) <= set(ids), (name, element["aria-labelledby"])


def test_every_picture_has_words_and_a_size(site: Site) -> None:
    """Each img has an alt text, width and height, both kinds of copies, and loads late unless it opens the page."""
    for name, page in site.pages.items():
        eager = [image for image in page.find_all("img") if not image.get("loading")]
        assert len(eager) <= 1, name
        for image in page.find_all("img"):
            assert image["alt"]
            assert int(image["width"]) > 0
            assert int(image["height"]) > 0
            assert ".jpg" in image["srcset"]
            assert ".webp" in image.find_previous_sibling("source")["srcset"]


def test_a_strict_policy_stands_on_every_page(site: Site) -> None:
    """Each page forbids everything but its own files, and needs no inline style or script."""
    for name, page in site.pages.items():
        policy = page.find("meta", attrs={"http-equiv": "Content-Security-Policy"})["content"]
        assert policy.startswith("default-src 'none'"), name
        assert "unsafe" not in policy
        assert not page.find_all(style=True), name
        assert not page.find_all("style"), name
        assert all(script.get("src") for script in page.find_all("script"))


def test_every_fraction_is_set_as_one(site: Site) -> None:
    """Outside drawings every fraction slash stands in a `fr` span."""
    for name, page in site.pages.items():
        for text in page.find("main").find_all(string=re.compile("\u2044")):
            parents = {parent.name for parent in text.parents}
            classes = text.parent.get("class") or []
            assert "svg" in parents or "fr" in classes, (name, text)


def test_every_page_says_which_book_it_is_of(site: Site) -> None:
    """Edition, revision and date stand at the foot of every page, as in print."""
    editions = set()
    for name, page in site.pages.items():
        told = " ".join(page.select_one("footer").get_text(" ").split())
        editions |= {one.edition_words for one in (BOOK, trade_book(), sample_book()) if one.edition_words in told}
        assert BOOK.revision in told, name
        assert BOOK.date in told, name
    assert len(editions) == 1


def test_shutoffs_stand_on_every_page(owner: Site) -> None:
    """The head of every page of the owner's book leads to the shutoffs."""
    for page in owner.pages.values():
        assert page.select_one("header a.run-shutoffs")["href"].endswith("shutoffs.html")


def test_the_first_page_says_which_way_to_turn(owner: Site) -> None:
    """Water, gas and electricity come first, each with its turn; a second valve waits further down."""
    page = owner.pages["shutoffs.html"]
    words = [item.get_text(" ", strip=True) for item in page.select(".supplies > li")]
    assert [text.split()[0] for text in words] == ["Water", "Gas", "Electricity"]
    assert "Quarter turn clockwise" in words[0]
    assert "Push the big switch to OFF" in words[2]
    assert "Outdoor tap" in page.get_text()


def test_every_fact_is_reached_by_links_alone(owner: Site) -> None:
    """From the cover over plain links, no script run: every row, step, face and caution stands somewhere."""
    waiting, texts = ["index.html"], {}
    while waiting:
        name = waiting.pop()
        texts[name] = " ".join(owner.pages[name].find("main").get_text(" ").split())
        folder = (owner.folder / name).parent
        hrefs = [link["href"].partition("#")[0] for link in owner.pages[name].select("main a[href], nav.turn a[href]")]
        there = [(folder / unquote(href)).resolve() for href in hrefs if href.endswith(".html")]
        names = {path.relative_to(owner.folder.resolve()).as_posix() for path in there}
        waiting += names - {*texts, *waiting}
    assert set(texts) == set(owner.pages)
    said = _bare(" ".join(texts.values()))
    facts = (BOOK.shutoffs, BOOK.emergencies, BOOK.register, BOOK.faces, BOOK.upkeep, BOOK.papers, BOOK.hazards)
    told = {words for value in (*facts, BOOK.chapters, BOOK.drill_cautions) for words in _told(value)}
    assert len(told) > 200
    assert sorted(words for words in told if _bare(words) not in said) == []


def test_signal_words_keep_their_triangle_except_notice(owner: Site) -> None:
    """The safety alert symbol stands with DANGER, WARNING and CAUTION, never with NOTICE (ANSI Z535.4)."""
    found = {}
    for page in owner.pages.values():
        for word in page.select(".signal-word"):
            found[word.get_text(strip=True)] = bool(word.select("path.alert"))
    assert found == {"DANGER": True, "WARNING": True, "CAUTION": True, "NOTICE": False}


def test_a_number_to_call_can_be_dialled(owner: Site) -> None:
    """Telephone numbers on the shutoffs and papers pages are links that dial."""
    assert owner.pages["shutoffs.html"].find("a", href="tel:5550161")
    assert owner.pages["papers.html"].find("a", href="tel:5550161")


def test_what_is_only_planned_looks_different(owner: Site) -> None:
    """Rows carry their evidence as a class and in words."""
    rows = owner.pages["register.html"].select("tbody tr")
    assert [row["class"] for row in rows] == [["is-measured"], ["is-photo"], ["is-planned"], ["is-assumed"]]
    assert "planned, not yet confirmed" in rows[2].get_text()


def test_empty_parts_are_left_out(tmp_path: Path) -> None:
    """A sample edition without register, shutoffs or index has neither their pages nor links to them."""
    names = set(bind_site(sample_book(), tmp_path).pages)
    assert names == {"index.html", "materials.html", "find.html", "chapters/01-drain-and-stack.html"}


def test_trade_pages_are_for_the_trade(tmp_path: Path, owner: Site) -> None:
    """Takeoff and checks are pages of the trade edition alone, and the disclaimer stands under the checks."""
    trade = bind_site(trade_book(), tmp_path)
    assert {"takeoff.html", "checks.html"} <= set(trade.pages)
    assert not {"takeoff.html", "checks.html"} & set(owner.pages)
    assert "local code" in trade.pages["checks.html"].select_one("footer .disclaimer").get_text()


def test_pages_turn_in_the_order_of_the_book(owner: Site) -> None:
    """Going on from the cover passes every page once and ends at the index of words."""
    seen, name = [], "index.html"
    while name:
        seen.append(name)
        after = owner.pages[name].select_one("nav.turn a.turn-after")
        name = after and ((owner.folder / name).parent / after["href"]).resolve()
        name = name and name.relative_to(owner.folder.resolve()).as_posix()
    assert sorted(seen) == sorted(owner.pages)
    assert seen[:3] == ["index.html", "shutoffs.html", "register.html"]
    assert seen[-1] == "index-of-words.html"


def test_script_in_any_field_is_only_words(tmp_path: Path) -> None:
    """With a script written into every text of the book, no page gets an element or attribute from it."""
    book = _poisoned(trade_book())
    site = bind_site(replace(book, theme="chalkline"), tmp_path)
    for name, page in site.pages.items():
        scripts = {script["src"].removeprefix("../") for script in page.find_all("script")}
        assert scripts <= {"assets/book.js", "assets/search-data.js"}, name
        assert not page.find_all(onerror=True)
        assert SCRIPT in page.get_text(), name


def test_a_link_in_a_note_stays_in_the_book(tmp_path: Path) -> None:
    """A script address is dropped; an outside one is printed as words; a telephone number dials."""
    runs = (
        Run("one", href="javascript:alert(1)"),
        Run("two", href="https://x.test/y"),
        Run("three", href="tel:5550161"),
    )
    phase = replace(CORNER.phases[0], note=(Block("paragraph", runs),))
    book = replace(BOOK, chapters=(BOOK.chapters[0], BOOK.chapters[1], replace(CORNER, phases=(phase,))))
    note = bind_site(book, tmp_path).pages["chapters/03-drain-and-stack.html"].select_one(".note")
    assert [link["href"] for link in note.find_all("a")] == ["tel:5550161"]
    assert "two (https://x.test/y)" in note.get_text()


@pytest.mark.parametrize("key", ["shutoffs first", "known planned says", "turn the page"])
def test_a_missing_term_fails(tmp_path: Path, key: str) -> None:
    """A key that the terms lack is named, and no page goes out with a hole."""
    book = replace(BOOK, terms={other: words for other, words in BOOK.terms.items() if other != key})
    with pytest.raises(MissingTermError, match=key):
        bind_site(book, tmp_path)


def test_a_picture_without_copies_says_so(tmp_path: Path) -> None:
    """Where a photo could not be read, its words stand in its place."""
    sets = picture_sets(BOOK, tmp_path / "pictures")
    del sets[CORNER.hero.digest]
    render_site(
        BOOK, load_theme("chalkline"), Figures(sets, drawings_of(BOOK)), tmp_path, (), known_cache().sort("fonts")
    )
    page = Site(tmp_path).pages["chapters/03-drain-and-stack.html"]
    assert CORNER.hero.alt in page.select_one(".hero .no-picture").get_text()


def test_the_same_book_gives_the_same_bytes(tmp_path: Path) -> None:
    """Two runs, one with fonts from the cache and one without, write the same files."""
    one, other = bind_site(BOOK, tmp_path / "one"), bind_site(BOOK, tmp_path / "other", tmp_path / "fresh")
    files = sorted(path.relative_to(one.folder) for path in one.folder.rglob("*") if path.is_file())
    assert files == sorted(path.relative_to(other.folder) for path in other.folder.rglob("*") if path.is_file())
    assert all((one.folder / path).read_bytes() == (other.folder / path).read_bytes() for path in files)


def _addresses(page) -> list[str]:
    targets = [element["href"] for element in page.find_all(href=True)]
    targets += [element["src"] for element in page.find_all(src=True)]
    for element in page.find_all(srcset=True):
        targets += [part.split()[0] for part in element["srcset"].split(",")]
    return targets


KEPT = {
    "slug", "chapter", "digest", "iso_date", "language", "sure", "href", "kind", "style", "word", "theme", "key",
    "paper", "terms", "first_month", "edition", "part",
}  # fmt: skip


# Told by a picture, again among the phases, by the facts of a panel; or kept for programs.
NOT_SAID = {"alt", "marks", "hero", "place", "uid"}


def _told(value) -> list[str]:
    """Return every text of *value* that a person reads as it stands; drawings and addresses are no such text."""
    if isinstance(value, (Sketch, Enum)):
        return []
    if is_dataclass(value):
        return [
            words
            for field in fields(value)
            if field.name not in {*KEPT, *NOT_SAID}
            for words in _told(getattr(value, field.name))
        ]
    if isinstance(value, tuple):
        return [words for part in value for words in _told(part)]
    return [value] if isinstance(value, str) and value else []


def _bare(words: str) -> str:
    """Return *words* without blanks, however they are set."""
    return "".join(words.replace("\u200a", "").split())


def _poisoned(value):
    """Return *value* with SCRIPT at the end of every text that a person writes."""
    if isinstance(value, (Sketch, Enum)):
        return value
    if is_dataclass(value):
        parts = {field.name: getattr(value, field.name) for field in fields(value)}
        return replace(value, **{name: _poisoned(part) for name, part in parts.items() if name not in KEPT})
    if isinstance(value, tuple):
        return tuple(_poisoned_index(part) if isinstance(part, tuple) else _poisoned(part) for part in value)
    return f"{value}{SCRIPT}" if isinstance(value, str) else value


def _poisoned_index(part):
    """An index row's chapters are (number, slug, title), and the slug is an address; a list item is runs."""
    if part and isinstance(part[0], int):
        return (part[0], part[1], f"{part[2]}{SCRIPT}")
    return _poisoned(part)
