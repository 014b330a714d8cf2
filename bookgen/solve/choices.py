"""A record in, the treatment as it stands out: the choices built, else those planned, and how that is known."""

from __future__ import annotations

from bookgen.model.frozen import dataclass
from bookgen.model.project import Step
from bookgen.model.records.base import Record
from bookgen.model.records.inside import Known
from bookgen.model.records.obstacle import Obstacle


@dataclass(frozen=True, slots=True)
class Chosen:
    """A treatment's name and choices, the path that leads to them in the record, and how they are known."""

    name: str
    choices: Record
    path: tuple[Step, ...]
    known: Known


def chosen(record: Obstacle) -> Chosen | None:
    """Return the treatment as built where the record has one, else as planned; None where there is neither."""
    if record.as_built is not None:
        ((name, choices),) = record.as_built.treatment.chosen()
        return Chosen(name, choices, ("as built", "treatment", name), record.as_built.known)
    if record.treatment is None or record.undecided:
        return None
    ((name, choices),) = record.treatment.chosen()
    return Chosen(name, choices, ("treatment", name), record.known)
