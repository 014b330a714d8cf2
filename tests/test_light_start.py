"""A command loads no library that it does not need: counted in a process of its own, from an empty cache."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

PROJECTS = Path(__file__).parents[1] / "projects"
HEAVY = (
    "PIL", "fontTools", "highspy", "jinja2", "matplotlib", "numpy", "openpyxl", "pi_heif", "segno", "shapely", "ssl",
    "svgwrite", "typst", "urllib.request",
)  # fmt: skip


@pytest.mark.parametrize(("project", "needed"), [("smallest", []), ("tamarack", ["numpy"])])
def test_a_first_check_loads_nothing_heavy(tmp_path: Path, project: str, needed: list[str]) -> None:
    """Templates, pictures, print and charts are a book's; numpy serves photos with points on them, and only these."""
    script = (
        "import atexit, sys; from bookgen.__main__ import main\n"
        f"atexit.register(lambda: print('loaded:', *(one for one in {HEAVY} if one in sys.modules)))\n"
        f"sys.argv = ['bookgen', 'check', {str(PROJECTS / project)!r}]\n"
        "main()"
    )
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    for turn in ("first", "second"):  # the first looks through the templates of the themes, where nobody has before
        kept = environment | {"BOOKGEN_CACHE": str(tmp_path / turn)}
        run = subprocess.run([sys.executable, "-c", script], env=kept, capture_output=True, text=True, check=True)  # noqa: S603
    assert run.stdout.splitlines()[-1].split()[1:] == needed, run.stdout
