"""What a treatment has worked out in, its Assembly out; pieces built on the level in, those of a run's frame out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import Assembly, Face, Measure, Part, Space
from bookgen.model.frame import Frame
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Point, Prism
from bookgen.model.project import Step
from bookgen.model.records.inside import Known
from bookgen.model.records.values import Span
from bookgen.solve.choices import chosen
from bookgen.solve.framing import Stretch
from bookgen.solve.site import Site, Worked


@dataclass(frozen=True, slots=True)
class Work:
    """What a treatment has worked out, in the run's frame; *section* is the governing station."""

    parts: tuple[Part, ...]
    faces: tuple[Face, ...]
    anchors: Mapping[str, Point]
    measures: tuple[Measure, ...]
    section: Fraction
    remarks: tuple[str, ...] = ()
    spaces: tuple[Space, ...] = ()


def path_to(site: Site, *steps: Step) -> tuple[Step, ...]:
    """Return the path of a value of the treatment as it stands, under `treatment` or `as built`."""
    pick = chosen(site.file.record)
    return (*(pick.path if pick is not None else ()), *steps)


def assembled(site: Site, treatment: str, work: Work) -> Worked:
    """Return the Assembly of a treatment, cut where the record's own `section at` asks for it.

    A `section-outside` Problem where that station is not on the run or the work.
    """
    record, pick = site.file.record, chosen(site.file.record)
    section = work.section
    if record.section_at is not None:
        boxes = [part.solid.bounds() for part in work.parts]
        low, high = min(site.run[0], *(b.low.x for b in boxes)), max(site.run[1], *(b.high.x for b in boxes))
        section = record.section_at.inches
        if not low <= section <= high:
            rule = f"the work goes from {site.tape.long(low)} to {site.tape.long(high)}"
            value, repair = site.tape.long(record.section_at), "write a station on it"
            return None, (site.problem("section-outside", ("section at",), value, rule, repair),)
    return _assembly(site, treatment, work, section, pick.known if pick is not None else record.known), ()


def _assembly(site: Site, treatment: str, work: Work, section: Fraction, known: Known) -> Assembly:
    return Assembly(
        key=site.file.key,
        treatment=treatment,
        title=treatment.capitalize(),
        frame=site.frame,
        run=site.run,
        section_at=section,
        parts=work.parts,
        faces=work.faces,
        anchors=work.anchors,
        measures=work.measures,
        known=known,
        place=site.place(*path_to(site)),
        remarks=work.remarks,
        spaces=work.spaces,
    )


def part_from_level(frame: Frame, part: Part) -> Part:
    """Return a part that was built on the level's axes in the run's frame."""
    return replace(part, solid=frame.solid_from_level(part.solid))


def face_from_level(frame: Frame, face: Face) -> Face:
    """Return a face that was built on the level's axes in the run's frame."""
    solid = frame.solid_from_level(Prism(face.outline, face.axis, face.at, face.at))
    if not isinstance(solid, Prism):
        raise TypeError("a face is flat")
    turned = frame.off if solid.axis == "y" else 1
    return replace(face, axis=solid.axis, at=solid.start, toward=face.toward * turned, outline=solid.profile)


def ends(span: Span) -> Stretch:
    """Return both ends of a stretch in inches."""
    return span.low.inches, span.high.inches


def middle(stretch: Stretch) -> Fraction:
    """Return the middle of a stretch."""
    return (stretch[0] + stretch[1]) / 2
