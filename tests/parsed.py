"""A page of a bound book in, its tree out; what keeps the trees of a file's pages is in tests/conftest.py."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from bs4 import BeautifulSoup

Parsed = Callable[[Path], BeautifulSoup]


def parse(page: Path) -> BeautifulSoup:
    """Return a page as a tree."""
    return BeautifulSoup(page.read_text("utf-8"), "html.parser")
