"""The records as nouns: what project.yaml and the obstacle files say, exact and checked for form."""

from bookgen.model.records.base import Record
from bookgen.model.records.obstacle import Obstacle
from bookgen.model.records.project import Project

__all__ = ["Obstacle", "Project", "Record"]
