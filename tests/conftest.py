"""What tests of several rooms share: the browser."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser

NAMES = ("chromium", "chromium-browser", "google-chrome")


def chromium_path() -> str | None:
    """Return the system's Chromium, or None where there is none."""
    return next((path for path in map(shutil.which, NAMES) if path), None)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A Chromium without network; its tests are skipped where there is none, unless BOOKGEN_BROWSER=required."""
    path = chromium_path()
    if path is None:
        if os.environ.get("BOOKGEN_BROWSER") == "required":
            pytest.fail("BOOKGEN_BROWSER=required, but no Chromium was found")
        pytest.skip("no Chromium on this machine")
    from playwright.sync_api import sync_playwright

    switches = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
    with sync_playwright() as driver:
        chromium = driver.chromium.launch(executable_path=path, args=switches)
        yield chromium
        chromium.close()
