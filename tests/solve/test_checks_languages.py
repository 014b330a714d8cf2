"""The checks of a job whose records and book are in Spanish find what they find in English, and say it in Spanish."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from bookgen.model.problem import Finding
from bookgen.model.project import ObstacleFile
from tests.solve.level_fixture import solved
from tests.solve.test_checks_rooms import HALL, ROOMS, panel, stack

SPANISH = {
    "Stack": "Bajante", "Tee": "Te", "Electrical panel": "Panel eléctrico",
}  # fmt: skip


def told(file: ObstacleFile) -> ObstacleFile:
    """Return a record with what it names called in Spanish."""
    inside = tuple(one.model_copy(update={"what": SPANISH[one.what]}) for one in file.record.inside)
    access = tuple(
        one.model_copy(update={"what": "Registro de limpieza", "trade_word": None}) for one in file.record.access
    )
    return replace(file, record=file.record.model_copy(update={"inside": inside, "access": access}))


def found(spanish: bool) -> Iterator[Finding]:
    """Yield what is found round a panel and a stack with its cleanout, in a room to sleep in and a hall."""
    rooms = ROOMS | {"hall": {"name": "Hall", "use": "sleeping", "outline": HALL}}
    files = [replace(file, key=key, file=f"obstacles/{key}.yaml") for key, file in (("a", panel()), ("b", stack()))]
    files = [told(file) for file in files] if spanish else files
    yield from solved(*files, rooms=rooms, language="es" if spanish else "en").findings


def test_the_same_is_found_in_both_languages() -> None:
    """A cleanout or a panel that only English names would be seen by no check, and nobody would be told."""
    english, spanish = ([(one.code, one.severity, one.figure) for one in found(told)] for told in (False, True))

    assert {"cleanout-clearance", "panel-working-space", "alarm-not-recorded"} <= {code for code, *_ in english}
    assert spanish == english


def test_what_is_found_is_said_in_spanish() -> None:
    """What a person acts on has to be in the language that the person reads."""
    depth = next(one for one in found(spanish=True) if one.code == "panel-working-space")

    assert "compruébelo con su código local" in depth.hint
    assert depth.asked.startswith("al menos ")
    assert depth.says.startswith("delante hay ")
