"""A good project folder in a temporary place, for the tests of the read room to spoil one file at a time."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image

CASES = Path(__file__).parents[1] / "cases" / "read"


@pytest.fixture
def good_project(tmp_path: Path) -> Path:
    """Return a folder with a least project in it that has no mistake."""
    folder = tmp_path / "tamarack"
    shutil.copytree(CASES / "good", folder)
    (folder / "photos").mkdir()
    Image.new("RGB", (8, 6), "white").save(folder / "photos" / "before.png")
    return folder


@pytest.fixture
def spoil(good_project: Path) -> Callable[[str, str, str], Path]:
    """Return a function that replaces the one text of a file that stands there by another."""

    def change(file: str, old: str, new: str) -> Path:
        path = good_project / file
        text = path.read_text("utf-8")
        assert text.count(old) == 1, f"{old} stands {text.count(old)} times in {file}"
        path.write_text(text.replace(old, new), "utf-8")
        return good_project

    return change
