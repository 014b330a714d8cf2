"""Project folder -> the project with exact values and the place of each, or every Problem in it; only here is YAML."""

from bookgen.read.project import read

__all__ = ["read"]
