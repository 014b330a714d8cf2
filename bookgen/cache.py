"""The environment in, the folder out in which finished pictures and fonts are kept between binds.

It only saves time: it may be deleted at any moment, and where it can't be written a bind goes on without it.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path


def cache_folder() -> Path:
    """Return where finished pictures and fonts are kept."""
    named = os.environ.get("BOOKGEN_CACHE")
    home = os.environ.get("XDG_CACHE_HOME")
    return Path(named) if named else (Path(home) if home else Path.home() / ".cache") / "bookgen"


@contextmanager
def working_cache(progress: Callable[[str, int, int], None]) -> Iterator[Path]:
    """Give the cache folder; where it can't be written, tell *progress* so and give one that goes with the block."""
    folder = cache_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            pass  # it can be written
    except OSError as error:
        progress(f"{folder} can't be written ({error.strerror}); every picture is made anew", 0, 1)
        with tempfile.TemporaryDirectory(prefix="bookgen-") as own:
            yield Path(own)
        return
    yield folder
