"""The loader: every row has its source, and a broken table is refused."""

import re
from dataclasses import dataclass
from fractions import Fraction
from importlib.resources import files

import pytest

from bookgen.model.length import Length
from bookgen.trade.tables import Sure, TableError, read_document, read_rows, rows_from

TABLE_FILES = sorted(entry.name for entry in files("bookgen.trade").iterdir() if entry.name.endswith(".toml"))
KEBAB = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class Strip:
    """A row for these tests, with one field of each sort."""

    name: str
    thickness: Length
    share: Fraction | None
    also: tuple[str, ...]
    treated: bool
    count: int | None
    source: str
    sure: Sure


def whole_row() -> dict[str, object]:
    """Return a row of the test table that has everything it must."""
    return {"name": "lath", "thickness": "1-1/2 in", "source": "PS 20", "sure": "memory"}


def build(row: dict[str, object]) -> Strip:
    """Return the one row of a table that holds only *row*."""
    (strip,) = rows_from({"strip": [row]}, "strip", Strip, "test.toml")
    return strip


def rows_of(file: str) -> list[dict[str, object]]:
    """Return every raw row of a table file, under whatever heading."""
    return [row for rows in read_document(file).values() for row in rows]  # type: ignore[attr-defined]


def test_a_row_becomes_exact_values() -> None:
    """A length in the file is an exact Length in the row, and keys that may be missing are empty."""
    assert build(whole_row()) == Strip("lath", Length(Fraction(3, 2)), None, (), False, None, "PS 20", Sure.MEMORY)


@pytest.mark.parametrize("key", ["source", "sure", "name", "thickness"])
def test_a_row_without_a_required_key_is_refused(key: str) -> None:
    """A row that says not where it comes from, or lacks a value, is our own bug and names file, row and key."""
    row = whole_row()
    del row[key]
    with pytest.raises(TableError, match=rf"test\.toml \[\[strip\]\] row 1: {key} is missing"):
        build(row)


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("source", ""),
        ("source", "  "),
        ("sure", "certain"),
        ("thickness", "1-1/2"),
        ("thickness", 1.5),
        ("share", 0.5),
        ("share", "1/0"),
        ("also", "one"),
        ("treated", "yes"),
        ("name", 3),
        ("count", True),
        ("count", "3"),
    ],
)
def test_a_value_of_the_wrong_kind_is_refused(key: str, value: object) -> None:
    """A blank source, a bare number, a float and an unknown status are all refused."""
    with pytest.raises(TableError, match=f"row 1: {key} = "):
        build({**whole_row(), key: value})


def test_an_unknown_key_is_refused() -> None:
    """A key that no field takes is not dropped in silence."""
    with pytest.raises(TableError, match="no such key: colour"):
        build({**whole_row(), "colour": "red"})


def test_a_row_that_is_no_table_is_refused() -> None:
    """A bare text where a row belongs is refused."""
    with pytest.raises(TableError, match="row 1: not a table of keys"):
        rows_from({"strip": ["lath"]}, "strip", Strip, "test.toml")


def test_a_missing_heading_is_refused() -> None:
    """A table file without the heading asked for is refused."""
    with pytest.raises(TableError, match="no rows under"):
        read_rows("lumber.toml", "plank", Strip)


@pytest.mark.parametrize("file", TABLE_FILES)
def test_every_row_has_source_and_sure(file: str) -> None:
    """Every row of every table says where it comes from and how sure it is."""
    for row in rows_of(file):
        assert str(row["source"]).strip()
        assert Sure(str(row["sure"]))


@pytest.mark.parametrize("file", TABLE_FILES)
def test_ids_are_kebab_case_words(file: str) -> None:
    """An id is small letters and figures joined by hyphens."""
    for row in rows_of(file):
        if "id" in row:
            assert KEBAB.fullmatch(str(row["id"])), row["id"]


@pytest.mark.parametrize("file", [file for file in TABLE_FILES if not file.startswith("limits-")])
def test_ids_are_unique(file: str) -> None:
    """No two rows of a file share an id; limits have editions and are tested by those."""
    ids = [row["id"] for row in rows_of(file) if "id" in row]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("file", TABLE_FILES)
def test_no_table_promises_compliance(file: str) -> None:
    """No table says that anything complies, is approved or is safe to do."""
    text = files("bookgen.trade").joinpath(file).read_text("utf-8")
    assert not re.search(r"\bcompl(y|ies|iant|iance)\b|\bapproved?\b|\bsafe to\b", text, re.IGNORECASE)


@pytest.mark.parametrize("file", TABLE_FILES)
def test_a_second_figure_says_how_sure_it_is(file: str) -> None:
    """A wall, hub or weight that is less sure than its row carries its own status, and only then."""
    for row in rows_of(file):
        for figure, status in (("wall", "wall_sure"), ("hub", "hub_sure"), ("pounds_per_square_foot", "weight_sure")):
            assert (figure in row) == (status in row), row
