"""What each edition may know of the record files themselves."""

from __future__ import annotations

from typing import cast

from bookgen.bind import records_of
from bookgen.compose import for_edition
from bookgen.model.book import Edition
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
