"""What the search of a Book knows in, the script file that holds it as data out, and where each answer stands.

`fetch` fails for a page that was opened by double click, so the data is a classic script that sets one global name.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from pathlib import Path

from bookgen.model.book import Book, SearchEntry
from bookgen.render import site_pages
from bookgen.render.pictures import PictureSet
from bookgen.render.site_pictures import PICTURES
from bookgen.render.words import element_id

FILE = "search-data.js"
NAME = "bookSearch"  # the global name that the script of the theme reads
# Harmless inside a script file; escaped all the same, so that the data may also stand within a page.
ESCAPES = {"<": "\\u003c", ">": "\\u003e", "&": "\\u0026", "\u2028": "\\u2028", "\u2029": "\\u2029"}
SAYS = ("find none", "find one", "find some", "find best", "tag")


def write_search(book: Book, pictures: Mapping[str, PictureSet], say: Callable[[str], str], assets: Path) -> None:
    """Write the data of the search into the folder *assets*; *say* gives the fixed words for a key."""
    text = search_script(book, pictures, say)
    (assets / FILE).write_text(text, encoding="utf-8", newline="\n")


def search_script(book: Book, pictures: Mapping[str, PictureSet], say: Callable[[str], str]) -> str:
    """Return the script: entries as lists, their phrasings and pictures by place in tables that hold each once."""
    phrases: dict[str, int] = {}
    shown: dict[str, int] = {}
    pages: dict[str, int] = {}
    entries = []
    for entry in book.search.entries:
        href, _, anchor = entry_href(entry, book).partition("#")
        picture = _picture(entry.digest, pictures)
        entries.append(
            [
                entry.title,
                entry.where,
                [phrases.setdefault(phrase, len(phrases)) for phrase in entry.phrases],
                entry.words,
                pages.setdefault(href, len(pages)),
                anchor,
                entry.tag,
                shown.setdefault(picture, len(shown)) if picture else -1,
                entry.weight,
            ]
        )
    data = {
        "language": book.language,
        "say": {key: say(key) for key in SAYS},
        "skip": book.search.skip,
        "alike": [" ".join(group) for group in book.search.alike],
        "phrases": list(phrases),
        "pages": list(pages),
        "pictures": list(shown),
        "entries": entries,
    }
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    for sign, escape in ESCAPES.items():
        text = text.replace(sign, escape)
    return f"window.{NAME}={text};\n"


def entry_href(entry: SearchEntry, book: Book) -> str:
    """Return where *entry* is told, from the book's folder; LookupError for a kind of place that no page shows."""
    chapters = {chapter.slug: chapter for chapter in book.chapters}
    part = element_id(entry.part)
    if entry.kind == "tag":
        return site_pages.tag_href(chapters[entry.chapter], entry.part)
    if entry.kind in {"chapter", "hidden"}:
        head = site_pages.chapter_href(chapters[entry.chapter])
        return f"{head}#{part}" if part else head
    if entry.kind == "shutoff":
        return f"shutoffs.html#shutoff-{_shutoff_place(entry, book)}"
    if entry.kind == "face":
        return f"drill.html#{site_pages.face_id(book.faces, int(entry.part) - 1)}"
    if entry.kind == "page":
        return _PAGES[entry.part]
    return _PLACES[entry.kind].format(part=part)


_PLACES: Mapping[str, str] = {
    "emergency": "shutoffs.html#emergency-{part}",
    "room": "drill.html#room-{part}",
    "upkeep": "upkeep.html#upkeep-{part}",
    "material": "materials.html#material-{part}",
    "paper": "papers.html#papers-{part}",
    "person": "papers.html#people",
    "hazards": "papers.html#hazards",
    "keys": "papers.html#keys",
}
_PAGES: Mapping[str, str] = {
    "shutoffs": "shutoffs.html",
    "register": "register.html",
    "plan": "plan.html",
    "drill": "drill.html",
    "upkeep": "upkeep.html",
    "materials": "materials.html",
    "papers": "papers.html",
    "later": "later-work.html",
}


def _shutoff_place(entry: SearchEntry, book: Book) -> int:
    """Return the place of a panel on its page, where the first of each supply stand before all others."""
    panel = book.shutoffs[int(entry.part) - 1]
    shown = sorted(book.shutoffs, key=lambda other: not other.first)
    return next(place for place, other in enumerate(shown, start=1) if other is panel)


def _picture(digest: str, pictures: Mapping[str, PictureSet]) -> str:
    """Return the narrowest copy of a picture, or "" where there is none."""
    if digest not in pictures:
        return ""
    small = min(
        (file for file in pictures[digest].files if file.use == "screen" and file.kind == "jpeg"),
        key=lambda file: file.width,
    )
    return f"{PICTURES}/{small.name}"
