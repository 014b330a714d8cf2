"""The whole book in one file: nothing lost, nothing that leads out, nothing that a browser refuses."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from bs4 import BeautifulSoup

from bookgen.bind import SINGLE, bind
from bookgen.model.book import Edition

if TYPE_CHECKING:
    from playwright.sync_api import Browser

SMALLEST = Path(__file__).parents[2] / "projects" / "smallest"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The smallest project, bound with its single file."""
    target = tmp_path_factory.mktemp("single") / "book"
    assert bind(SMALLEST, Edition.OWNER, target, lambda *_: None, single_file=True).target == target
    return target


def parsed(file: Path) -> BeautifulSoup:
    """Return a page as a browser reads it."""
    return BeautifulSoup(file.read_text("utf-8"), "html5lib")


def words(soup: BeautifulSoup) -> Counter[str]:
    """Return the words of a page's main part, without what a single file can't have."""
    assert soup.main is not None
    for extra in soup.select(".seek, .contents-extra, template"):
        extra.decompose()
    return Counter(soup.main.get_text(" ").split())


def test_every_word_of_every_page_is_in_it(site: Path) -> None:
    """The file says what the pages say, each as often."""
    pages = [file for file in site.rglob("*.html") if file.name != SINGLE]
    wanted = sum((words(parsed(page)) for page in pages), Counter[str]())

    assert words(parsed(site / SINGLE)) == wanted
    assert parsed(site / SINGLE).select_one(f'a[href="{SINGLE}"]') is None
    assert parsed(site / "index.html").select_one(f'a[href="{SINGLE}"]') is not None


def test_links_stay_inside_and_names_are_used_once(site: Path) -> None:
    """Each link leads to an element that is there, or to a telephone; no two elements share a name."""
    soup = parsed(site / SINGLE)
    names = Counter(str(tag["id"]) for tag in soup.select("[id]"))
    links = [str(tag["href"]) for tag in soup.select("a[href]")]

    assert [name for name, count in names.items() if count > 1] == []
    assert [link for link in links if not link.startswith("tel:") and link.removeprefix("#") not in names] == []
    assert {f"chapters-{number:02d}" for number in (1,)} <= {name.rsplit("-drain", 1)[0] for name in names}
    used = set(re.findall(r"url\(#([^)]+)\)", str(soup.main)))
    assert used <= set(names)
    assert used  # the sketch has hatches, or this shows nothing


def test_a_browser_fetches_nothing_and_refuses_nothing(site: Path, browser: Browser, tmp_path: Path) -> None:
    """Alone in a folder, it shows every picture in the book's own type, with an empty console."""
    alone = tmp_path / "mailed.html"
    alone.write_bytes((site / SINGLE).read_bytes())
    page = browser.new_page()
    said: list[str] = []
    asked: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("request", lambda request: asked.append(request.url))

    page.goto(alone.as_uri())
    page.evaluate("Promise.all([...document.images].map(image => (image.loading = 'eager', image.decode())))")

    assert said == []
    assert [url for url in asked if not url.startswith("data:")] == [alone.as_uri()]
    assert page.evaluate("[...document.images].every(image => image.naturalWidth > 0)")
    assert page.evaluate("[...document.fonts].filter(face => face.status === 'loaded').length") >= 3
    assert page.evaluate("document.querySelectorAll('.compare input').length") == page.evaluate(
        "document.querySelectorAll('.compare').length"
    )
    page.close()
