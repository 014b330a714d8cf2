"""Treatments in, the same without the nailers that another one's nailer in the same bay serves for, out.

Of two soffits along the joists with a rail in one bay, the one whose record comes later hangs on the blocks of the
other where its own would meet them. Such a block lies less than its width off the one it stands for: from its near edge
to that of the next one it is never further than the spacing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bookgen.model.assembly import Assembly, Part
from bookgen.model.geometry import AXES, Axis, Box
from bookgen.model.project import Project
from bookgen.solve.framing import Stretch
from bookgen.solve.speech import tongue_of
from bookgen.solve.studwork import overlap

Bay = tuple[Axis, Stretch]


def shared(project: Project, assemblies: Sequence[Assembly]) -> tuple[Assembly, ...]:
    """Return the assemblies in their order, no nailer of one within the nailer of another."""
    laid: dict[Bay, list[tuple[Stretch, str]]] = {}
    return tuple(_hung(project, one, laid) for one in assemblies)


def _hung(project: Project, one: Assembly, laid: dict[Bay, list[tuple[Stretch, str]]]) -> Assembly:
    """Return one without the nailers that are *laid* already, and lay its own."""
    served: list[Part] = []
    hosts: dict[str, None] = {}
    own: list[tuple[Bay, Stretch]] = []
    for part, box in zip(one.parts, one.boxes(), strict=True):
        if part.role != "nailer":
            continue
        bay, along = _bay(one, box)
        host = next((key for stretch, key in laid.get(bay, ()) if overlap(stretch, along)), None)
        if host is None:
            own.append((bay, along))
        else:
            served.append(part)
            hosts[host] = None
    for bay, along in own:
        laid.setdefault(bay, []).append((along, one.key))
    if not served:
        return one
    gone = {part.name for part in served}
    words = tuple(_words(project, key) for key in hosts)
    parts = tuple(part for part in one.parts if part.name not in gone)
    return replace(one, parts=parts, remarks=(*one.remarks, *words))


def _bay(one: Assembly, box: Box) -> tuple[Bay, Stretch]:
    """Return the bay that a nailer spans, from joist to joist, and the stretch of it that the nailer takes."""
    along = one.frame.along
    across = next(axis for axis in AXES[:2] if axis != along)
    return (across, (box.low.on(across), box.high.on(across))), (box.low.on(along), box.high.on(along))


def _words(project: Project, key: str) -> str:
    """Say whose nailers an assembly hangs on."""
    tongue = tongue_of(project)
    whose = next(file.record.obstacle for file in project.obstacles if file.key == key)
    return tongue.say("Where both lie between the same two joists it hangs on the nailers of {what}.", what=whose)
