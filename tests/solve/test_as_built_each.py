"""What a record says was built replaces what was planned, in each treatment; what nobody confirmed stays planned."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from bookgen.model.assembly import Assembly
from bookgen.read import read
from bookgen.solve import solve
from tests.solve.test_cases import FOLDER

POST = """obstacle: Post
kind: post
room: family
sentence: A post.
known: {how: measured, on: 2026-04-01}
run: {along: east, from: 96 in, to: 104 in}
inside:
  - what: Steel post
    post: 3-1/2 in steel post
    at: {east: 100 in, north: 120 in, above slab: 0 in to 81.5 in}
    system: structure
    known: {how: measured, on: 2026-03-10}
treatment:
  post wrap: {form: four-sided, finished: 8 in, top: 80 in above slab}
"""
# Which choice was built otherwise, and how?
BUILT = (
    ("wall-soffit", "outside: 12 in", "outside: 13 in"),
    ("hung-soffit", "framing bottom: 79 in", "framing bottom: 78.5 in"),
    ("beam-soffit", "framing bottom: 80 in", "framing bottom: 79 in"),
    ("furring-margin", "across: 149 in", "across: 151 in"),
    (POST, "finished: 8 in", "finished: 9 in"),
    ("cleanout", "along: 32.5 in to 47.5 in\n    front", "along: 32 in to 47.5 in\n    front"),
    ("panel", "deep: 42 in", "deep: 43 in"),
    ("appliance-free", "rough opening: 60 in to 92 in", "rough opening: 61 in to 93 in"),
    ("stair", "rail: 36 in", "rail: 37 in"),
    ("opening-wide", "opening: 12 x 12 in", "opening: 13 x 12 in"),
)


def written(case: str, planned: str, built: str, known: str) -> str:
    """Return a case as it was planned, with what was built otherwise as a person writes it, known like that."""
    text = case if case == POST else (FOLDER / f"{case}.yaml").read_text("utf-8")
    text = re.sub(r" *#.*", "", text).replace("margin: 1-1/2 in", "margin: 1/4 in")
    (block,) = re.findall(r"(?m)^treatment:\n(?:[ ].*\n)+", text)
    assert planned in block
    deeper = "".join(f"  {line}\n" for line in block.replace(planned, built).splitlines())
    text = re.sub(r"(?m)^known: .*\n", "known: {how: planned}\n", text)
    return f"{text}as built:\n{deeper}  known: {known}\n" if known else text.replace(planned, built)


def framed(text: str, folder: Path) -> Assembly:
    """Return the treatment of the only record of a small level."""
    shutil.copytree(FOLDER / "good", folder)
    (folder / "obstacles").mkdir()
    (folder / "obstacles" / "case.yaml").write_text(text, "utf-8")
    project, problems = read(folder)
    assert project is not None, problems
    found, problems = solve(project)
    assert found is not None, problems
    assembly = found.obstacle("case").assembly
    assert assembly is not None
    return assembly


@pytest.mark.parametrize(("case", "planned", "built"), BUILT, ids=[row[0].partition("\n")[0] for row in BUILT])
def test_what_was_built_replaces_the_plan(case: str, planned: str, built: str, tmp_path: Path) -> None:
    """Every piece lies where it would if that had been planned; it is known as built, and one difference is told."""
    as_built = framed(written(case, planned, built, "{how: measured, on: 2026-04-01}"), tmp_path / "built")
    as_planned = framed(written(case, planned, built, ""), tmp_path / "planned")
    assert as_built.parts == as_planned.parts
    assert as_built.anchors == as_planned.anchors
    assert len(as_built.differences) == 1
    assert (as_built.known.how, as_planned.known.how) == ("measured", "planned")
    assert as_planned.differences == ()
