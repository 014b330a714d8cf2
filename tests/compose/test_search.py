from __future__ import annotations

from dataclasses import replace

import pytest

from bookgen.compose.search import search_index
from bookgen.compose.search_words import fold, search_words
from bookgen.model.book import Edition, SearchEntry
from tests.sample_books import sample_project_book

OWNER, SAMPLE = Edition.OWNER, Edition.SAMPLE


def _entry(title: str, kind: str, edition: Edition = OWNER) -> SearchEntry:
    entries = sample_project_book(edition).search.entries
    return next(entry for entry in entries if entry.title == title and entry.kind == kind)


def _all_text(edition: Edition) -> str:
    entries = sample_project_book(edition).search.entries
    return " ".join(" ".join((e.title, e.where, *e.phrases, e.words, e.tag, e.part, e.digest)) for e in entries)


@pytest.mark.parametrize(
    ("text", "folded"),
    [("Desagüe, ¿dónde?", "desague donde"), ("3/4 in. PVC", "3 4 in pvc"), ("  ", ""), ("Wi-Fi", "wi fi")],
)
def test_words_are_folded(text: str, folded: str) -> None:
    """Accents, signs and capitals go; words stay, parted by one space."""
    assert fold(text) == folded


def test_words_alike_are_joined_over_languages() -> None:
    """Groups that share a word become one, and no word stands in two: cerrar leads on to off."""
    groups = search_words("en").alike
    group = next(group for group in groups if "cerrar" in group)
    assert {"shutoff", "off", "cortar"} <= set(group)
    words = [word for one in groups for word in one]
    assert len(words) == len(set(words))


def test_every_topic_leads_somewhere_in_the_sample_project() -> None:
    """No topic is about a thing that even the owner's book of the sample project lacks."""
    phrases = {phrase for entry in sample_project_book(OWNER).search.entries for phrase in entry.phrases}
    titles = {fold(entry.title) for entry in sample_project_book(OWNER).search.entries}
    for topic in search_words("en").topics:
        assert {fold(say) for say in topic.says} & (phrases | titles), topic.name


def test_a_supply_leads_to_the_shutoffs_and_is_named_once() -> None:
    """The main valve is one answer, on the shutoffs page, with its tag and photo, and heavier than any other thing."""
    entry = _entry("Main water valve", "shutoff")
    assert (entry.tag, entry.chapter, entry.part, entry.weight) == ("01", "water-service", "1", 9)
    assert entry.digest
    assert "stopcock" not in entry.phrases
    assert {"main water", "llave de paso"} <= set(entry.phrases)
    titles = [other.title for other in sample_project_book(OWNER).search.entries]
    assert titles.count("Main water valve") == 1


def test_phrasings_lead_only_where_they_answer() -> None:
    """What is asked about buying a filter stands at its upkeep, and not at the slot."""
    assert "filter size" in _entry("Change the furnace filter", "upkeep").phrases
    assert "filter size" not in _entry("Furnace filter", "tag").phrases


def test_no_private_word_is_in_the_index_of_a_sample() -> None:
    """Owner, address, phones, codes, permits, ties, tags and unshared names don't reach the sample's index."""
    told, kept_back = _all_text(SAMPLE), _all_text(OWNER)
    owner = sample_project_book(OWNER)
    private = [*owner.owner_lines, *owner.security, "Verhoeven", "Achterberg", "4417", "555-0147", "555-0161"]
    private += [row.number for group in owner.papers for row in group.rows if row.number]
    private += [row.where for row in owner.register if row.tag]
    private += [row.ties for row in owner.register if row.ties]
    private += [person.name for person in owner.people if "Halfmoon" not in person.name]
    assert [word for word in private if word.casefold() in told.casefold()] == []
    assert "PH-26-0311" in kept_back
    assert not any(entry.tag for entry in sample_project_book(SAMPLE).search.entries)
    assert {entry.kind for entry in sample_project_book(SAMPLE).search.entries} <= {
        "chapter", "hidden", "person", "page",
    }  # fmt: skip


def test_codes_are_in_no_index() -> None:
    """Not even the owner's index holds a code: it says where keys and codes stand."""
    assert "4417" not in _all_text(OWNER)
    assert _entry("Keys and codes", "keys").where


def test_an_empty_part_has_no_answer() -> None:
    """A book without upkeep, faces and papers gives no answer that leads to their pages."""
    book = replace(sample_project_book(OWNER), upkeep=(), faces=(), papers=(), people=(), hazards=(), security=())
    kinds = {(entry.kind, entry.part if entry.kind == "page" else "") for entry in search_index(book).entries}
    assert not {("upkeep", ""), ("face", ""), ("room", ""), ("page", "drill"), ("page", "papers")} & kinds


def test_every_picture_of_an_answer_is_in_the_book() -> None:
    """An answer shows only what the edition's book shows."""
    for edition in (OWNER, SAMPLE):
        book = sample_project_book(edition)
        shown = {picture.digest for picture in book.pictures()}
        assert {entry.digest for entry in book.search.entries if entry.digest} <= shown
