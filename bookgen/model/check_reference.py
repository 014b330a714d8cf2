"""What the checks ask, as data: each check's own words, its two examples, and the figures it holds things against."""

from __future__ import annotations

from bookgen.model.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of one source: who asks it, of what, how much, where the text was seen, and how sure that makes it."""

    cited: str
    of: str
    asks: str
    source: str
    sure: str

    @property
    def told(self) -> str:
        """Return who asks it and where that was seen, nothing said twice."""
        return self.source if self.cited in self.source else f"{self.cited}; {self.source}"


@dataclass(frozen=True, slots=True)
class CheckReference:
    """One check: its name, what it finds, an example that it passes over, one that it finds, and its figures.

    *says* is a clause without a full stop. *quiet* and *found* are lines of records or plain words.
    """

    check: str
    says: str
    quiet: tuple[str, ...]
    found: tuple[str, ...]
    notes: str
    figures: tuple[Figure, ...]
