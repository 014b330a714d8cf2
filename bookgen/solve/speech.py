"""A project in, what says our sentences in the language of its book out."""

from __future__ import annotations

from bookgen.model.project import Project
from bookgen.trade.tongue import Say, tongue


def say_of(project: Project) -> Say:
    """Return what says an English sentence of ours in the project's language."""
    return tongue(project.record.language).say
