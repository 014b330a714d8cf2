"""The project record in; the PDF files of papers that it names out, or why one of them can't be used."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path as FilePath
from pathlib import PurePosixPath, PureWindowsPath

from bookgen.model.problem import Problem
from bookgen.read.attachments import LONGEST_NAME
from bookgen.read.near import nearest
from bookgen.read.source import ANY, Path, Source

PAPERS_FOLDER = "papers"
SUFFIX = ".pdf"
START, END = b"%PDF-", b"%%EOF"  # ISO 32000-1, 7.5.2 and 7.5.5
TAIL = 1024  # bytes at the end, within which readers look for the end mark (ISO 32000-1, annex H, note 18, from memory)
LARGEST = 25 * 1024 * 1024  # bytes; as much as a mail usually takes
USED: Path = ("papers", ANY, "file")


def papers_of(folder: FilePath, project: Source | None) -> tuple[dict[str, FilePath], tuple[Problem, ...]]:
    """Return the PDF files that the papers name, by the name they use. Raises OSError where one can't be opened."""
    found: dict[str, FilePath] = {}
    problems: list[Problem] = []
    for path, name in project.texts(USED) if project else ():
        wrong = next(_faults(folder / PAPERS_FOLDER, project, path, name), None) if project else None
        if wrong:
            problems.append(wrong)
        else:
            found[name] = folder / PAPERS_FOLDER / name
    return found, tuple(problems)


def _faults(papers: FilePath, project: Source, path: Path, name: str) -> Iterator[Problem]:
    """Yield what keeps the file from being used; the first is told, since the others may follow from it."""
    if len(name.encode()) > LONGEST_NAME:
        yield project.problem("paper-missing", path, "no file name is that long", "write the name of a file in papers/")
        return
    parts = PurePosixPath(name).parts
    if "\\" in name or name.startswith("/") or PureWindowsPath(name).anchor or ".." in parts or _is_link(papers, parts):
        rule = "the name, or a link on the way, leads out of the papers/ folder"
        yield project.problem("paper-outside", path, rule, "copy the file into papers/ and write its name in there")
        return
    if not name.lower().endswith(SUFFIX):
        rule = "papers are kept as PDF, which any machine will still open in twenty years"
        yield project.problem("paper-not-pdf", path, rule, "scan or print it to a PDF, and write that file's name")
        return
    file = papers / name
    if not file.is_file():
        close = nearest(file.name, sorted(one.name for one in papers.glob(f"*{SUFFIX}")))
        repair = f"did you mean {close}?" if close else "copy the file into papers/, or delete the line"
        yield project.problem("paper-missing", path, "there is no such file in papers/", repair)
        return
    size = file.stat().st_size
    if size > LARGEST:
        rule = f"it holds {size // 1024 // 1024} MiB, and at most {LARGEST // 1024 // 1024} go into a book"
        yield project.problem(
            "paper-too-large", path, rule, "scan it with fewer dots to the inch, or cut it into parts"
        )
        return
    with file.open("rb") as opened:
        head = opened.read(len(START))
        opened.seek(max(0, size - TAIL))
        if head != START or END not in opened.read():
            rule = "it is no whole PDF: its first or last bytes are others"
            yield project.problem(
                "paper-not-pdf", path, rule, "open it in a viewer, and save or print it to a PDF again"
            )


def _is_link(papers: FilePath, parts: tuple[str, ...]) -> bool:
    here = papers
    for part in parts:
        here /= part
        if here.is_symlink():
            return True
    return False
