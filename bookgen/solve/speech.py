"""A project in, the language of its book out, and what says our sentences in it."""

from __future__ import annotations

from bookgen.model.project import Project
from bookgen.trade.tongue import Say, Tongue, tongue


def tongue_of(project: Project) -> Tongue:
    """Return the language of the project's book."""
    return tongue(project.record.language)


def say_of(project: Project) -> Say:
    """Return what says an English sentence of ours in the project's language."""
    return tongue_of(project).say
