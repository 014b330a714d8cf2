"""A metric project reads millimetres wherever its book, its findings and its proposals say a length."""

from __future__ import annotations

import re
import shutil
from dataclasses import fields
from pathlib import Path

import pytest

from bookgen.check import choices, look_over
from bookgen.choosing import lines
from bookgen.model.book import Edition
from bookgen.model.tape import Tape
from bookgen.read import read
from tests.compose.pseudo import texts
from tests.compose.test_languages import KEY, PROJECTS, UNREAD, book_of

# Pipe goes by its inches in every country that sells it by them; what a source is quoted with stays as it was quoted.
CALLED = re.compile(
    r"\d(?:/\d)? in (?:ABS|PVC|copper|drain|pipe)|pipe(?: \w+)* \d+ in\b"
    r"|\([^()]*(?:a square foot|framing not over|140 lb)[^()]*\)"
)
IMPERIAL = re.compile(r"[\u2032\u2033]|(?<![\w-])\d[ \u00a0-]?(?:in|ft|feet|inch|inches|gal|lb|oz|sq ft|square feet)\b")


def imperial(text: str) -> bool:
    """Tell whether a text has a length or an amount in inches, feet, pounds or gallons."""
    return IMPERIAL.search(CALLED.sub("", text)) is not None


@pytest.mark.parametrize("edition", [Edition.TRADE, Edition.OWNER])
def test_a_metric_book_has_no_inch(edition: Edition) -> None:
    """No page of the metric sample, sketch labels, takeoff and what the checks ask included, says an inch or a foot."""
    project, _ = read(PROJECTS / "heron")
    assert project is not None
    book = book_of(project, edition)
    said = [text for field in fields(book) if field.name not in UNREAD for text in texts(getattr(book, field.name))]
    said.append(book.terms["screws say"])

    assert len(said) > 900
    assert sorted({text for text in said if imperial(text) and not KEY.fullmatch(text)}) == []


def test_what_may_be_chosen_for_a_metric_job_is_written_in_millimetres(tmp_path: Path) -> None:
    """Each proposal is a piece of a record in millimetres, and reads back as a treatment."""
    folder = shutil.copytree(PROJECTS / "heron", tmp_path / "heron")
    for record in (folder / "obstacles").glob("*.yaml"):
        text = re.sub(r"\ntreatment:\n(?:  .*\n)+", "\ntreatment: propose\n", record.read_text("utf-8"))
        record.write_text(text, "utf-8")
    seen = look_over(folder)
    undecided = choices(seen)

    assert seen.project is not None
    assert len(undecided) == 2
    told = [line for one in undecided for line in lines(one, seen.project, folder)]
    assert any("mm above slab" in line for line in told)
    assert [line for line in told if imperial(line)] == []
    assert any(one.cost for choice in undecided for one in choice.proposals)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("16 to 32 in apart", "406 to 813 mm apart"),  # 1 in is 25.4 mm exactly
        ("deep: 42 in off the block (38 1/10 in before)", "deep: 1067 mm off the block (968 mm before)"),
        ("opening: 8 x 12 in", "opening: 203 x 305 mm"),
        ("every 10 ft", "every 3048 mm"),
        ("the 6 ft 4 in exception", "the 1930 mm exception"),
        ("300 sq ft of joists", "27.9 m² of joists"),
        ("a 3/4 in copper line (7/8 in)", "a 3/4 in copper line (22 mm)"),
        ("pipe of 6 in or less", "pipe of 6 in or less"),
        ("2x10 joists", "2x10 joists"),
    ],
)
def test_sentences_are_told_on_the_tape_of_the_job(text: str, told: str) -> None:
    """Lengths within a sentence are converted; what is called by its inches, pipe and lumber, keeps its name."""
    assert Tape("metric").told(text) == told
    assert Tape().told(text) == text


def test_packs_are_told_by_what_they_hold() -> None:
    """500 ft are 152.4 m, 4.5 US gallons 17.03 litres, 1 lb 0.4536 kg, 300 square feet 27.87 m² (NIST SP 811)."""
    pack = Tape("metric").pack

    assert pack("500 ft") == "152 m"
    assert pack("4.5 gal") == "17 l"
    assert pack("1 lb, about 300; or 5 lb") == "0.45 kg, about 300; or 2.3 kg"
    assert pack("1 gal, about 300 to 400 square feet") == "3.8 l, about 28 to 37 m²"
    assert Tape().pack("500 ft") == "500 ft"
