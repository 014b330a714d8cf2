"""What `check` tells a second time: the same words without the work, and never after anything has changed."""

from __future__ import annotations

import datetime
import os
from pathlib import Path

import pytest

from bookgen import report as reports
from bookgen import unchanged
from bookgen.desk.start import Start, lay_out
from bookgen.model.place import Place
from bookgen.model.problem import Finding, Settled, Severity
from bookgen.report import Report, report
from bookgen.unchanged import digest_of


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The example project, and a cache of its own."""
    monkeypatch.setenv("BOOKGEN_CACHE", str(tmp_path / "cache"))
    lay_out(tmp_path / "house", Start())
    return tmp_path / "house"


@pytest.fixture
def worked(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The folders that were really read and solved, in order."""
    found: list[Path] = []
    make = reports._made

    def counted(folder: Path) -> Report:
        found.append(folder)
        return make(folder)

    monkeypatch.setattr(reports, "_made", counted)
    return found


def test_an_unchanged_folder_is_told_from_what_was_kept(folder: Path, worked: list[Path]) -> None:
    """The second report equals the first one, finding by finding, and nothing was worked out for it."""
    first = report(folder)
    assert first.findings
    assert first.notes
    assert report(folder) == first
    assert worked == [folder]


def test_a_problem_is_kept_with_its_place(folder: Path, worked: list[Path]) -> None:
    """A record that can't be read is told the same way again."""
    (folder / "obstacles" / "odd.yaml").write_text("obstacle: 1\n", encoding="utf-8")
    first = report(folder)
    assert first.problems
    assert report(folder) == first
    assert len(worked) == 1


@pytest.mark.usefixtures("folder")
def test_an_answered_finding_is_kept_whole() -> None:
    """Who answered, when and on which paper comes back as it was."""
    settled = Settled("M. Oduya", datetime.date(2026, 3, 10), "letter of the county")
    place = Place("obstacles/drain.yaml", 3, 1)
    words = ("the drain", "it is low", "6 ft", "7 ft", "IRC R305", "memory", "lift it")
    told = Report((), (Finding("headroom-low", Severity.STOP, place, *words, settled, "in the corner"),), (), {}, ())
    reports._keep("digest", told)
    assert reports._kept("digest") == told


@pytest.mark.parametrize("change", ["text", "new file", "gone", "renamed", "photo", "mode"])
def test_whatever_changes_in_the_folder_is_seen(folder: Path, change: str) -> None:
    """The digest is another one after each sort of change, and the same one before it."""
    record, photo = folder / "project.yaml", folder / "photos" / "big.jpg"
    photo.parent.mkdir(exist_ok=True)
    photo.write_bytes(bytes(unchanged.WHOLE + 1))
    before = digest_of(folder)
    assert before is not None
    assert digest_of(folder) == before
    match change:
        case "text":
            times = record.stat()
            record.write_text(record.read_text(encoding="utf-8").replace("19", "20", 1), encoding="utf-8")
            os.utime(record, ns=(times.st_atime_ns, times.st_mtime_ns))
        case "new file":
            (folder / "obstacles" / "new.yaml").touch()
        case "gone":
            record.unlink()
        case "renamed":
            record.rename(folder / "project.yml")
        case "photo":
            photo.write_bytes(b"\1" + bytes(unchanged.WHOLE))
        case _:
            record.chmod(0o600 if record.stat().st_mode & 0o077 else 0o644)
    assert digest_of(folder) != before


def test_how_the_program_is_called_makes_no_other_one_of_it(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """As `bookgen` or as a module of Python, from wherever: only a folder that libraries lie in counts."""
    libraries = unchanged._libraries()
    monkeypatch.syspath_prepend(tmp_path)
    assert unchanged._libraries() == libraries
    (tmp_path / "oak-1.0.dist-info").mkdir()
    assert unchanged._libraries() == [["oak-1.0.dist-info"], *libraries]


def test_another_program_shares_nothing(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What an older or newer program kept is not told: its own files are part of the digest."""
    before = digest_of(folder)
    (tmp_path / "program").mkdir()
    (tmp_path / "program" / "cli.py").write_text("pass", encoding="utf-8")
    monkeypatch.setattr(unchanged, "PROGRAM", tmp_path / "program")
    assert digest_of(folder) != before


def test_a_folder_with_links_is_always_worked_out(folder: Path, worked: list[Path]) -> None:
    """Where a link leads can change unseen, so nothing is kept of such a folder."""
    (folder / "notes.lnk").symlink_to(folder / "project.yaml")
    assert digest_of(folder) is None
    report(folder)
    report(folder)
    assert len(worked) == 2


@pytest.mark.parametrize(
    "text", ["", "{}", '{"problems": [{}], "findings": [], "notes": [], "deciding": {}, "words": []}']
)
def test_a_kept_report_that_is_broken_is_made_again(folder: Path, worked: list[Path], text: str) -> None:
    """Half a file, another form and a file of somebody else tell nothing."""
    first = report(folder)
    (kept,) = (folder.parent / "cache" / reports.KEPT).iterdir()
    kept.write_text(text, encoding="utf-8")
    assert report(folder) == first
    assert len(worked) == 2


def test_the_store_is_bounded_and_never_in_the_way(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The oldest reports go, and without a place for it a report is still told."""
    monkeypatch.setenv("BOOKGEN_CACHE_MB", "1")
    large = Report((), (), (), {}, ("x" * 400_000,))
    for digest in ("a", "b", "c"):
        reports._keep(digest, large)
    assert [reports._kept(digest) for digest in ("a", "b", "c")] == [None, large, large]
    (folder.parent / "file").touch()
    monkeypatch.setenv("BOOKGEN_CACHE", str(folder.parent / "file"))
    reports._keep("d", large)
    assert reports._kept("d") is None
