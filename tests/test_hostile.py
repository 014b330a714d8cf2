"""Texts written to do harm, in every field of the records: each is shown as it stands, and none of them acts."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import icalendar
import pikepdf
import pypdfium2
import pytest
from bs4 import BeautifulSoup, Tag
from PIL import Image

from bookgen.bind import composed_book, write_site
from bookgen.cache import known_cache
from bookgen.check import check
from bookgen.model.book import Edition
from bookgen.model.records import Obstacle, Project
from bookgen.model.typeset import typeset
from bookgen.render.themes import ThemeError, load_theme
from tests.canary import CANARY, told_in, with_canaries
from tests.hostile import (
    CORPUS,
    KEPT,
    LETTERS,
    MARKUP,
    PROJECTS,
    REFUSED,
    SCRIPTS,
    hostile_project,
    loaded,
    planted,
    rotating,
    text_fields,
    written,
)
from tests.parsed import Parsed, parse
from tests.running import by_itself, within
from tests.tried import Tally

if TYPE_CHECKING:
    from playwright.sync_api import Browser

EDITIONS = ("owner", "trade", "sample")
HARMLESS = re.compile(r"(?:tel:|mailto:|data:image/svg\+xml|data:font)[^\s]*|[\w./#%-]*")
FORBIDDEN = ("iframe", "object", "embed", "base", "style", "applet", "frame", "math", "animate", "foreignobject")
ADDRESSES = ("href", "src", "srcset", "action", "formaction", "data", "poster", "xlink:href", "ping", "background")
ACCENTS_DRAWN = 19  # with this shift the stacked accents are the name of what is hidden, and so stand in sketches
ASCII = [text for text in CORPUS if text.isascii() and len(text) < 500]


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory, cache: Path) -> dict[str, Path]:
    """Return the hostile project bound in each edition."""
    place = tmp_path_factory.mktemp("hostile")
    return bind_hostile(place, cache, ACCENTS_DRAWN, EDITIONS)


def bind_hostile(place: Path, cache: Path, shift: int, editions: tuple[str, ...]) -> dict[str, Path]:
    """Bind the hostile project, whose folder has a hostile name too, in some editions."""
    project = hostile_project(place / "<img src=x onerror=window.ran=60> #panic()", rotating(shift, {}))
    for photo in (project / "photos").iterdir():
        photo.write_bytes(with_canaries(photo.read_bytes()))
    books = {}
    for edition in editions:
        run = within("bind", project, "--edition", edition, "--out", edition, cwd=place, cache=cache)
        assert run.returncode == 0, run.stdout + run.stderr
        books[edition] = place / edition
    return books


def _pages(book: Path) -> list[Path]:
    pages = sorted(book.rglob("*.html"))
    assert len(pages) > 5
    return pages


def test_every_text_field_is_planted_somewhere(tmp_path: Path) -> None:
    """The two projects together leave out no text field of any record but those that hold no words."""
    planted_at: dict[str, set[str]] = {}
    plant = rotating(0, planted_at)
    hostile_project(tmp_path / "hostile", plant)
    for file in sorted((PROJECTS / "tamarack").rglob("*.yaml")):
        planted(Project if file.name == "project.yaml" else Obstacle, loaded(file), plant)
    rail = {"what": "Rail", "side": "east", "top": "36 in above slab", "wide": "2 in"}
    planted(Obstacle, {"treatment": {"post wrap": {"lands": [rail]}}}, plant)
    shelf = {"what": "Shelf", "wall": "P1", "along": "10 in to 40 in", "middle": "60 in above slab"}
    local = {"limit": "egress-sill", "is": "at most 48 in", "ordinance": "Ordinance"}
    planted(Project, {"backing": [shelf], "codes": {"local": [local]}}, plant)
    assert text_fields(Project, Obstacle) - set(planted_at) == KEPT
    assert len(planted_at) > 60


def test_the_hostile_project_has_every_sort_of_field(tmp_path: Path) -> None:
    """All but what needs other treatments and pictures than a drain's; those the sample house has."""
    planted_at: dict[str, set[str]] = {}
    hostile_project(tmp_path / "hostile", rotating(0, planted_at))
    assert len(planted_at) > 60
    assert set().union(*planted_at.values()) == set(CORPUS)


@pytest.mark.parametrize("edition", EDITIONS)
def test_no_private_word_of_a_photo_is_in_any_file(hostile: dict[str, Path], edition: str, tally: Tally) -> None:
    """What a phone writes beside the picture is in no page, copy, print book, tag sheet or embedded record."""
    told = told_in(hostile[edition])
    files = sum(1 for path in hostile[edition].rglob("*") if path.is_file())
    tally(f"files searched for the nine places where a phone writes beside a picture, {edition} edition", files, told)
    assert told == []
    assert len(list((hostile[edition] / "pictures").iterdir())) > 3


def test_the_private_words_would_be_found(hostile: dict[str, Path], tmp_path: Path) -> None:
    """The photos do hold them, each block of its own; a picture put into a PDF as it is gives them away."""
    photos = sorted(hostile["owner"].parent.glob("*/photos/*.jpg"))
    assert {photo.read_bytes().count(CANARY) for photo in photos} == {9}  # the comment is in the second picture too
    with Image.open(photos[0]) as image:
        assert image.getexif().get_ifd(0x8825)[0x001B].startswith(CANARY)
        assert image.getexif().get_ifd(0x8769)[0x927C].startswith(CANARY)
        assert {"icc_profile", "xmp", "photoshop", "comment"} <= set(image.info)
    with pikepdf.new() as pdf:
        pdf.Root.Picture = pdf.make_stream(photos[0].read_bytes())
        pdf.save(tmp_path / "leaky.pdf")
    assert told_in(tmp_path)


@pytest.mark.parametrize("edition", EDITIONS)
def test_no_page_holds_anything_but_text(hostile: dict[str, Path], parsed: Parsed, edition: str) -> None:
    """No element, handler or address that a text brought along; scripts are files of the book's own."""
    for path in _pages(hostile[edition]):
        harm = list(_harm(parsed(path)))
        assert harm == [], path.name


def _harm(page: BeautifulSoup) -> Iterator[str]:
    for element in page.find_all(True):
        assert isinstance(element, Tag)
        if element.name in FORBIDDEN:
            yield f"<{element.name}>"
        if element.name == "script" and (element.get_text() or not str(element.get("src", "")).endswith(".js")):
            yield f"{element}"
        for name, value in element.attrs.items():
            text = " ".join(value) if isinstance(value, list) else str(value)
            if name.startswith("on") or name in {"style", "srcdoc"}:
                yield f"{name}={text}"
            if name in ADDRESSES and not all(HARMLESS.fullmatch(part) for part in re.split(r"[\s,]+", text)):
                yield f"{name}={text}"


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_page_forbids_what_is_not_its_own(hostile: dict[str, Path], parsed: Parsed, edition: str) -> None:
    """The policy stands in front of everything that it has to stop, and lets nothing inline or foreign in."""
    for path in _pages(hostile[edition]):
        page = parsed(path)
        metas = page.find_all("meta", attrs={"http-equiv": True})
        assert len(metas) == 1
        assert str(metas[0]["http-equiv"]) == "Content-Security-Policy"
        policy = dict(part.split(maxsplit=1) for part in str(metas[0]["content"]).split("; "))
        assert (policy["default-src"], policy["script-src"], policy["base-uri"]) == ("'none'", "'self'", "'none'")
        assert "unsafe" not in str(policy)
        text = path.read_text("utf-8")
        assert text.index("Content-Security-Policy") < min(text.index("<title"), text.index("<link"))


def _squeezed(text: str) -> str:
    return "".join(text.split())


def test_every_text_stands_on_a_page_as_it_was_written(hostile: dict[str, Path], parsed: Parsed) -> None:
    """Each string of the corpus can be read, sign for sign but for sizes, which are typeset, in the owner's site."""
    pages = [parsed(path) for path in _pages(hostile["owner"])]
    read = _squeezed(" ".join(page.get_text() for page in pages))
    assert [text for text in CORPUS if _squeezed(typeset(text)) not in read] == []


def test_every_text_stands_in_print_as_it_was_written(hostile: dict[str, Path], tally: Tally) -> None:
    """Each plain string can be read in the print book: nothing was taken for the print engine's markup."""
    printed = _printed(hostile["owner"] / "book.pdf")
    lost = [text for text in ASCII if _unbroken(typeset(text)) not in printed]
    tally("scripts and markup in every text field, read back from the print book", len(ASCII), lost)
    assert lost == []
    # Too long for one page, and between two pages stand a foot and a head.
    assert printed.count("manywords") >= 180
    assert printed.count("long") >= 400
    for book in hostile.values():
        for path in book.glob("*.pdf"):
            assert "printed" not in _printed(path).replace('#panic("printed")', "")


def _printed(path: Path) -> str:
    """Return the text of a PDF without blanks and without hyphens, which a line's end may add or take away."""
    with pypdfium2.PdfDocument(path) as pdf:
        return _unbroken(" ".join(page.get_textpage().get_text_bounded() for page in pdf))


def _unbroken(text: str) -> str:
    return re.sub("[-\u00ad\u2010\u200b\ufffe\x02]", "", _squeezed(text))


def test_the_calendar_holds_no_entry_that_a_text_brought_along(hostile: dict[str, Path]) -> None:
    """Upkeep only: no alarm, nothing that is sent."""
    calendar = icalendar.Calendar.from_ical((hostile["owner"] / "upkeep.ics").read_bytes())
    assert {component.name for component in calendar.walk()} == {"VCALENDAR", "VEVENT"}
    assert len(calendar.walk("VEVENT")) == 2


def test_no_cell_of_a_takeoff_is_a_formula(tmp_path: Path) -> None:
    """A spreadsheet would work out what begins with = + - @."""
    project = hostile_project(tmp_path / "hostile", rotating(5, {}))
    run = within("takeoff", project, "--out", "list.csv", cwd=tmp_path, cache=tmp_path)
    assert run.returncode == 0, run.stdout + run.stderr
    cells = re.split(r'[,\n]"?', (tmp_path / "list.csv").read_text("utf-8"))
    assert [cell for cell in cells if cell.startswith(("=", "+", "-", "@"))] == []


@pytest.mark.browser
@pytest.mark.parametrize("edition", EDITIONS)
def test_no_script_of_a_text_runs(hostile: dict[str, Path], browser: Browser, edition: str, tally: Tally) -> None:
    """From a disk, with every page looked at, hovered, searched and sorted: no dialog, no message, no canary."""
    ran = ran_in(browser, hostile[edition])
    tally(f"scripts and markup in every text field, {edition} edition, in a browser", len(CORPUS), ran)
    assert ran == []


def ran_in(browser: Browser, book: Path) -> list[str]:
    """Return what any script but the book's own did on any page."""
    context = browser.new_context()
    page = context.new_page()
    did: list[str] = []
    page.on("dialog", lambda dialog: (did.append(f"dialog {dialog.message}"), dialog.dismiss()))
    page.on("console", lambda message: did.append(f"console {message.text}"))
    page.on("pageerror", lambda error: did.append(f"error {error}"))
    page.on("request", lambda asked: asked.url.startswith(("file:", "data:")) or did.append(f"request {asked.url}"))
    for path in _pages(book):
        page.goto(path.resolve().as_uri())
        for field in page.locator("input[type=search]:visible").all():
            for word in ("script", "onerror", "<", "long"):
                field.fill(word)
                page.wait_for_timeout(150)
            field.fill("")
        page.evaluate(
            """() => {
                for (const button of document.querySelectorAll("main button, main summary")) button.click();
                for (const element of document.querySelectorAll("main *"))
                    for (const kind of ["mouseover", "focus", "toggle", "load", "error", "begin"])
                        element.dispatchEvent(new Event(kind));
            }"""
        )
        page.wait_for_timeout(50)
        ran = page.evaluate("window.ran")
        if ran is not None or page.url.split("#")[0] != path.resolve().as_uri():
            did.append(f"{path.name}: ran {ran}, at {page.url}")
    context.close()
    return did


def test_what_cannot_be_seen_is_refused_wherever_it_stands(tmp_path: Path) -> None:
    """Controls, blanks of no width and signs that turn the reading direction round: each field that has one is told."""
    for sign in REFUSED:
        count = 0

        def plant(where: str, text: str, sign: str = sign) -> str:
            nonlocal count
            count += 1
            return f"{text}{sign}" if len(where) % 7 == count % 7 else text

        folder = tmp_path / f"{ord(sign[1]):x}"
        checked = check(hostile_project(folder, plant))
        assert checked.solved is None
        assert {problem.code for problem in checked.problems} <= {"control-character", "bidi-control"}


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_text_in_two_languages_is_only_a_text(tmp_path: Path, language: str) -> None:
    """Where a field says `{en: …, es: …}`, either may hold anything; the book shows its own as it stands."""
    plant = rotating(3, {})

    def in_both(where: str, text: str) -> dict[str, str]:
        harm = plant(where, text)
        return {"en": harm, "es": harm}

    project = hostile_project(tmp_path / "house", in_both)  # type: ignore[arg-type]
    record = loaded(project / "project.yaml") | {"language": language}
    written(record, project / "project.yaml")
    composed, checked = composed_book(project, Edition.OWNER)
    assert composed is not None, checked.problems
    write_site(composed, tmp_path / "site", known_cache(), lambda *_: None)
    for path in _pages(tmp_path / "site"):
        assert list(_harm(parse(path))) == [], path.name


def _kept_places(data: object, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Yield the path of every text."""
    if isinstance(data, str):
        yield path
    elif isinstance(data, dict):
        for key, inner in data.items():
            yield from _kept_places(inner, (*path, key))
    elif isinstance(data, list):
        for index, inner in enumerate(data):
            yield from _kept_places(inner, (*path, index))


def _at(data: object, path: tuple[str | int, ...], text: str) -> None:
    for step in path[:-1]:
        data = data[step]  # type: ignore[index]
    data[path[-1]] = text  # type: ignore[index]


def other_fields(tmp_path: Path, texts: list[str]) -> int:
    """Put a text into every field that is no text field, one at a time; return how many it were."""
    folder, tried = hostile_project(tmp_path / "tame", lambda _, text: text), 0
    for file in sorted(folder.rglob("*.yaml")):
        record = Project if file.name == "project.yaml" else Obstacle
        good = loaded(file)
        words: set[int] = set()
        planted(record, good, lambda _where, text, words=words: words.add(id(text)) or text)  # type: ignore[misc,func-returns-value]
        for path in _kept_places(good):
            value = good
            for step in path:
                value = value[step]
            if id(value) in words:
                continue
            data = loaded(file)
            _at(data, path, texts[tried % len(texts)])
            written(data, file)
            checked = check(folder)
            assert checked.problems or checked.solved, path
            tried += 1
        written(good, file)
    return tried


def test_every_other_field_refuses_words(tmp_path: Path, tally: Tally) -> None:
    """A size, a key, a day or a file's name that is none gives a Problem, whatever stands there."""
    tried = other_fields(tmp_path, [*SCRIPTS[::9], *MARKUP[::5], *LETTERS[::3]])
    tally("scripts and markup in fields that hold no text", tried, [])
    assert tried > 150


def test_no_theme_is_found_outside_the_folder_of_themes() -> None:
    """A theme is one of those that there are, not a path."""
    for text in (*CORPUS, "..", ".", "", "chalkline/../chalkline", "/", "CHALKLINE"):
        with pytest.raises(ThemeError):
            load_theme(text)


@pytest.mark.long
@pytest.mark.browser
def test_every_text_in_every_field(tmp_path: Path, cache: Path, browser: Browser) -> None:
    """The corpus moves one field on, until each of its strings has stood in each field; pages, print and browser."""
    for shift in range(len(CORPUS)):
        place = tmp_path / str(shift)
        place.mkdir()
        books = bind_hostile(place, cache, shift, ("owner",))
        for path in _pages(books["owner"]):
            assert list(_harm(parse(path))) == [], (shift, path.name)
        printed = _printed(books["owner"] / "book.pdf")
        assert [text for text in ASCII if _unbroken(typeset(text)) not in printed] == []
        assert ran_in(browser, books["owner"]) == []
        shutil.rmtree(place)


@pytest.mark.long
@pytest.mark.browser
@pytest.mark.parametrize("shift", range(0, len(CORPUS), 17))
def test_the_sample_house_with_harm_in_every_field(tmp_path: Path, cache: Path, browser: Browser, shift: int) -> None:
    """All treatments, all sorts of pictures: nothing breaks and nothing runs."""
    project, plant = tmp_path / "house", rotating(shift, {})
    shutil.copytree(PROJECTS / "tamarack", project)
    for file in sorted(project.rglob("*.yaml")):
        written(planted(Project if file.name == "project.yaml" else Obstacle, loaded(file), plant), file)
    for edition in EDITIONS:
        run = by_itself("bind", project, "--edition", edition, "--out", edition, cwd=tmp_path, cache=cache)
        assert run.returncode == 0, run.stdout + run.stderr
        for path in _pages(tmp_path / edition):
            assert list(_harm(parse(path))) == [], path.name
        assert ran_in(browser, tmp_path / edition) == []


@pytest.mark.long
def test_every_text_in_every_other_field(tmp_path: Path) -> None:
    """The whole corpus, one string after the other, in the fields that are no text fields."""
    for start in range(0, len(CORPUS), 3):
        assert other_fields(tmp_path / str(start), [*CORPUS[start:], *CORPUS[:start]]) > 150
