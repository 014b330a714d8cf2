"""What each edition may know of the record files themselves."""

from __future__ import annotations

from typing import cast

from bookgen.bind import records_of
from bookgen.compose import for_edition
from bookgen.model.book import Edition
from bookgen.model.sketch import Label, TagMark
from tests.sample_books import sample_project_book
from tests.sample_house import sample_house


def test_only_the_owner_gets_records_and_no_keys_in_them() -> None:
    """The owner's parcel holds every record but keys and codes; trade and sample hold none."""
    solved = sample_house()
    given = {edition: for_edition(solved, edition).project for edition in Edition}
    secrets = solved.project.record.private.security
    assert secrets  # or the next lines show nothing

    texts = records_of(given[Edition.OWNER])

    assert {name for name in texts if not name.startswith("notes/")} == set(solved.project.written)
    assert {name for name in texts if name.startswith("notes/")} == {f"notes/{name}" for name in solved.project.notes}
    private = cast("dict[str, object]", cast("dict[str, object]", solved.project.written["project.yaml"])["private"])
    assert "security" in private
    for secret in secrets:
        assert not any(secret in " ".join(text.split()) for text in texts.values())
    assert solved.project.record.private.owner in texts["project.yaml"]
    assert records_of(given[Edition.TRADE]) == {}
    assert records_of(given[Edition.SAMPLE]) == {}


def test_no_drawing_of_a_sample_names_the_house_its_owner_or_a_tag() -> None:
    """The title strip, the notes, what a screen reader hears and the charts hold no private name and no tag code."""
    record = sample_house().project.record
    secrets = (record.private.owner, record.private.address, record.project, *record.private.security)
    assert all(secrets)
    book = sample_project_book(Edition.SAMPLE)
    drawn = [sketch for chapter in book.chapters for sketch in chapter.sketches]
    assert drawn
    words = [
        book.work.desc if book.work else "",
        *(text for one in drawn for text in (one.title, one.desc, one.caption)),
    ]
    words += [shape.text for one in drawn for shape in one.shapes if isinstance(shape, Label)]
    for secret in secrets:
        assert not [text for text in words if secret.casefold() in text.casefold()], secret
    assert not [shape for one in drawn for shape in one.shapes if isinstance(shape, TagMark)]
    title = record.book.sample_title or record.house.kind
    for sketch in drawn:
        assert title in " ".join(shape.text for shape in sketch.shapes if isinstance(shape, Label)), sketch.key
