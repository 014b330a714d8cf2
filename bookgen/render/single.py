"""The site of a book in, all of it in one HTML file out, to send by mail: pages, pictures, drawings, type, script."""

from __future__ import annotations

import base64
import hashlib
import posixpath
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from bs4 import BeautifulSoup, Tag

from bookgen.render.site_assets import ASSETS
from bookgen.render.site_pages import Page

PARSER = "html5lib"  # it knows the drawings' letters in upper case, as browsers do
KINDS = {".jpg": "image/jpeg", ".webp": "image/webp", ".svg": "image/svg+xml"}
WIDE = 800  # pixels; pictures a reader looks into
REFERRING = ("for", "aria-labelledby", "aria-describedby", "aria-controls", "aria-owns", "list", "headers")
LEFT_OUT = ".seek, .skip, .contents-extra, template"  # they need what lies beside a page
_IN_STYLE = re.compile(r'url\("?([^")#]+)"?\)')
_TO_ELEMENT = re.compile(r"url\(#([^)]+)\)")


@dataclass(frozen=True, slots=True)
class _Leaf:
    """A page of the site on its way into the file: its parsed text, and the new names of its elements."""

    page: Page
    soup: BeautifulSoup
    names: Mapping[str, str]

    @property
    def anchor(self) -> str:
        """Return the name of its section."""
        return self.page.href.removesuffix(".html").replace("/", "-")


def write_single(pages: Sequence[Page], site: Path, target: Path) -> None:
    """Write *target* from the pages that lie in *site*; links between pages become links within the file.

    Nothing in it leads out of it, but telephone and web addresses that the book gives; what can't be in one page (the
    print book, tags, calendar, search) is left out with the links to it.
    """
    soups = [BeautifulSoup((site / page.href).read_text(encoding="utf-8"), PARSER) for page in pages]
    for soup in soups:
        for extra in soup.select(LEFT_OUT):
            extra.decompose()
    taken = Counter(str(tag["id"]) for soup in soups for tag in _text(soup).select("[id]"))
    leaves = [_Leaf(page, soup, _names(page, soup, taken)) for page, soup in zip(pages, soups, strict=True)]
    by_href = {leaf.page.href: leaf for leaf in leaves}
    for leaf in leaves:
        _rename(leaf)
        _relink(leaf, by_href)
        _take_pictures_in(leaf, site)
    target.write_text(_whole(leaves, site), encoding="utf-8", newline="\n")


def _text(soup: BeautifulSoup) -> Tag:
    if soup.main is None:
        raise ValueError("a page of the site has no main part")
    return soup.main


def _names(page: Page, soup: BeautifulSoup, taken: Counter[str]) -> dict[str, str]:
    """Return what each element is called in the whole file: as on its page, unless two pages use the name."""
    before = page.href.removesuffix(".html").replace("/", "-")
    names = [str(tag["id"]) for tag in _text(soup).select("[id]")]
    return {name: name if taken[name] == 1 else f"{before}--{name}" for name in names}


def _rename(leaf: _Leaf) -> None:
    for tag in _text(leaf.soup).find_all(True):
        for key, value in list(tag.attrs.items()):
            if key == "id":
                tag[key] = leaf.names[str(value)]
            elif key in REFERRING:
                words = value if isinstance(value, list) else str(value).split()
                tag[key] = " ".join(leaf.names.get(word, word) for word in words)
            elif isinstance(value, str) and "url(#" in value:
                tag[key] = _TO_ELEMENT.sub(lambda found: f"url(#{leaf.names.get(found[1], found[1])})", value)


def _relink(leaf: _Leaf, by_href: Mapping[str, _Leaf]) -> None:
    for tag in _text(leaf.soup).select("[href]"):
        href = str(tag["href"])
        if re.match(r"[a-z]+:", href):
            continue
        path, _, fragment = href.partition("#")
        there = by_href.get(posixpath.normpath(posixpath.join(posixpath.dirname(leaf.page.href), path)), None)
        there = there if path else leaf
        if there is None:
            tag.name = "span"
            del tag["href"]
        else:
            tag["href"] = f"#{there.names.get(fragment, there.anchor)}"


def _take_pictures_in(leaf: _Leaf, site: Path) -> None:
    home = (site / leaf.page.href).parent
    for image in _text(leaf.soup).select("img"):
        smaller = image.find_previous_sibling("source")
        copies = str(smaller["srcset"] if smaller else image.get("srcset", ""))
        image["src"] = _data(home / (_chosen(copies, str(image.get("sizes", ""))) or str(image["src"])))
        for key in ("srcset", "sizes", "fetchpriority"):
            image.attrs.pop(key, None)
    for source in _text(leaf.soup).select("picture > source"):
        source.decompose()


def _chosen(copies: str, sizes: str) -> str:
    """Return the copy that is wide enough for its place on the page, or for reading where that place has no size."""
    small = re.fullmatch(r"(\d+)px", sizes)
    least = 2 * int(small[1]) if small else WIDE  # two dots to a CSS pixel, as most screens have
    found = sorted(
        (int(width[:-1]), name) for name, width in (copy.split() for copy in copies.split(",") if copy.strip())
    )
    return next((name for width, name in found if width >= least), found[-1][1] if found else "")


def _whole(leaves: Sequence[_Leaf], site: Path) -> str:
    """Return the file: the first page's shell round the text of all pages."""
    first = leaves[0].soup
    style, script = _style(site / ASSETS), (site / ASSETS / "book.js").read_text(encoding="utf-8")
    _dress(first, site, style, script)
    main = _text(first)
    sections = [_section(leaf, first) for leaf in leaves]
    main.clear()
    main.extend(sections)
    for turn in first.select("nav.turn"):
        turn.decompose()
    for link in first.select("header a[href]"):
        path = str(link["href"])
        link["href"] = next((f"#{leaf.anchor}" for leaf in leaves if leaf.page.href == path), f"#{leaves[0].anchor}")
    return f"{first}\n"


def _section(leaf: _Leaf, shell: BeautifulSoup) -> Tag:
    section = shell.new_tag("section", id=leaf.anchor, attrs={"class": f"page-{leaf.page.kind} bound-page"})
    section.extend(list(_text(leaf.soup).contents))
    return section


def _dress(shell: BeautifulSoup, site: Path, style: str, script: str) -> None:
    """Put style and script into the head; nothing else may be styled or run, and nothing fetched."""
    if shell.head is None or shell.body is None:
        raise ValueError("a page of the site has no head or no body")
    policy = (
        f"default-src 'none'; img-src data:; font-src data:; style-src {_hash(style)}; script-src {_hash(script)}; "
        "base-uri 'none'; form-action 'none'"
    )
    for tag in shell.head.select("script, link[rel=stylesheet], link[rel=prev], link[rel=next]"):
        tag.decompose()
    for meta in shell.head.select("meta[http-equiv]"):
        meta["content"] = policy
    for icon in shell.head.select("link[rel=icon]"):
        icon["href"] = _data(site / str(icon["href"]))
    for place, name, text in ((shell.head, "style", style), (shell.body, "script", script)):
        made = shell.new_tag(name)
        made.string = text
        place.append(made)


def _style(assets: Path) -> str:
    def inside(found: re.Match[str]) -> str:
        return found[0] if found[1].startswith("data:") else f'url("{_data(assets / found[1])}")'

    return _IN_STYLE.sub(inside, (assets / "book.css").read_text(encoding="utf-8"))


def _hash(text: str) -> str:
    """Return the source expression that lets one text in: Content Security Policy Level 3, section 2.3.1."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _data(file: Path) -> str:
    """Return the content of *file* as an address of its own (RFC 2397)."""
    return f"data:{KINDS[file.suffix]};base64,{base64.b64encode(file.read_bytes()).decode()}"
