"""A Book in, its static site out: pages that open by double click, with no network and no script needed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from jinja2 import ChoiceLoader, Environment, FileSystemLoader, PrefixLoader, StrictUndefined
from markupsafe import Markup

from bookgen.model.book import Book, Picture, SeeThrough
from bookgen.model.chart import Chart
from bookgen.model.sketch import Sketch
from bookgen.render import site_pages, words
from bookgen.render.compiled import BesideTemplates
from bookgen.render.drawings import Figures
from bookgen.render.search import write_search
from bookgen.render.site_assets import ASSETS, write_assets
from bookgen.render.site_pages import Page
from bookgen.render.site_pictures import ShownPicture, ShownThrough, show_picture, show_through
from bookgen.render.svg import write_svg
from bookgen.render.template_blocks import check_templates
from bookgen.render.themes import Theme

# 'self' covers neighbouring files of a page opened from a disk too: seen in Chromium for styles, scripts and pictures;
# the fonts stand in the style sheet. Nothing inline is let in, so drawings carry classes and attributes, never a style.
POLICY = (
    "default-src 'none'; img-src 'self' data:; style-src 'self'; script-src 'self'; font-src data:; "
    "base-uri 'none'; form-action 'none'"
)


class MissingTermError(LookupError):
    """A template asks for fixed words that the book's terms don't hold; the message names the key."""


def render_site(
    book: Book,
    theme: Theme,
    figures: Figures,
    out: Path,
    extras: Sequence[tuple[str, str]],
    cache: Path | None = None,
) -> tuple[Page, ...]:
    """Write the site of *book* into the folder *out*; return its pages in reading order.

    The copies of the *figures* lie in `out/pictures`; *extras* are further files of the same folder, as (name, words),
    offered on the cover; *cache* keeps cut fonts between runs.
    Raises MissingTermError for a key that the terms lack, OSError when *out* can't be written.
    """
    say = say_from(book.terms)
    writer = _Writer(book, site_pages.book_pages(book, say), figures, tuple(extras))
    templates = templates_of(theme)  # that they are whole was seen when the book was composed
    templates.globals.update(say=say, policy=POLICY, book=book)
    texts = []
    for page in writer.pages:
        text = templates.get_template(page.template).render(writer.names(page))
        texts.append(text)
        path = out / page.href
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(f"{text}\n", encoding="utf-8", newline="\n")
    # The answers of the search are set in the same faces, so their signs are cut too.
    answers = [entry.title + entry.where for entry in book.search.entries]
    write_assets(theme, [*texts, *answers], out, cache)
    if book.search.entries:
        write_search(book, figures.pictures, say, out / ASSETS)
    return writer.pages


def say_from(terms: Mapping[str, str]) -> Callable[[str], str]:
    """Return what gives a template its fixed words by their key."""

    def say(key: str) -> str:
        if key not in terms:
            raise MissingTermError(f"terms: {key} is missing; add its words to the book's terms")
        return terms[key]

    return say


def environment(theme: Theme) -> Environment:
    """Return `templates_of` a theme that is whole; raises ThemeError where a page or a block is missing."""
    made = templates_of(theme)
    check_templates(made, theme.name)
    return made


def templates_of(theme: Theme) -> Environment:
    """Return the templates of *theme*, in which a name that nobody gives is an error and every text is escaped.

    A template of an ancestor is also there under its theme's name, so that an heir's can extend the one that it stands
    for: `chalkline/chapter.html`.
    """
    homes = {home.parent.name: FileSystemLoader(home) for home in theme.templates}
    made = Environment(
        loader=ChoiceLoader([FileSystemLoader(theme.templates), PrefixLoader(homes)]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        bytecode_cache=BesideTemplates(),
    )
    made.filters.update(
        words=words.words,
        calls=words.calls,
        dialled=words.dialled,
        safe_href=words.safe_href,
        element_id=words.element_id,
        chapter_tags=site_pages.chapter_tags,
        reading_sketches=site_pages.reading_sketches,
        framing_sketches=site_pages.framing_sketches,
        sheet_width=site_pages.sheet_width,
        letters=site_pages.letters,
        by_room=site_pages.by_room,
    )
    return made


@dataclass(frozen=True, slots=True)
class _Writer:
    """What the pages of one site have in common."""

    book: Book
    pages: tuple[Page, ...]
    figures: Figures
    extras: tuple[tuple[str, str], ...]

    def names(self, page: Page) -> dict[str, object]:
        """Return what the template of *page* may name, all of it finished."""
        chapters = {chapter.slug: chapter for chapter in self.book.chapters}

        def shown(picture: Picture) -> ShownPicture:
            return show_picture(picture, self.figures.pictures, page.root)

        def shown_through(see: SeeThrough) -> ShownThrough:
            return show_through(see, self.figures.pictures, page.root)

        def tag_href(slug: str, tag: str) -> str:
            return page.root + site_pages.tag_href(chapters[slug], tag)

        before, after = site_pages.neighbours(self.pages, page)
        return {
            "page": page,
            "pages": self.pages,
            "before": before,
            "after": after,
            "chapter": page.chapter,
            "kinds": frozenset(other.kind for other in self.pages),
            "hrefs": {slug: page.root + site_pages.chapter_href(chapter) for slug, chapter in chapters.items()},
            "titles": {slug: chapter.title for slug, chapter in chapters.items()},
            "numbers": {slug: chapter.number for slug, chapter in chapters.items()},
            "tag_href": tag_href,
            "shown": shown,
            "shown_through": shown_through,
            "drawn": self.drawn,
            "linked": lambda sketch: self.linked(sketch, page.root),
            "extras": self.extras,
        }

    def drawn(self, one: Sketch | Chart) -> Markup:
        """Return the drawing of a sketch or a chart, to stand in a page."""
        return Markup(self.figures.drawings[one.key].site)  # noqa: S704 - what writes drawings escapes their words

    def linked(self, sketch: Sketch, root: str) -> Markup:
        """Return the drawing of *sketch* with its tags leading to where each thing is reached."""
        chapters, tag = {chapter.slug: chapter for chapter in self.book.chapters}, self.book.terms["tag"]
        links = {
            row.tag: (root + site_pages.tag_href(chapters[row.chapter], row.tag), f"{tag} {row.tag}: {row.what}")
            for row in self.book.register
            if row.tag and row.chapter
        }
        return Markup(write_svg(sketch, links=links))  # noqa: S704 - the writer of SVG escapes its labels itself
