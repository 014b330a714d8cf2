"""A command of the program in, its exit code and what it said out: by a process of its own, or within this one.

Tests ask for a process where the process itself is what they ask about, or has to have an environment of its own. The
other commands are run here: a process spends a second on loading what this one has loaded long since.
"""

from __future__ import annotations

import os
import subprocess
import sys
from contextlib import chdir, redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path

import pytest

from bookgen.cli import main

FONTS = "fonts"
Ended = subprocess.CompletedProcess[str]


def by_itself(*arguments: str | Path, cwd: Path, cache: Path, **variables: str) -> Ended:
    """Run the program as a person does, with a cache of its own."""
    environment = {**os.environ, "BOOKGEN_CACHE": str(cache), **variables}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)  # else each of these runs compiles the whole program anew
    command = [sys.executable, "-m", "bookgen", *map(str, arguments)]
    return subprocess.run(command, cwd=cwd, env=environment, capture_output=True, text=True, check=False)  # noqa: S603


def within(*arguments: str | Path, cwd: Path, cache: Path) -> Ended:
    """Run a command in this process, from its words on the command line to its exit code."""
    words = ["bookgen", *map(str, arguments)]
    out, err, code = StringIO(), StringIO(), 0
    with pytest.MonkeyPatch.context() as patch, chdir(cwd), redirect_stdout(out), redirect_stderr(err):
        patch.setenv("BOOKGEN_CACHE", str(cache))
        patch.setattr(sys, "argv", words)
        try:
            main()
        except SystemExit as end:
            code = int(end.code or 0)
    return Ended(words, code, out.getvalue(), err.getvalue())


def with_fonts(cache: Path, own: Path) -> Path:
    """Return *own*, a cache that is empty but for the fonts, which it shares with the run's *cache*.

    To cut them is half of what binding the least project from nothing takes.
    """
    own.mkdir()
    (cache / FONTS).mkdir(exist_ok=True)
    (own / FONTS).symlink_to(cache / FONTS, target_is_directory=True)
    return own
