"""Templates in, what the template engine has compiled of them kept beside them, as Python keeps what it compiles.

It lies in `__pycache__` of the theme's own folder, so who can change what runs there could change the theme as well;
the cache of finished work, which others might be able to write, holds nothing that runs.
"""

from __future__ import annotations

import hashlib
import os
import sys
from contextlib import suppress
from pathlib import Path

from jinja2 import BytecodeCache
from jinja2.bccache import Bucket

from bookgen.render.kept import keep_bytes, kept_bytes
from bookgen.unchanged import MADE_BY_PYTHON, digest_of_program

ENDING = ".template"


class BesideTemplates(BytecodeCache):
    """Keeps the code of each template in the folder that its theme lies in; where that can't be written, nothing."""

    def get_cache_key(self, name: str, filename: str | None = None) -> str:  # noqa: ARG002 - a name is one file's
        """Return the file that the code of a template lies in; "" for one that was made of a text."""
        if filename is None:
            return ""
        home = Path(os.path.abspath(filename))  # noqa: PTH100 - the folder as it is named, whatever it is a link to
        return str(home.parent / MADE_BY_PYTHON / f"{home.stem}.{sys.implementation.cache_tag}{ENDING}")

    def get_source_checksum(self, source: str) -> str:
        """Return a digest of the template and of the program: its code may hold what a filter made of a constant."""
        return hashlib.sha256(f"{digest_of_program()} {source}".encode()).hexdigest()

    def load_bytecode(self, bucket: Bucket) -> None:
        """Put the code that was kept into *bucket*, if it is this template's."""
        if bucket.key:
            with suppress(OSError, EOFError, ValueError):
                bucket.bytecode_from_string(kept_bytes(Path(bucket.key)) or b"")

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep the code of *bucket*, whole at once, unless Python was told to write none."""
        if sys.dont_write_bytecode or not bucket.key:
            return
        with suppress(OSError):
            keep_bytes(Path(bucket.key), bucket.bytecode_to_string())
