"""What tests of several rooms share: one cache, the order of files, the browser, the tally of hostile things tried."""

from __future__ import annotations

import gc
import os
import shutil
import signal
import tempfile
from collections.abc import Callable, Iterator, Sequence
from functools import cache as once
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

from tests.parsed import Parsed, parse
from tests.tried import TRIED, Tally

if TYPE_CHECKING:
    from _pytest.terminal import TerminalReporter
    from playwright.sync_api import Browser

CACHE = "BOOKGEN_CACHE"
NAMES = ("chromium", "chromium-browser", "google-chrome")

# What takes longest begins first, so that at the end no core waits for the other.
FIRST = (
    "test_bind.py",
    "test_hostile.py",
    "test_faults.py",
    "test_bindery.py",
    "test_shelf.py",
    "test_handover.py",
    "test_search_browser.py",
    "test_html_open_to_all.py",
    "test_fuzz.py",
    "test_memory.py",
    "test_proof.py",
    "test_hurting_folders.py",
    "test_publish_faults.py",
    "test_html_browser.py",
)


# After so many new objects Python looks for those that hold one another and nobody else. It would look sixty times as
# often, each time through all the houses, books and pages that a process keeps for its tests: a sixth of a whole run.
NEW_OBJECTS = 50_000

# How long an example takes says more of the machine than of the program; that is for the benchmarks.
settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("untimed")


def pytest_configure(config: pytest.Config) -> None:
    """Give the run a cache that is empty at first, shared by all its processes and gone at the end.

    A shell that starts a run in the background has it ignore Ctrl-C; the programs that a test interrupts must not.
    """
    signal.signal(signal.SIGINT, signal.default_int_handler)
    if not hasattr(config, "workerinput"):  # the processes of the run inherit it
        folder = tempfile.TemporaryDirectory(prefix="bookgen-cache-")
        os.environ[CACHE] = folder.name
        config.add_cleanup(folder.cleanup)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the files that take longest in front."""
    order = {name: place for place, name in enumerate(FIRST)}
    items.sort(key=lambda item: order.get(item.path.name, len(order)))


def pytest_collection_finish() -> None:
    """Let what has been loaded until now out of the search for what can be freed, and search less often."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(NEW_OBJECTS, *gc.get_threshold()[1:])


@pytest.fixture(scope="session")
def cache() -> Path:
    """The cache of the run: what one test has worked out of a photo, a font or a book, no other has to."""
    return Path(os.environ[CACHE])


@pytest.fixture(scope="module")
def parsed() -> Parsed:
    """What gives a page's tree, which no test changes, and keeps it until the last test of the file has run."""
    return once(parse)


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


@pytest.fixture
def tally(record_property: Callable[[str, object], None]) -> Tally:
    """What a test tells of how many hostile things it tried, and which got through."""

    def told(what: str, tried: int, through: Sequence[object]) -> None:
        record_property(TRIED, f"{what}: {tried:,} tried, {len(through)} through")

    return told


def pytest_terminal_summary(terminalreporter: TerminalReporter) -> None:
    """Print what was tried at the end of a run."""
    reports = [report for kind in ("passed", "failed") for report in terminalreporter.getreports(kind)]
    lines = [value for report in reports for name, value in report.user_properties if name == TRIED]
    if lines:
        terminalreporter.section("tried")
        for line in sorted(lines):
            terminalreporter.write_line(line)
