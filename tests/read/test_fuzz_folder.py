"""Any bytes in any file of a folder: the whole reader answers with problems."""

from __future__ import annotations

import shutil
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bookgen.read import read

GOOD = Path(__file__).parents[1] / "cases" / "read" / "good"
FILES = ["project.yaml", "obstacles/main-drain.yaml", "notes/drain.md"]
TEXTS = {file: (GOOD / file).read_text("utf-8") for file in FILES}


@settings(max_examples=60, suppress_health_check=list(HealthCheck))
@given(
    file=st.sampled_from(FILES),
    start=st.floats(0, 1),
    length=st.integers(0, 12),
    new=st.sampled_from(["", " ", "\n", ":", ": ", "- ", "[", "}", '"', "'", "#", " #x", "&a", "*a", "\t", "0"])
    | st.text(max_size=5),
)
def test_a_slip_anywhere_gives_problems_or_a_project(
    tmp_path: Path, file: str, start: float, length: int, new: str
) -> None:
    """Some characters of a good project are replaced by others: the reader never raises."""
    folder = tmp_path / "tamarack"
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(GOOD, folder)
    text = TEXTS[file]
    at = int(start * len(text))
    (folder / file).write_bytes((text[:at] + new + text[at + length :]).encode("utf-8", "replace"))

    project, problems = read(folder)

    assert (project is None) == bool(problems)
    assert all(problem.rule and problem.repair for problem in problems)
