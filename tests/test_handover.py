"""The owner's parcel: whole by an independent reader, refused when it must be, and what is said when a file changed."""

from __future__ import annotations

import datetime
import hashlib
import shutil
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import bagit
import pytest

from bookgen.bind import Composed, composed_book
from bookgen.check import Checked
from bookgen.handover import HandedOver, RevisionError, hand_over
from bookgen.model.problem import Settled, Severity
from bookgen.read import read
from bookgen.render.parcel import NoParcelError, faults
from tests.test_papers import BOTH, house

SMALLEST = Path(__file__).parents[1] / "projects" / "smallest"


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the smallest project, to be changed."""
    return Path(shutil.copytree(SMALLEST, tmp_path_factory.mktemp("handover") / "smallest"))


@pytest.fixture(scope="module")
def parcel(project: Path) -> Path:
    """The first parcel, with the photos as they came off the phone."""
    done = handed(project, project.parent / "parcel", originals=True)
    assert done.target is not None
    return done.target


def handed(project: Path, target: Path, since: Path | None = None, *, originals: bool = False) -> HandedOver:
    """Hand a project over, telling nobody how far it is."""
    return hand_over(project, target, since, originals=originals, progress=lambda *_: None)


def files_under(folder: Path) -> dict[str, bytes]:
    """Return every file of a folder."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def reworded(project: Path, target: Path, file: str, before: str, after: str) -> Path:
    """Return a copy of a project, one of whose files says *after* where it said *before*."""
    copy = Path(shutil.copytree(project, target / "smallest"))
    text = (copy / file).read_text("utf-8")
    assert before in text
    (copy / file).write_text(text.replace(before, after, 1), encoding="utf-8")
    return copy


def test_an_independent_reader_finds_the_parcel_whole(parcel: Path) -> None:
    """The reference library validates it, the checksums are those of hashlib, and what the README names is there."""
    assert bagit.Bag(str(parcel)).is_valid()
    assert faults(parcel) == ()
    listed = dict(
        reversed(line.split(maxsplit=1)) for line in (parcel / "manifest-sha256.txt").read_text().splitlines()
    )
    held = {
        f"data/{name}": hashlib.sha256(content).hexdigest() for name, content in files_under(parcel / "data").items()
    }
    assert listed == held
    named = {"book/index.html", "book/book.pdf", "book/tags.pdf", "book/upkeep.ics", "README.txt"}
    assert named < set(files_under(parcel / "data"))
    text = (parcel / "data" / "README.txt").read_text("utf-8")
    assert all(name in text for name in named - {"README.txt"})
    assert (parcel / "bagit.txt").read_text().startswith("BagIt-Version: 1.0\n")  # RFC 8493, section 2.1.1


def test_the_records_in_a_parcel_are_a_project_folder(parcel: Path) -> None:
    """With the originals beside them they read back without a problem, and the photos are untouched."""
    inside, problems = read(parcel / "data" / "records")
    outside, _ = read(SMALLEST)

    assert problems == ()
    assert inside is not None
    assert outside is not None
    assert [one.record for one in inside.obstacles] == [one.record for one in outside.obstacles]
    assert files_under(parcel / "data" / "records" / "photos") == files_under(SMALLEST / "photos")


def test_the_same_records_make_the_same_parcel(project: Path, parcel: Path) -> None:
    """Byte for byte, with nothing of the day it was made on."""
    again = handed(project, project.parent / "again", originals=True)

    assert again.target is not None
    assert files_under(again.target) == files_under(parcel)


def test_what_changed_in_a_drawer_is_told_file_by_file(parcel: Path, tmp_path: Path) -> None:
    """One file altered, one gone, one put in, the label altered: each is named once, all in one run."""
    old = Path(shutil.copytree(parcel, tmp_path / "old"))
    (old / "data" / "book" / "index.html").write_text("other", encoding="utf-8")
    (old / "data" / "book" / "tags.pdf").unlink()
    (old / "data" / "mine.txt").write_text("x", encoding="utf-8")
    with (old / "bag-info.txt").open("a") as label:
        label.write("Contact-Name: Somebody\n")

    assert faults(old) == (
        "changed: bag-info.txt",
        "changed: data/book/index.html",
        "missing: data/book/tags.pdf",
        "added: data/mine.txt",
    )
    with pytest.raises(NoParcelError, match=r"bagit\.txt"):
        faults(tmp_path)


def test_the_next_parcel_says_what_is_different(project: Path, parcel: Path, tmp_path: Path) -> None:
    """A record that changed needs a new number; then the parcel names what it replaces, and which lines differ."""
    changed = reworded(project, tmp_path, "project.yaml", "built: 1991", "built: 1992")
    with pytest.raises(RevisionError, match="write revision: 2"):
        handed(changed, tmp_path / "next", parcel)
    counted = reworded(changed, tmp_path / "counted", "project.yaml", "  date: ", "  revision: 2\n  date: ")

    done = handed(counted, tmp_path / "next", parcel)

    assert done.target is not None
    told = (done.target / "data" / "CHANGES.txt").read_text("utf-8")
    assert "Revision 2 of July\u00a01" in told
    assert "replaces revision 1 of July\u00a01" in told
    assert "\n-  built: '1991'\n+  built: '1992'\n" in told
    assert "CHANGES.txt" in (done.target / "data" / "README.txt").read_text("utf-8")
    assert not (done.target / "data" / "records" / "photos").exists()


def test_a_paper_that_changed_is_told(tmp_path: Path) -> None:
    """Another PDF under the same name needs a new number, and CHANGES.txt says which; so with one that went."""
    papers = house(tmp_path, BOTH)
    first = handed(papers, tmp_path / "first").target
    assert first is not None
    with (papers / "papers" / "heater.pdf").open("ab") as paper:
        paper.write(b"% scanned again\n")
    with pytest.raises(RevisionError, match="write revision: 2"):
        handed(papers, tmp_path / "next", first)
    counted = reworded(papers, tmp_path / "counted", "project.yaml", "  date: ", "  revision: 2\n  date: ")
    fewer = reworded(counted, tmp_path / "fewer", "project.yaml", ", file: permit.pdf", "")

    done = handed(fewer, tmp_path / "next", first)

    told = done.changes.splitlines()
    assert "Changed: Heater manual (papers/heater.pdf)" in told
    assert "Gone: permit.pdf (papers/permit.pdf)" in told


def test_nothing_is_handed_over_while_a_stop_has_no_answer(
    project: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One finding that says stop keeps the parcel back, until somebody has answered it."""

    def grave(*given: Any, answered: Settled | None = None) -> tuple[Composed | None, Checked]:
        composed, checked = composed_book(*given)
        assert checked.solved is not None
        first, *others = checked.solved.findings
        first = replace(first, severity=Severity.STOP, answered=answered)
        return composed, Checked(replace(checked.solved, findings=(first, *others)), ())

    monkeypatch.setattr("bookgen.handover.composed_book", grave)
    done = handed(project, tmp_path / "parcel")
    assert done.target is None
    assert len(done.stops) == 1
    assert not (tmp_path / "parcel").exists()

    settled = Settled("Saltmarsh building department", datetime.date(2026, 5, 1), "letter of that day")
    monkeypatch.setattr("bookgen.handover.composed_book", partial(grave, answered=settled))
    assert handed(project, tmp_path / "parcel").target is not None
