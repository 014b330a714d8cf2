"""The PDF files of papers: each thing that keeps one from being used is told at its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from bookgen.read import read
from bookgen.read.paper_files import LARGEST
from tests.test_papers import house


@pytest.mark.parametrize(
    ("file", "code", "content"),
    [
        ("gone.pdf", "paper-missing", None),
        ("x" * 300 + ".pdf", "paper-missing", None),
        ("scan.docx", "paper-not-pdf", b"PK"),
        ("renamed.pdf", "paper-not-pdf", b"PK\x03\x04 and so on"),
        ("cut.pdf", "paper-not-pdf", b"%PDF-1.7 and then the copy broke off"),
        ("../project.pdf", "paper-outside", None),
        ("/etc/one.pdf", "paper-outside", None),
        ("big.pdf", "paper-too-large", b"%PDF-1.7"),
    ],
)
def test_what_is_no_paper_is_told_at_its_line(tmp_path: Path, file: str, code: str, content: bytes | None) -> None:
    """A missing file, one that is no whole PDF, one from elsewhere, one that is too large."""
    project = house(tmp_path, f"  - {{what: Manual, kind: manual, file: {file}}}")
    if content is not None:
        with (project / "papers" / file).open("wb") as opened:
            opened.write(content)
            if code == "paper-too-large":
                opened.truncate(LARGEST + 1)
    made, problems = read(project)
    assert made is None
    assert [problem.code for problem in problems] == [code]
    assert file in (project / "project.yaml").read_text("utf-8").splitlines()[problems[0].place.line - 1]


def test_a_link_is_no_paper(tmp_path: Path) -> None:
    """A link in papers/ could lead anywhere on the machine, and would be lost when the folder is copied."""
    project = house(tmp_path, "  - {what: Manual, kind: manual, file: linked.pdf}")
    (project / "papers" / "linked.pdf").symlink_to(project / "papers" / "heater.pdf")
    assert [problem.code for problem in read(project)[1]] == ["paper-outside"]
