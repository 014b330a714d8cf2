"""A project in; what its photos with points on them tell, and every Problem of these, out; each record's told once."""

from __future__ import annotations

from bookgen.model.evidence import PhotoEvidence
from bookgen.model.memory import Memory
from bookgen.model.problem import Problem
from bookgen.model.project import ObstacleFile, Project
from bookgen.model.solved import SolvedLevel


def pointed(project: Project, level: SolvedLevel, memory: Memory) -> tuple[PhotoEvidence, tuple[Problem, ...]]:
    """Return what the photos of all records tell, and a Problem for every set of points that can't be used."""
    told = [_told(project, file, level, memory) for file in project.obstacles if file.record.photos.pointed]
    marks = tuple(mark for one, _ in told for mark in one.marks)
    overlays = tuple(overlay for one, _ in told for overlay in one.overlays)
    return PhotoEvidence(marks, overlays), tuple(problem for _, problems in told for problem in problems)


def _told(
    project: Project, file: ObstacleFile, level: SolvedLevel, memory: Memory
) -> tuple[PhotoEvidence, tuple[Problem, ...]]:
    def work_out() -> tuple[PhotoEvidence, tuple[Problem, ...]]:
        from bookgen.solve.locate.photo_evidence import photo_evidence  # with numpy, which nothing else here needs

        return photo_evidence(project, file, level)

    photos = file.record.photos
    named = sorted({use.file for use in (*photos.before, *photos.framed, *photos.finished)})
    sizes = [(name, one.width, one.height, one.focal) for name in named for one in (project.photos[name],)]
    of = (file.key, photos, sizes, level.floor)
    # A Problem stands at a place, which moves with any line above it.
    return memory.once("photo points", of, tuple, work_out, lambda told: not told[1])
