"""A book in another language has no English word of ours left: with each fixed word in brackets, none stands bare."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path

import openpyxl
import pytest

import bookgen.compose.terms
import bookgen.trade.tongue
from bookgen.compose import compose, for_edition, material_list
from bookgen.compose.terms import terms
from bookgen.desk.start import left_over
from bookgen.draw import cutting_diagrams, level_sketches, sketches
from bookgen.model.book import Book, Edition
from bookgen.model.project import Project
from bookgen.model.solved import Solved
from bookgen.read import book_language, read
from bookgen.render.workbook import write_workbook
from bookgen.report import report
from bookgen.solve.checks.reference import references
from bookgen.solve.takeoff.buy import buy
from bookgen.solve.whole import solve
from bookgen.telling import Undone, print_findings, print_notes, print_problems, tally
from bookgen.trade.tongue import tongue
from tests.compose.pseudo import bare, terms_document, texts, tongue_document, words_of
from tests.trade.said import sentences, whole

PROJECTS = Path(__file__).parents[2] / "projects"
# Keys of the book that no reader sees, and its own lists of words.
UNREAD = {
    "terms",
    "search",
    "key",
    "theme",
    "theme_options",
    "paper",
    "language",
    "book_id",
    "layers",
    "plan",
}
KEY = re.compile(r"[0-9a-z]+(?:-[0-9a-z]+)+|[0-9a-f]{16}")  # keys of sketches, slugs, identities
# Names of kinds that templates ask for, never print; signal words stand for themselves until a template says them.
KINDS = {"paragraph", "point", "arrow", "box", "DANGER", "WARNING", "CAUTION", "NOTICE", "headroom"}
LISTINGS = {"buy", "cost", "cost-by-record", "finishing", "hardware", "saved"}  # parts of a takeoff, by key
# What a source is cited with: a page by its address; codes, places and papers by their names, in capitals.
ADDRESS = re.compile(r"\b(?:[a-z-]+\.)+(?:ca|codes|com|fr|net|online|org)\b")
NAMED = re.compile(r"(?<![^\W\d_])[A-Z]\w+")
# What a job is written with that no language changes: the names of its files, and the sign for inches of pipe.
WRITTEN = re.compile(r"\b\d\d-[a-z]+\b|\b3 in\b")
LOOKED_UP = {"before", "finished", "measured", "owner", "work"}  # keys that a template says
GAP = re.compile(r"\{\w+\}")
CITED = {"check_reference", "checks", "chapters", "takeoff"}


@pytest.fixture
def marked(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Let Spanish be the language whose every word stands in brackets."""
    document = bookgen.trade.tongue._document("es")
    monkeypatch.setattr(
        bookgen.trade.tongue,
        "_document",
        lambda _code: tongue_document(list(document["names"]), list(document["sources"])),
    )
    monkeypatch.setattr(bookgen.compose.terms, "_document", lambda _code: terms_document())
    tongue.cache_clear()
    terms.cache_clear()
    yield
    tongue.cache_clear()
    terms.cache_clear()


@pytest.mark.usefixtures("marked")
@pytest.mark.parametrize(
    ("name", "edition"),
    [
        ("heron", Edition.OWNER),
        ("heron", Edition.TRADE),
        pytest.param("heron", Edition.SAMPLE, marks=pytest.mark.long),
        pytest.param("tamarack", Edition.OWNER, marks=pytest.mark.long),
        pytest.param("tamarack", Edition.SAMPLE, marks=pytest.mark.long),
        pytest.param("tamarack", Edition.TRADE, marks=pytest.mark.long),
    ],
)
def test_no_word_of_ours_bypasses_the_tables(name: str, edition: Edition) -> None:
    """Whatever stands outside of brackets has been written by a record."""
    spanish = _spanish(name)
    book = book_of(spanish, edition)
    written = words_of(texts(spanish))

    found = {
        (field.name, text): left
        for field in fields(book)
        if field.name not in UNREAD
        for text in texts(getattr(book, field.name))
        if not KEY.fullmatch(text)
        and text not in KINDS | LISTINGS
        and (left := bare(_uncited(text, field.name), written))
    }
    assert found == {}


def test_a_sample_in_two_languages_makes_a_wholly_spanishbook_of(tmp_path: Path) -> None:
    """No word that only our English uses is left in it; what the checks cite is held by the test with brackets."""
    folder = shutil.copytree(PROJECTS / "heron", tmp_path / "heron")
    record = folder / "project.yaml"
    record.write_text(record.read_text("utf-8").replace("\nlanguage: en\n", "\nlanguage: es\n"), "utf-8")
    project, problems = read(folder)
    assert problems == ()
    assert project is not None
    assert (project.record.language, project.missed) == ("es", ())

    ours = {*sentences(), *terms("en").words.values()} - whole()  # the lines of records in `whole` are in no language
    theirs = [said for english, said in tongue("es").words.items() if english not in whole()]
    theirs += [*(form for _, form in tongue("es").names), *terms("es").words.values()]
    named = words_of(texts([project.record.people, project.record.private]))
    english = words_of(GAP.sub("", form) for form in ours) - words_of(GAP.sub("", form) for form in theirs) - named
    book = book_of(project, Edition.TRADE)
    said = {
        (field.name, text): left
        for field in fields(book)
        if field.name not in UNREAD | {"check_reference"}
        for text in texts(getattr(book, field.name))
        if not KEY.fullmatch(text) and text not in KINDS | LISTINGS | LOOKED_UP
        if (left := words_of([WRITTEN.sub("", text)]) & english)
    }
    assert {"the", "wall", "stud", "wood"} <= english
    assert said == {}


def _uncited(text: str, field: str) -> str:
    """Return a text without the names that its sources are cited by."""
    return NAMED.sub("", ADDRESS.sub("", text)) if field in CITED else text


def _spanish(name: str) -> Project:
    project, _ = read(PROJECTS / name)
    assert project is not None
    return replace(project, record=project.record.model_copy(update={"language": "es"}))


def _solved(project: Project) -> Solved:
    solved, problems = solve(project)
    assert problems == ()
    assert solved is not None
    return solved


def book_of(project: Project, edition: Edition) -> Book:
    """Return one edition of a project's book, drawn and composed."""
    solved = _solved(project)
    told = for_edition(buy(solved) if edition is Edition.TRADE else solved, edition, prices=False)
    drawn, _ = sketches(told)
    drawn = {**drawn, **cutting_diagrams(told)}
    asked = references(told.project.tape, tongue(told.project.record.language))
    return compose(told, drawn, None if edition is Edition.SAMPLE else level_sketches(told), edition, asked)


@pytest.mark.usefixtures("marked")
def test_no_word_of_ours_bypasses_the_tables_in_a_workbook(tmp_path: Path) -> None:
    """What is bought by is read by people who may have no English: sheets, heads, settings and every cell of ours."""
    spanish = _spanish("heron")
    bought = buy(_solved(spanish))
    write_workbook(bought, material_list(bought), tmp_path / "takeoff.xlsx")
    book = openpyxl.load_workbook(tmp_path / "takeoff.xlsx")
    cells = [cell.value for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type == "s"]
    written = words_of(texts(spanish))

    assert len(cells) > 100
    found = {text: left for text in (*book.sheetnames, *cells) if (left := bare(_uncited(text, "takeoff"), written))}
    assert found == {}


@pytest.mark.usefixtures("marked")
def test_no_word_of_ours_bypasses_the_tables_on_a_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    """What `check` prints of a Spanish job is Spanish but for the names of checks and places."""
    spanish = _spanish("heron")
    findings = _solved(spanish).findings
    print_findings(findings, Path("heron"), "es")
    print_notes(left_over(spanish.record), Path("heron"), "es")
    printed = " ".join(capsys.readouterr().out.split()) + tally(findings, "es")
    codes = {word for finding in findings for word in finding.code.split("-")}
    written = words_of(texts(spanish)) | codes | {"heron", "obstacles", "yaml", "project"}

    assert bare(_uncited(printed, "checks"), written) == []


def test_a_problem_of_a_spanish_job_is_told_in_spanish(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """First what its kind means, then what is wrong here; its language is looked up where the project can't be read."""
    folder = shutil.copytree(PROJECTS / "heron", tmp_path / "heron")
    record = folder / "project.yaml"
    text = record.read_text("utf-8").replace("\nlanguage: en\n", "\nlanguage: es\n")
    record.write_text(text.replace("units: metric", "units: metrical"), "utf-8")
    told = report(folder)
    print_problems(told.problems, folder, told.language, Undone.BINDING)
    printed = " ".join(capsys.readouterr().out.split())

    assert (book_language(folder), told.language) == ("es", "es")
    assert "Aquí solo pueden ir ciertas palabras" in printed
    assert "units: metrical — no es ninguna de las palabras que pueden ir aquí. → ¿quiso decir metric?" in printed
    assert "1 problema; no se encuadernó nada. bookgen explain --language es CÓDIGO dice más de uno." in printed
