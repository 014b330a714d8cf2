"""A project in, the same without what only its readers take from it out: where a sentence changes, no board moves.

A level is worked out from what is left here, so that it can be remembered for as long as that stays the same.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from bookgen.model.project import ObstacleFile, Project
from bookgen.model.records.obstacle import Photos

UNSAID: Mapping[str, object] = {
    "cautions": (),
    "upkeep": (),
    "materials": (),
    "facts": (),
    "questions": (),
    "notes": None,
}
UNLISTED: Mapping[str, object] = {"people": (), "materials": (), "papers": (), "hazards_that_remain": ()}
NO_WAY_THERE: Mapping[str, object] = {"steps": (), "keep_clear": None}
SPOKEN = frozenset({"pit"})  # obstacles whose sentence is listened to: it may say that a lid is tight


def wordless(project: Project) -> Project:
    """Return *project* without sentences, lists and papers; of its photos are left those by which something is known.

    Places stay as they are, and so does what the records call each thing.
    """
    return replace(
        project,
        record=project.record.model_copy(update=dict(UNLISTED)),
        obstacles=tuple(_file(file) for file in project.obstacles),
        notes=MappingProxyType({}),
        written=MappingProxyType({}),
        papers=MappingProxyType({}),
        missed=(),
    )


def _file(file: ObstacleFile) -> ObstacleFile:
    record = file.record
    said = {
        **UNSAID,
        "sentence": record.sentence if record.kind in SPOKEN else "",
        "access": tuple(point.model_copy(update=dict(NO_WAY_THERE)) for point in record.access),
        "photos": record.photos if record.photos.pointed else Photos(),
    }
    return replace(file, record=record.model_copy(update=said))
