"""Places in records: which file, line and column a value came from."""

from __future__ import annotations

from bookgen.model.frozen import dataclass

PROJECT_FILE = "project.yaml"  # the one file that every project folder has


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A spot in a file of the project folder; line and column count from 1, and 0 means the file as a whole."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file
