"""Pictures of every page of a bound book, many to a sheet, to be looked at after any change to how a book looks.

    python -m tests.contact_sheet BOOK OUT

BOOK is a folder that `bookgen bind` made, OUT gets `print-01.jpg`, `390-01.jpg`, `768-01.jpg`, `1440-01.jpg`, each
but print in `-dark` too, and so on. Bind the same project as a sample to see its other theme.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing
from itertools import islice
from pathlib import Path

import pypdfium2
from PIL import Image
from playwright.sync_api import sync_playwright

from tests.conftest import chromium_path

SIZE = (300, 420)  # pixels of one page on a sheet
ACROSS, DOWN = 6, 3
SCREENS = tuple((width, scheme) for width in (390, 768, 1440) for scheme in ("light", "dark"))
LONGEST = 8  # screens of a page that are shown


def printed(book: Path) -> Iterator[Image.Image]:
    """Yield every page of the print book."""
    with closing(pypdfium2.PdfDocument(book / "book.pdf")) as document:
        for page in document:
            yield page.render(scale=SIZE[1] / page.get_height()).to_pil().convert("RGB")


def shown(book: Path, width: int, scheme: str) -> Iterator[Image.Image]:
    """Yield every page of the site at a width in CSS pixels, in pieces from its top."""
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=chromium_path(), args=["--no-sandbox", "--disable-gpu"])
        context = browser.new_context(viewport={"width": width, "height": 900}, color_scheme=scheme)
        page = context.new_page()
        for path in sorted(book.rglob("*.html")):
            page.goto(path.as_uri())
            page.evaluate("document.querySelectorAll('img').forEach(image => image.loading = 'eager')")
            page.wait_for_load_state("networkidle")
            page.evaluate("Promise.all([...document.images].map(image => image.decode().catch(() => null)))")
            high = min(LONGEST * 900, page.evaluate("document.documentElement.scrollHeight"))
            file = Path(book.parent) / ".contact.png"
            page.screenshot(path=file, full_page=True, clip={"x": 0, "y": 0, "width": width, "height": high})
            with Image.open(file) as image:
                yield from strips(image.convert("RGB"))
            file.unlink()
        browser.close()


def strips(page: Image.Image) -> Iterator[Image.Image]:
    """Yield a long page in pieces of the shape of a place, one under the other."""
    high = page.width * SIZE[1] // SIZE[0]
    for top in range(0, page.height, high):
        yield page.crop((0, top, page.width, min(page.height, top + high)))


def sheets(pages: Iterable[Image.Image]) -> Iterator[Image.Image]:
    """Yield *pages* in rows, each fitted into its place."""
    rest = iter(pages)
    while batch := tuple(islice(rest, ACROSS * DOWN)):
        sheet = Image.new("RGB", (ACROSS * (SIZE[0] + 8), DOWN * (SIZE[1] + 8)), "#777777")
        for place, page in enumerate(batch):
            small = page.resize((SIZE[0], max(1, SIZE[0] * page.height // page.width)))
            sheet.paste(small, (place % ACROSS * (SIZE[0] + 8) + 4, place // ACROSS * (SIZE[1] + 8) + 4))
        yield sheet


def write(book: Path, out: Path) -> None:
    """Write the sheets of one book."""
    out.mkdir(parents=True, exist_ok=True)
    looks = {"print": printed(book)}
    for width, scheme in SCREENS:
        looks[f"{width}{'-dark' if scheme == 'dark' else ''}"] = shown(book, width, scheme)
    for name, pages in looks.items():
        for number, sheet in enumerate(sheets(pages), 1):
            sheet.save(out / f"{name}-{number:02d}.jpg", quality=85)


def main(arguments: Sequence[str]) -> None:
    """Take the two folders from the command line."""
    book, out = (Path(one).resolve() for one in arguments)
    write(book, out)


if __name__ == "__main__":
    main(sys.argv[1:])
