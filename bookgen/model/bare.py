"""A solved level in, the same with only what a drawing can tell out: where a sentence changes, no line does.

Drawings are made of what is left here, so that they may be kept for as long as that stays the same.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from bookgen.model.assembly import Assembly
from bookgen.model.evidence import PhotoEvidence
from bookgen.model.place import Place
from bookgen.model.project import ObstacleFile, Places, Project
from bookgen.model.records import Project as ProjectRecord
from bookgen.model.records.obstacle import AccessPoint, Photos
from bookgen.model.solved import Solved, SolvedObstacle
from bookgen.model.wordless import NO_WAY_THERE, UNLISTED, UNSAID

NOWHERE = Place("")
NOTHING: Mapping[str, object] = {**UNSAID, "sentence": "", "photos": Photos(), "answered": ()}
NO_PAPERS: Mapping[str, object] = {**UNLISTED, "upkeep": (), "answered": ()}
NO_ACCESS: Mapping[str, object] = {**NO_WAY_THERE, "ties": (), "shutoff": None, "where": ""}


def bare(solved: Solved) -> Solved:
    """Return *solved* without what only words say: sentences, notes, photos, papers, findings, places in records."""
    return replace(
        solved,
        project=_project(solved.project),
        level=replace(solved.level, linings=tuple(_assembly(one) for one in solved.level.linings)),
        obstacles=tuple(_obstacle(one) for one in solved.obstacles),
        findings=(),
        photos=PhotoEvidence(),
    )


def _project(project: Project) -> Project:
    return replace(
        project,
        folder=project.folder.__class__(),
        record=_record(project.record),
        obstacles=tuple(_file(file) for file in project.obstacles),
        photos=MappingProxyType({}),
        notes=MappingProxyType({}),
        places=Places(MappingProxyType({})),
        written=MappingProxyType({}),
        prices=None,
        papers=MappingProxyType({}),
        missed=(),
    )


def _record(record: ProjectRecord) -> ProjectRecord:
    return record.model_copy(update=dict(NO_PAPERS))


def _file(file: ObstacleFile) -> ObstacleFile:
    access = tuple(_access(point) for point in file.record.access)
    return replace(file, record=file.record.model_copy(update={**NOTHING, "access": access}))


def _access(point: AccessPoint) -> AccessPoint:
    return point.model_copy(update=dict(NO_ACCESS))


def _obstacle(obstacle: SolvedObstacle) -> SolvedObstacle:
    return replace(
        obstacle,
        place=NOWHERE,
        hidden=tuple(replace(thing, place=NOWHERE) for thing in obstacle.hidden),
        assembly=_assembly(obstacle.assembly) if obstacle.assembly else None,
    )


def _assembly(assembly: Assembly) -> Assembly:
    return replace(assembly, place=NOWHERE)
