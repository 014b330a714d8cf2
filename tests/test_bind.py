"""The whole way through on the sample projects: a bound book, or the old one untouched."""

from __future__ import annotations

import json
import os
import re
import shutil
from pathlib import Path

import pikepdf
import pypdfium2
import pytest

from bookgen.model.typeset import typeset
from tests.parsed import Parsed
from tests.running import by_itself, within

PROJECTS = Path(__file__).parents[1] / "projects"
HELD = ("index.html", "book.pdf", "upkeep.ics", "tags.pdf")


@pytest.fixture(scope="session")
def bound(tmp_path_factory: pytest.TempPathFactory, cache: Path) -> dict[str, Path]:
    """Return the sample house bound in each edition."""
    place = tmp_path_factory.mktemp("bound")
    books = {}
    for edition in ("owner", "trade", "sample"):
        run = by_itself("bind", PROJECTS / "tamarack", "--edition", edition, "--out", edition, cwd=place, cache=cache)
        assert run.returncode == 0, run.stderr
        assert run.stdout.rstrip().splitlines()[-1].startswith("The book is at ")
        books[edition] = place / edition
    return books


def _pages(book: Path) -> list[Path]:
    return sorted(book.rglob("*.html"))


def test_a_book_holds_what_its_edition_promises(bound: dict[str, Path]) -> None:
    """Owner and trade editions hold site, print book, calendar and tags; a sample has neither calendar nor tags."""
    for edition in ("owner", "trade"):
        assert all((bound[edition] / name).stat().st_size > 0 for name in HELD)
    assert not (bound["sample"] / "upkeep.ics").exists()
    assert not (bound["sample"] / "tags.pdf").exists()
    assert (bound["sample"] / "book.pdf").stat().st_size > 0


def test_every_obstacle_of_the_site_notes_has_its_chapter(bound: dict[str, Path], parsed: Parsed) -> None:
    """The twelve obstacles stand in ten chapters, since stack and drain, and beam and posts, are gathered."""
    chapters = [path for path in _pages(bound["owner"]) if path.parent.name == "chapters"]
    titles = " ".join(parsed(path).h1.get_text() for path in chapters).lower()
    assert len(chapters) == 10
    for word in ("panel", "drain", "duct", "beam", "post", "mechanical", "pit", "joists", "stair", "water", "radon"):
        assert word in titles


@pytest.mark.parametrize("edition", ["owner", "trade", "sample"])
def test_every_link_resolves_inside_the_folder(bound: dict[str, Path], parsed: Parsed, edition: str) -> None:
    """No address outside the folder, no link to a page or an anchor that is not there."""
    book = bound[edition].resolve()
    anchors = {page: {tag["id"] for tag in parsed(page).find_all(id=True)} for page in map(Path.resolve, _pages(book))}
    for page in anchors:
        for tag in parsed(page).find_all(["a", "img", "source", "script", "link"]):
            for target in _targets(tag):
                assert not re.match(r"(?i)(https?:)?//", target), f"{page.name} leads outside: {target}"
                if target.startswith(("tel:", "mailto:", "data:")):
                    continue
                name, _, anchor = target.partition("#")
                reached = (page.parent / name).resolve() if name else page
                assert reached.is_file(), f"{page.name}: {target} is not there"
                assert reached.is_relative_to(book)
                if anchor:
                    assert anchor in anchors[reached], f"{page.name}: {target} has no such anchor"


def _targets(tag: object) -> list[str]:
    found = [tag.get("href"), tag.get("src")]  # type: ignore[attr-defined]
    found += [part.split()[0] for part in (tag.get("srcset") or "").split(",") if part.strip()]  # type: ignore[attr-defined]
    return [target for target in found if target]


@pytest.mark.browser
def test_pages_open_from_a_disk_with_an_empty_console(bound: dict[str, Path], browser: object) -> None:
    """Every page of the owner edition, from file://: no message, no request that fails, nothing asked of a network."""
    page = browser.new_page()  # type: ignore[attr-defined]
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("requestfailed", lambda request: said.append(request.url))
    page.on(
        "request", lambda request: said.append(request.url) if not request.url.startswith(("file:", "data:")) else None
    )
    for path in _pages(bound["owner"]):
        page.goto(path.resolve().as_uri())
        page.evaluate("document.querySelectorAll('img').forEach(image => image.loading = 'eager')")
        page.wait_for_load_state("networkidle")
        broken = page.evaluate("[...document.images].filter(i => i.complete && !i.naturalWidth).map(i => i.src)")
        assert (said, broken) == ([], []), path.name
    page.close()


def test_the_sketches_are_the_same_in_site_and_print(bound: dict[str, Path], parsed: Parsed) -> None:
    """Every sketch of a chapter stands in its page, with a title that the print book has as its alternative text.

    The trade edition is asked, since it alone prints what the site folds away.
    """
    drawn = [svg for page in _pages(bound["trade"]) for svg in parsed(page).find_all("svg")]
    titles = {svg.title.get_text() for svg in drawn if svg.title}
    with pikepdf.open(bound["trade"] / "book.pdf") as pdf:
        alternatives = [
            str(item.Alt) for item in pdf.objects if isinstance(item, pikepdf.Dictionary) and "/Alt" in item
        ]
    assert len(titles) > 12
    for title in titles:
        assert any(text.startswith(typeset(title)) for text in alternatives), title


PRIVATE = (
    "Verhoeven", "Achterberg", "Tamarack Lane", "Pell Harbor", "555-0147", "code 4417", "PH-26-0311", "PH-26-0318",
    "PH-26-0319", "PH-26-0320", "Key box",
)  # fmt: skip


def _bytes_of(book: Path) -> bytes:
    """Return every byte of a book, of its PDFs also every stream decompressed and the words that a reader sees."""
    parts = [path.read_bytes() for path in sorted(book.rglob("*")) if path.is_file()]
    for path in sorted(book.rglob("*.pdf")):
        with pikepdf.open(path) as pdf:
            parts += [
                item.read_bytes() for item in pdf.objects if isinstance(item, pikepdf.Stream) and not _image(item)
            ]
        words = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(path)]
        parts.append(" ".join(" ".join(words).split()).encode())
    return b"\n".join(parts)


def _image(item: pikepdf.Stream) -> bool:
    return item.get("/Subtype") == "/Image"


def test_nothing_private_reaches_a_sample(bound: dict[str, Path]) -> None:
    """What the site notes mark as private is in no byte of the sample edition; the owner edition does hold it."""
    sample, owner = _bytes_of(bound["sample"]), _bytes_of(bound["owner"])
    for word in PRIVATE:
        assert word.encode() not in sample, word
    assert b"Verhoeven" in owner
    assert owner.count(b"code 4417") > 1, "in the site and in the print book"


def test_a_trade_edition_knows_no_phone_of_the_owner_and_no_codes(bound: dict[str, Path]) -> None:
    """Trades need the address, not the owner's phone or the key box."""
    trade = _bytes_of(bound["trade"])
    for word in ("555-0147", "code 4417", "Key box"):
        assert word.encode() not in trade


def test_no_original_photo_and_no_metadata_is_in_a_book(bound: dict[str, Path]) -> None:
    """No file of the book has the bytes of an original, and none holds EXIF, XMP or a comment."""
    originals = {path.read_bytes() for path in (PROJECTS / "tamarack" / "photos").iterdir()}
    pictures = [path for path in bound["owner"].rglob("*") if path.suffix in {".jpg", ".webp"}]
    assert len(pictures) > 29
    for path in pictures:
        data = path.read_bytes()
        assert data not in originals
        assert not any(mark in data for mark in (b"Exif\x00", b"http://ns.adobe.com", b"ICC_PROFILE", b"stand-in"))


CLOCKS = re.compile(
    r"\b(?:time\.(?:time|time_ns|localtime|gmtime|monotonic|perf_counter|strftime)|(?:datetime|date)\.(?:now|utcnow|today))\("
)


def test_no_book_depends_on_a_clock() -> None:
    """The program reads no clock, so there is no day of building that SOURCE_DATE_EPOCH could stand in for."""
    modules = sorted((PROJECTS.parent / "bookgen").rglob("*.py"))
    templates = [path for path in (PROJECTS.parent / "themes").rglob("*") if path.suffix in {".typ", ".html", ".js"}]
    assert len(modules) > 100
    assert [path.name for path in modules if CLOCKS.search(path.read_text("utf-8"))] == []
    assert [
        path.name for path in templates if re.search(r"datetime\.today|Date\(|now\(", path.read_text("utf-8"))
    ] == []


@pytest.mark.parametrize(
    "sample", ["smallest", *(pytest.param(name, marks=pytest.mark.long) for name in ("heron", "tamarack"))]
)
def test_the_same_records_give_the_same_bytes(tmp_path: Path, cache: Path, sample: str) -> None:
    """Twice, under another locale, time zone, hash seed and build day, with other file times and a cold cache."""
    for name, variables in (
        ("one", {"TZ": "America/Chicago", "PYTHONHASHSEED": "1", "LC_ALL": "C"}),
        ("two", {"TZ": "Asia/Tokyo", "PYTHONHASHSEED": "2", "LC_ALL": "C.UTF-8", "SOURCE_DATE_EPOCH": "981173106"}),
    ):
        project = tmp_path / name / sample
        shutil.copytree(PROJECTS / sample, project)
        kept = cache
        if name == "two":
            kept = tmp_path / "cold"
            for path in project.rglob("*"):
                os.utime(path, (981173106, 981173106))
        run = by_itself("bind", project, "--out", f"{name}/book", cwd=tmp_path, cache=kept, **variables)
        assert run.returncode == 0, run.stderr
    one, two = tmp_path / "one" / "book", tmp_path / "two" / "book"
    names = sorted(path.relative_to(one) for path in one.rglob("*") if path.is_file())
    assert names == sorted(path.relative_to(two) for path in two.rglob("*") if path.is_file())
    assert [name for name in names if (one / name).read_bytes() != (two / name).read_bytes()] == []


TWELVE = """\
obstacle: Drain
knd: drain
room: famly
sentence: Some words.
known: {how: measured}
run: {along: north wal, from: 40, to: 20 in}
inside:
  - what: Main drain
    pipe: 3 in PCV drain
    system: waste
    at: {along: 40 in to 192 in, off the block: seven, above slab: 82 in}
    known: {how: measured, on: 3/10/26}
    share: true
treatment:
  wall soffit: {framing bottom: 77 in}
photos:
  before:
    - {file: ../secret.jpg, shows: A corner}
"""
TWELVE_LINES = [1, 2, 3, 5, 6, 6, 9, 11, 12, 13, 15, 18]


def test_twelve_mistakes_give_twelve_problems_and_leave_the_book_alone(tmp_path: Path, cache: Path) -> None:
    """All at once, each with its line and a repair, exit code 1, the old book untouched."""
    project = tmp_path / "mine"
    shutil.copytree(PROJECTS / "smallest", project)
    assert within("bind", "mine", "--out", "book", cwd=tmp_path, cache=cache).returncode == 0
    before = {path: path.read_bytes() for path in (tmp_path / "book").rglob("*") if path.is_file()}
    (project / "obstacles" / "01-drain.yaml").write_text(TWELVE, encoding="utf-8")
    run = within("bind", "mine", "--out", "book", cwd=tmp_path, cache=cache)
    assert run.returncode == 1
    lines = sorted(int(match) for match in re.findall(r"01-drain\.yaml:(\d+):\d+: ", run.stdout))
    assert lines == TWELVE_LINES
    assert {path: path.read_bytes() for path in (tmp_path / "book").rglob("*") if path.is_file()} == before


def test_check_speaks_to_programs(tmp_path: Path, cache: Path) -> None:
    """`--json` gives the same problems and findings as data."""
    project = tmp_path / "mine"
    shutil.copytree(PROJECTS / "smallest", project)
    good = within("check", "mine", "--json", cwd=tmp_path, cache=cache)
    assert good.returncode == 0
    assert {"problems", "findings", "choices", "lines", "notes"} == set(json.loads(good.stdout))
    (project / "obstacles" / "01-drain.yaml").write_text(TWELVE, encoding="utf-8")
    bad = within("check", "mine", "--json", cwd=tmp_path, cache=cache)
    assert bad.returncode == 1
    problems = json.loads(bad.stdout)["problems"]
    assert all(problem["code"] and problem["place"]["line"] and problem["repair"] for problem in problems)


def test_wrong_use_and_a_machine_in_the_way_have_codes_of_their_own(tmp_path: Path, cache: Path) -> None:
    """2 for a folder that is not there or a target of somebody else; 3 where the disk refuses."""
    assert within("bind", "nowhere", cwd=tmp_path, cache=cache).returncode == 2
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "mine.txt").write_text("x", encoding="utf-8")
    refused = within("bind", PROJECTS / "smallest", "--out", "full", cwd=tmp_path, cache=cache)
    assert refused.returncode == 2
    assert "name another folder" in refused.stderr
    (tmp_path / "file").write_text("x", encoding="utf-8")
    blocked = within("bind", PROJECTS / "smallest", "--out", "file/book", cwd=tmp_path, cache=cache)
    assert blocked.returncode == 3
    assert "the machine is in the way" in blocked.stderr


def test_start_quick_lays_out_a_project_that_binds(tmp_path: Path, cache: Path) -> None:
    """The first ten minutes of a newcomer."""
    assert within("start", "mine", "--quick", cwd=tmp_path, cache=cache).returncode == 0
    assert within("bind", "mine", cwd=tmp_path, cache=cache).returncode == 0
    assert (tmp_path / "site_out" / "mine" / "owner" / "book.pdf").is_file()
    again = within("start", "mine", "--quick", cwd=tmp_path, cache=cache)
    assert again.returncode == 2


def test_takeoff_counts_as_the_model_does(tmp_path: Path, cache: Path) -> None:
    """The printed list names what the .csv file holds, and the workbook can be written; nothing else can."""
    printed = within("takeoff", PROJECTS / "smallest", cwd=tmp_path, cache=cache)
    assert printed.returncode == 0
    assert within("takeoff", PROJECTS / "smallest", "--out", "list.csv", cwd=tmp_path, cache=cache).returncode == 0
    rows = [line.split(",") for line in (tmp_path / "list.csv").read_text("utf-8").splitlines()[1:]]
    assert {"2x2", "1/2 in gypsum board"} <= {row[3] for row in rows if row[0] == "cut"}
    assert all(row[2] in printed.stdout for row in rows if row[0] == "cut")
    assert max(map(len, printed.stdout.splitlines())) <= 80
    assert within("takeoff", PROJECTS / "smallest", "--out", "list.xlsx", cwd=tmp_path, cache=cache).returncode == 0
    assert (tmp_path / "list.xlsx").is_file()
    assert within("takeoff", PROJECTS / "smallest", "--out", "x.doc", cwd=tmp_path, cache=cache).returncode == 2
