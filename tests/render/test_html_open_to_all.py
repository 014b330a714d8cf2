"""Every page for everybody: what axe-core and an HTML validator say of it, what the first page weighs, what moves."""

from __future__ import annotations

import shutil
import subprocess
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import unquote, urlsplit

import pytest

from bookgen.model.book import Book, Edition
from tests.render.book_fixture import BOOK, sample_book, trade_book
from tests.render.site_fixture import Site, bind_site, sample_project_site
from tests.sample_books import sample_project_book

if TYPE_CHECKING:
    from playwright.sync_api import Browser

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]  # WCAG 2.2, levels A and AA
KINDS = ("index.html", "shutoffs.html", "register.html", "drill.html", "papers.html", "walk-through.html")
SHIFTED = (
    "new Promise(done => { let sum = 0; new PerformanceObserver(list => { for (const one of list.getEntries())"
    " sum += one.value }).observe({type: 'layout-shift', buffered: true}); setTimeout(() => done(sum), 200) })"
)  # the sum of how far what is seen has moved, of the screen
FIRST_PAGE = 300_000  # bytes, without photos


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """The owner's site."""
    return bind_site(BOOK, tmp_path_factory.mktemp("open"))


# Which text is looked at for its contrast: of each sort, by its tag, class and style and those around it, the first two
# and the last. The checker asks for what lies under every single word, and a cutting list has thousands of one sort.
MARK = """() => {
  const sorts = new Map();
  for (const one of document.querySelectorAll('body *')) {
    if (![...one.childNodes].some(node => node.nodeType === 3 && node.data.trim())) continue;
    const names = [];
    for (let at = one; at !== document.body; at = at.parentElement) {
      names.push(`${at.localName}.${at.getAttribute('class')}.${at.getAttribute('style')}`);
    }
    const sort = names.join(' ');
    sorts.set(sort, [...(sorts.get(sort) || []), one]);
  }
  for (const all of sorts.values()) [all[0], all[1], all.at(-1)].forEach(one => one && (one.dataset.looked = ''));
}"""
CONTRAST = {"runOnly": {"type": "rule", "values": ["color-contrast"]}, "resultTypes": ["violations"]}
ALL_ELSE = {
    "runOnly": {"type": "tag", "values": TAGS},
    "rules": {"color-contrast": {"enabled": False}},
    "resultTypes": ["violations"],
}


def faults(browser: Browser, page_file: Path, schemes: tuple[str, ...], widths: tuple[int, ...]) -> list[str]:
    """Return what axe-core finds on a page, at each width, and of contrast in each light."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    page = browser.new_page()
    page.goto(page_file.as_uri())
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    page.evaluate(MARK)
    found = []
    for width in widths:
        page.set_viewport_size({"width": width, "height": 844})
        looks = [(scheme, {"include": [["[data-looked]"]]}, CONTRAST) for scheme in schemes]
        for scheme, where, options in [*looks, (schemes[0], None, ALL_ELSE)]:
            page.emulate_media(color_scheme=scheme)
            answer = axe.run(page, context=where, options=options).response["violations"]
            found += [f"{scheme} {width}: {one['id']}: {one['nodes'][0]['html'][:200]}" for one in answer]
    page.close()
    return found


def both_books(edition: str) -> tuple[Book, Book]:
    """Return one edition of the made-up book and of the sample house."""
    made = {"owner": BOOK, "trade": trade_book(), "sample": sample_book()}[edition]
    return made, sample_project_book(Edition(edition))


@pytest.mark.browser
def test_nothing_on_a_page_of_each_kind_shuts_anybody_out(browser: Browser, site: Site) -> None:
    """axe-core finds nothing on the pages that are opened in a hurry, and on a chapter."""
    chapter = next(name for name in site.pages if name.startswith("chapters/"))
    for name in (*KINDS, chapter):
        assert faults(browser, site.folder / name, ("light",), (390,)) == [], name


@pytest.mark.long
@pytest.mark.browser
@pytest.mark.parametrize("theme", ["chalkline", "showroom"])
@pytest.mark.parametrize("edition", ["owner", "trade", "sample"])
def test_nothing_on_any_page_shuts_anybody_out(browser: Browser, tmp_path: Path, theme: str, edition: str) -> None:
    """Both themes, three editions of a made-up book and of the sample house, small and large, by day and dark.

    A theme for samples is looked at small in the other editions, whose pages it shares with the theme above it.
    """
    widths = (390, 1280) if theme == "chalkline" or edition == "sample" else (390,)
    for number, book in enumerate(both_books(edition)):
        whole = bind_site(replace(book, theme=theme), tmp_path / str(number))
        found = {name: faults(browser, whole.folder / name, ("light", "dark"), widths) for name in whole.pages}
        assert not any(found.values()), found


def unvalid(site: Site) -> str:
    """Return what the Nu Html Checker, where it is installed as `vnu`, has against the pages of a site."""
    checker = shutil.which("vnu")
    if checker is None:
        pytest.skip("no HTML validator (vnu) on this machine; html5lib reads every page strictly in test_html.py")
    pages = [str(site.folder / name) for name in site.pages]
    return subprocess.run([checker, "--errors-only", *pages], capture_output=True, text=True, check=False).stderr  # noqa: S603


def test_the_validator_finds_nothing(site: Site) -> None:
    """No error on any page of the owner's made-up book."""
    assert unvalid(site) == ""


@pytest.mark.long
@pytest.mark.parametrize("theme", ["chalkline", "showroom"])
@pytest.mark.parametrize("edition", ["owner", "trade", "sample"])
def test_the_validator_finds_nothing_anywhere(tmp_path: Path, theme: str, edition: str) -> None:
    """No error on any page of both themes, three editions of a made-up book and of the sample house."""
    for number, book in enumerate(both_books(edition)):
        assert unvalid(bind_site(replace(book, theme=theme), tmp_path / str(number))) == ""


@pytest.mark.browser
def test_the_first_page_is_light_and_nothing_on_it_moves(browser: Browser) -> None:
    """All that the cover of the sample house loads, photos aside, is under 300 kB; no line jumps while a page loads."""
    whole = sample_project_site(Edition.OWNER)
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(unquote(urlsplit(request.url).path)))
    page.goto((whole.folder / "index.html").as_uri())
    page.wait_for_load_state("networkidle")
    first = tuple(asked)
    chapter = next(name for name in sorted(whole.pages) if name.startswith("chapters/"))
    shifted = {"index.html": page.evaluate(SHIFTED)}
    for name in (*KINDS[1:], "plan.html", "upkeep.html", chapter):
        page.goto((whole.folder / name).as_uri())
        shifted[name] = page.evaluate(SHIFTED)
    context.close()
    files = {Path(one) for one in first if "/pictures/" not in one}
    assert len(files) > 3
    assert sum(file.stat().st_size for file in files) < FIRST_PAGE
    assert [name for name, sum_of in shifted.items() if sum_of >= 0.01] == []
