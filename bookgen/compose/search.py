"""A composed Book in, what its search knows out: one entry for each thing that somebody may look for.

Only what stands in the book is read, so an edition's index can't know more than its pages. Access points lead to
where they are reached, supplies to the shutoffs, hidden things to their chapter, and the fixed phrasings of
`search_words` to the entry that answers them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from bookgen.compose.search_words import Topic, fold, search_words
from bookgen.compose.show import sentence_case
from bookgen.model.book import Book, Chapter, HiddenRow, Picture, SearchEntry, SearchIndex

PAGES = (  # kind of page, the term that is its title, whether the book has it
    ("shutoffs", "shutoffs first", lambda book: bool(book.shutoffs or book.emergencies)),
    ("register", "register", lambda book: bool(book.register)),
    ("plan", "plan", lambda book: book.plan is not None),
    ("drill", "drill", lambda book: bool(book.faces)),
    ("upkeep", "upkeep", lambda book: bool(book.upkeep)),
    ("materials", "materials and finishes", lambda book: bool(book.materials)),
    ("papers", "papers", lambda book: bool(book.papers or book.people or book.hazards)),
    ("later", "later work", lambda book: book.edition.value != "sample"),
)  # type: tuple[tuple[str, str, Callable[[Book], bool]], ...]


@dataclass(frozen=True, slots=True)
class _Found:
    """An entry before the phrasings are added; *key* is what a topic's `at` names."""

    key: str
    entry: SearchEntry


def search_index(book: Book) -> SearchIndex:
    """Return what the search of *book* knows; two entries never lead to the same place under the same title."""
    words = search_words(book.language)
    found = [one for part in _PARTS for one in part(book)]
    once: dict[tuple[str, str, str, str], SearchEntry] = {}
    for one in found:
        entry = _asked(one, words.topics, frozenset(words.skip))
        once.setdefault((entry.title, entry.kind, entry.chapter, entry.part), entry)
    return SearchIndex(tuple(once.values()), words.alike, words.skip)


def _asked(found: _Found, topics: tuple[Topic, ...], skip: frozenset[str]) -> SearchEntry:
    """Return the entry with the phrasings of its topics, and its loose words each once."""
    entry = found.entry
    names = " | ".join(fold(name) for name in (entry.title, *entry.phrases))
    says = [phrase for topic in topics if topic.leads_to(found.key, names) for phrase in topic.says]
    phrases = dict.fromkeys(filter(None, (*map(fold, entry.phrases), *map(fold, says))))
    phrases.pop(fold(entry.title), None)
    known = {word for phrase in (entry.title, *phrases) for word in fold(phrase).split()}
    loose = [word for word in fold(entry.words).split() if len(word) > 1 and word not in skip and word not in known]
    return replace(entry, phrases=tuple(phrases), words=" ".join(dict.fromkeys(loose)))


def _shutoffs(book: Book) -> Iterator[_Found]:
    trades = {row.tag: (row.trade_word, row.room) for row in book.register if row.tag}
    for count, panel in enumerate(book.shutoffs, start=1):
        trade, room = trades.get(panel.tag, ("", ""))
        place = next((fact.words for fact in panel.facts if fact.term == book.terms["where"]), "")
        key = f"first {panel.supply}" if panel.first else "shutoff"
        entry = SearchEntry(
            title=panel.what,
            where=_where(room, place) if room else panel.title,
            phrases=(trade, f"{panel.title} {book.terms['shutoffs first']}", *_tag(panel.tag, book)),
            words=f"{panel.stops} {panel.turn}",
            kind="shutoff",
            chapter=panel.chapter,
            part=str(count),
            tag=panel.tag,
            digest=_digest(panel.picture),
            weight=9 if panel.first else 7,
        )
        yield _Found(key, entry)


def _emergencies(book: Book) -> Iterator[_Found]:
    for count, note in enumerate(book.emergencies, start=1):
        where = book.terms["when something is wrong"]
        yield _found("emergency", note.title, where, str(count), 9, words=note.panel.hazard if note.panel else "")


def _tags(book: Book) -> Iterator[_Found]:
    chapters = {chapter.slug: chapter for chapter in book.chapters}
    shut = {panel.tag for panel in book.shutoffs}
    for row in book.register:
        if not row.tag or row.tag in shut:
            continue
        entry = SearchEntry(
            title=row.what,
            where=_where(row.room, row.where),
            phrases=(row.trade_word, *_tag(row.tag, book)),
            words=row.cover,
            kind="tag",
            chapter=row.chapter,
            part=row.tag,
            tag=row.tag,
            digest=_digest(chapters[row.chapter].hero),
            weight=8,
        )
        yield _Found("tag", entry)


def _hazards(chapter: Chapter) -> Iterator[str]:
    return (panel.hazard for group in chapter.cautions for part in group.parts for panel in part.panels)


def _chapters(book: Book) -> Iterator[_Found]:
    for chapter in book.chapters:
        told = (chapter.sentence, *chapter.facts, *chapter.questions, *_hazards(chapter))
        entry = SearchEntry(
            title=chapter.title,
            where=_where(f"{book.terms['chapter']} {chapter.number}", chapter.room),
            phrases=(),
            words=f"{chapter.treatment} {' '.join(told)}",
            kind="chapter",
            chapter=chapter.slug,
            part="",
            tag="",
            digest=_digest(chapter.hero or chapter.framed_hero),
            weight=6,
        )
        yield _Found("chapter", entry)


def _hidden(book: Book) -> Iterator[_Found]:
    for chapter in book.chapters:
        reached = {fold(reach.what) for reach in chapter.reaches}
        for row in chapter.hidden:
            if fold(row.what) not in reached:
                yield _Found("hidden", _inside(row, chapter))


def _inside(row: HiddenRow, chapter: Chapter) -> SearchEntry:
    picture = chapter.framed_hero or chapter.hero
    where = _where(chapter.room, chapter.title)
    named = (row.trade,) if any(sign.isalpha() for sign in row.trade) else ()
    part = f"hidden-{row.key}" if row.key else "inside"
    return SearchEntry(row.what, where, named, "", "hidden", chapter.slug, part, "", _digest(picture), 4)


def _faces(book: Book) -> Iterator[_Found]:
    """Return an answer for each room and for each face that has something behind it."""
    pictures = {chapter.slug: chapter for chapter in book.chapters}
    for count, room in enumerate(dict.fromkeys(face.room for face in book.faces), start=1):
        yield _found("room", f"{book.terms['drill']}: {room}", room, str(count), 5)
    for count, face in enumerate(book.faces, start=1):
        if not face.rows:
            continue
        owner = pictures.get(face.chapter)
        title = f"{owner.title}: {face.title}" if owner and owner.title != face.title else face.title
        where = _where(face.room, book.terms["drill"])
        digest = _digest(owner.hero) if owner else ""
        found = _found("face", sentence_case(title), where, str(count), 2, digest=digest)
        yield replace(found, entry=replace(found.entry, chapter=face.chapter))


def _upkeep(book: Book) -> Iterator[_Found]:
    pictures = {chapter.slug: _digest(chapter.hero) for chapter in book.chapters}
    for row in book.upkeep:
        where = f"{sentence_case(row.every)}. {row.part}" if row.part else sentence_case(row.every)
        words, digest = f"{row.how} {book.terms['upkeep']}", pictures.get(row.chapter, "")
        found = _found("upkeep", row.do, where, row.uid, 7, words=words, phrases=(row.part,), digest=digest)
        yield replace(found, entry=replace(found.entry, chapter=row.chapter, tag=row.tag))


def _back_matter(book: Book) -> Iterator[_Found]:
    for count, material in enumerate(book.materials, start=1):
        where = _where(material.buy, material.where)
        yield _found("material", material.what, where, str(count), 6, words=book.terms["buy"])
    for count, group in enumerate(book.papers, start=1):
        for paper in group.rows:
            where = ", ".join(filter(None, (group.title, paper.number, paper.date, paper.where)))
            yield _found("paper", paper.what, where, str(count), 5, phrases=(group.title,))
    for person in book.people:
        yield _found("person", f"{person.role}: {person.name}", person.phone or book.terms["people"], "", 6)
    if book.hazards:
        yield _found("hazards", book.terms["hazards that remain"], book.terms["papers"], "", 6, " ".join(book.hazards))
    if book.security:
        yield _found("keys", book.terms["keys and codes"], book.terms["papers"], "", 6)


def _pages(book: Book) -> Iterator[_Found]:
    for kind, key, there in PAGES:
        if there(book):
            yield _found("page", book.terms[key], book.terms["contents"], kind, 6, key=f"page {kind}")


_PARTS: tuple[Callable[[Book], Iterable[_Found]], ...] = (
    _shutoffs, _emergencies, _tags, _chapters, _hidden, _upkeep, _faces, _back_matter, _pages,
)  # fmt: skip


def _found(
    kind: str,
    title: str,
    where: str,
    part: str,
    weight: int,
    words: str = "",
    phrases: tuple[str, ...] = (),
    digest: str = "",
    key: str = "",
) -> _Found:
    """Return an entry that belongs to no tag."""
    entry = SearchEntry(title, where, phrases, words, kind, "", part, "", digest, weight)
    return _Found(key or kind, entry)


def _where(*parts: str) -> str:
    return ": ".join(dict.fromkeys(filter(None, parts)))


def _tag(tag: str, book: Book) -> tuple[str, ...]:
    return (f"{book.terms['tag']} {tag}",) if tag else ()


def _digest(picture: Picture | None) -> str:
    return picture.digest if picture else ""
