"""Project folder -> the project with exact values and the place of each, or every Problem in it; only here is YAML."""

from bookgen.read.project import book_language, read
from bookgen.read.rewrite import rewritten

__all__ = ["book_language", "read", "rewritten"]
