"""One kind of problem: its permanent code, what it means, and an example that fails and one that passes."""

from __future__ import annotations

from bookgen.model.frozen import dataclass


@dataclass(frozen=True, slots=True)
class ProblemKind:
    """A kind of mistake in a project folder, as `bookgen explain` tells of it.

    *code* is kebab-case and permanent. *wrong* and *right* are lines of a record, or of a folder listing where the
    mistake is one of files.
    """

    code: str
    means: str
    wrong: str
    right: str
