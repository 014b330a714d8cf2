"""Papers as files: which edition has them, in its list, its folder and its print book; and the walk-through."""

from __future__ import annotations

import shutil
from pathlib import Path

import pikepdf
import pytest

from bookgen.bind import composed_book, inside_print
from bookgen.model.book import Edition

SMALLEST = Path(__file__).parents[1] / "projects" / "smallest"


def house(folder: Path, papers: str = "") -> Path:
    """Return a copy of the smallest project with these lines under `papers:`, and two PDF files."""
    project = folder / "house"
    shutil.copytree(SMALLEST, project)
    (project / "papers").mkdir()
    for name in ("heater.pdf", "permit.pdf"):
        with pikepdf.new() as pdf:
            pdf.add_blank_page()
            pdf.save(project / "papers" / name, static_id=True)
    main = project / "project.yaml"
    main.write_text(f"{main.read_text('utf-8').rstrip()}\npapers:\n{papers}\n", "utf-8")
    for record in (project / "obstacles").iterdir():
        record.write_text(f"{record.read_text('utf-8').rstrip()}\nshare: yes\n", "utf-8")
    return project


BOTH = """  - {what: Heater manual, kind: manual, file: heater.pdf, for trades: yes}
  - {what: Building permit, number: SM-1, kind: permit, file: permit.pdf, contact: "Tern Office (demo), 555-0155"}"""


@pytest.mark.parametrize(
    ("edition", "held"),
    [
        (Edition.OWNER, ["heater.pdf", "permit.pdf"]),
        (Edition.TRADE, ["heater.pdf"]),
        (Edition.SAMPLE, []),
    ],
)
def test_an_edition_has_the_papers_it_may(tmp_path: Path, edition: Edition, held: list[str]) -> None:
    """The owner has all, the trades those that are marked for them, a sample none, in list, folder and print book."""
    composed, checked = composed_book(house(tmp_path, BOTH), edition)
    assert checked.problems == ()
    assert composed is not None
    assert sorted(composed.project.papers) == held
    rows = [row for group in composed.book.papers for row in group.rows]
    assert sorted(row.file for row in rows if row.file) == [f"papers/{name}" for name in held]
    inside = [name for name in inside_print(composed.project) if name.startswith("papers/")]
    assert inside == ([f"papers/{name}" for name in held] if edition is Edition.OWNER else [])
    if edition is Edition.OWNER:
        assert {row.contact for row in rows} == {"", "Tern Office (demo), 555-0155"}


def test_the_walk_through_shows_what_there_is(tmp_path: Path) -> None:
    """Every shutoff, tag and job of the upkeep is on the list to be ticked, in the owner's book alone."""
    project = house(tmp_path, BOTH)
    owner, _ = composed_book(project, Edition.OWNER)
    trade, _ = composed_book(project, Edition.TRADE)
    assert owner is not None
    assert trade is not None
    assert trade.book.walk == ()
    said = "\n".join(item for group in owner.book.walk for item in group.items)
    for row in owner.book.register:
        assert not row.tag or f"{row.tag} {row.what}" in said
    assert all(row.do in said for row in owner.book.upkeep)
    assert owner.book.terms["walk given papers"] in said
