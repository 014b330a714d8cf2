"""The records as nouns: what project.yaml, the obstacle files and prices.yaml say, exact and checked for form."""

from bookgen.model.records.base import Record
from bookgen.model.records.obstacle import Obstacle
from bookgen.model.records.prices import Prices
from bookgen.model.records.project import Project

__all__ = ["Obstacle", "Prices", "Project", "Record"]
