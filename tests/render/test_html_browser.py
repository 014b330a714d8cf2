from contextlib import closing
from dataclasses import replace

import pypdfium2
import pytest

from bookgen.model.book import Book, Edition
from tests.render.book_fixture import BOOK, trade_book
from tests.render.site_fixture import Site, bind_site, sample_project_site
from tests.sample_books import sample_project_book

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def sites(tmp_path_factory) -> tuple[Site, ...]:
    """The owner's and the trade's site."""
    return tuple(bind_site(book, tmp_path_factory.mktemp("site")) for book in (BOOK, trade_book()))


@pytest.fixture(scope="module")
def whole() -> Book:
    """The owner's book of the sample house."""
    return sample_project_book(Edition.OWNER)


@pytest.fixture(scope="module")
def house() -> Site:
    """The site of the sample house."""
    return sample_project_site(Edition.OWNER)


def test_pages_open_from_a_disk_without_a_word_on_the_console(browser, sites) -> None:
    """From file:// no page logs, fails or misses anything; its faces load; at 360 px nothing runs over the side."""
    context = browser.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    # A request that the next page cuts off is no failure.
    page.on("requestfailed", lambda request: request.failure == "net::ERR_ABORTED" or said.append(request.url))
    for site in sites:
        for name in site.pages:
            page.goto((site.folder / name).as_uri())
            assert page.evaluate("document.documentElement.scrollWidth") <= 360, name
            faces = page.evaluate("document.fonts.ready.then(() => [...document.fonts].map(face => face.status))")
            assert "loaded" in faces, name
            assert "error" not in faces, name
    context.close()
    assert said == []


def test_the_first_screen_of_a_telephone_shows_all_three_shutoffs(browser, sites) -> None:
    """At 390 by 844 px, without a script or a tap: which, which way, what to turn and where, above the fold."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, java_script_enabled=False)
    page = context.new_page()
    page.goto((sites[0].folder / "shutoffs.html").as_uri())
    for panel in (one for one in BOOK.shutoffs if one.first):
        for words in (panel.turn, panel.what, panel.place):
            shown = page.locator(".supplies li").get_by_text(words).first
            box = shown.bounding_box()
            assert shown.is_visible(), words
            assert box["y"] + box["height"] < 844, words
    context.close()


@pytest.mark.parametrize("theme", ["chalkline", "showroom"])
def test_no_word_stands_letter_under_letter(browser, theme, tmp_path) -> None:
    """However many tags a chapter has, its title keeps its line, on a telephone, a tablet and a wide screen."""
    water = BOOK.chapters[0]
    many = replace(water, reaches=tuple(replace(water.reaches[0], tag=f"{number:02}") for number in range(1, 10)))
    site = bind_site(replace(BOOK, theme=theme, chapters=(many, *BOOK.chapters[1:])), tmp_path)
    stacked = (
        "[...document.querySelectorAll('body *:not(svg *)')].filter(one => [...one.childNodes].some(node =>"
        " node.nodeType === 3 && node.data.trim().length > 4)).filter(one => { const box = one.getBoundingClientRect();"
        " return box.width > 1 && box.height > 4 * box.width && box.width < 60 }).map(one => one.outerHTML)"
    )
    page = browser.new_page()
    for name in site.pages:
        page.goto((site.folder / name).as_uri())
        for width in (390, 768, 1440):
            page.set_viewport_size({"width": width, "height": 900})
            assert page.evaluate(stacked) == [], (name, width)
    page.close()


def test_a_sketch_that_fits_a_telephone_is_whole_on_it(browser, house) -> None:
    """At 390 px a drawing of the common width takes the margins of the page; nobody is told to slide what is whole."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    seen = 0
    for name in ("plan.html", "work.html"):
        page.goto((house.folder / name).as_uri())
        for sheet in page.locator(".sheet-400:visible").all():
            seen += 1
            assert sheet.evaluate("sheet => sheet.scrollWidth <= sheet.clientWidth"), name
            assert not sheet.locator("xpath=following-sibling::figcaption").locator(".slide").is_visible(), name
    context.close()
    assert seen > 0


def test_a_folded_face_opens_where_it_is_asked_for_and_on_paper(browser, sites) -> None:
    """Without a script: faces are folded, an address opens its own alone, and print shows them all."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, java_script_enabled=False)
    page = context.new_page()
    address = (sites[0].folder / "drill.html").as_uri()
    page.goto(address)
    words = page.locator(".face-words")

    def shown() -> list[bool]:
        return [one.is_visible() for one in words.all()]

    assert words.count() > 1
    assert not any(shown())
    page.goto(f"{address}#face-1-1")
    assert shown() == [True] + [False] * (words.count() - 1)
    page.emulate_media(media="print")
    assert all(shown())
    context.close()


def test_the_shutoffs_print_on_one_sheet(browser, sites) -> None:
    """From the browser the first page holds all three with the way there; what to do else starts on the next."""
    context = browser.new_context()
    page = context.new_page()
    page.goto((sites[0].folder / "shutoffs.html").as_uri())
    with closing(pypdfium2.PdfDocument(page.pdf(prefer_css_page_size=True))) as printed:
        first, second = (printed[number].get_textpage().get_text_range() for number in (0, 1))
    context.close()
    for panel in (one for one in BOOK.shutoffs if one.first):
        assert panel.way[-1] in " ".join(first.split())
    assert BOOK.emergencies[0].title not in first
    assert BOOK.emergencies[0].title in second


def test_the_plan_shows_one_system_without_a_script(browser, whole, house) -> None:
    """With scripts off a choice hides every other layer; at first only the joists are hidden; a tag leads on."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((house.folder / "plan.html").as_uri())

    def seen() -> set[str]:
        groups = page.locator(".sketch .layer").all()
        return {group.get_attribute("class").split("layer-")[1] for group in groups if group.is_visible()}

    keys = {layer.key.replace(" ", "-") for layer in whole.layers[1:]}
    assert {"water", "waste", "gas", "power", "air", "data", "structure", "joists"} <= keys
    assert seen() == keys - {"joists"}
    for key in ("water", "gas", "joists"):
        page.locator(f"label[for=layer-{key}]").click()
        assert seen() == {key}
    page.locator("label[for=layer-all]").click()
    page.get_by_role("link", name="Tag 01: Main water valve").first.click()
    assert page.url.endswith("#tag-01")
    context.close()


def test_the_register_sorts_and_finds(browser, sites) -> None:
    """A click on a heading turns the order round and says so; a word leaves only the rows that hold it."""
    context = browser.new_context()
    page = context.new_page()
    page.goto((sites[0].folder / "register.html").as_uri())
    what = "[...document.querySelectorAll('tbody tr:not([hidden]) th')].map(cell => cell.firstChild.textContent)"
    page.get_by_role("button", name="What").first.click()
    assert page.evaluate(what) == ["Drain plug", "Main water valve", "Shelf backing", "Junction box"]
    page.get_by_role("button", name="What").first.click()
    assert page.evaluate(what)[0] == "Shelf backing"
    assert page.locator("th[aria-sort=descending]").count() == 1
    page.locator(".register").get_by_role("searchbox").fill("guest")
    assert page.evaluate(what) == ["Main water valve", "Junction box"]
    context.close()


def test_the_keyboard_reaches_the_text_first(browser, sites) -> None:
    """The first stop of the tab key is the link that skips to the text, and it can be seen."""
    context = browser.new_context()
    page = context.new_page()
    page.goto((sites[0].folder / "register.html").as_uri())
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    assert page.locator(".skip").bounding_box()["y"] >= 0
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "text"
    context.close()


def test_targets_are_large_enough_to_touch(browser, sites) -> None:
    """Every link that is not part of a line of text is at least 24 px high (WCAG 2.2, success criterion 2.5.8)."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    small = (
        "[...document.querySelectorAll('a, button, input')].filter(one => !one.closest('p, dd, td, li, .skip, h2')"
        " && one.getBoundingClientRect().height < 24).map(one => one.outerHTML)"
    )
    for name in sites[0].pages:
        page.goto((sites[0].folder / name).as_uri())
        assert page.evaluate(small) == [], name
    context.close()
