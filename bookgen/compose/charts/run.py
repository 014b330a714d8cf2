"""What is framed down in, its headroom and its reach along its run out, with what was asked of the headroom."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import ceil, floor

from bookgen.compose.charts.undersides import looking_down, without_holes
from bookgen.compose.show import Show, sentence_case
from bookgen.model.assembly import SOFFITS, Assembly, Face
from bookgen.model.chart import AlongRun, Chart, Profile, Step, Tick
from bookgen.model.geometry import Polygon
from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.model.project import ObstacleFile
from bookgen.model.solved import Solved, SolvedObstacle

# How far apart may ticks stand, in inches, finest first?
INTERVALS = {
    "imperial": tuple(map(Fraction, (1, 2, 4, 6, 12, 24, 48, 96, 192))),
    "metric": tuple(Fraction(step) / MILLIMETRES_PER_INCH for step in (25, 50, 100, 200, 500, 1000, 2000, 5000)),
}
MOST_TICKS, MOST_STATIONS = 5, 8
MARGIN = Fraction(1)  # inches of the axis beyond what is charted, at least
CHECK = "headroom-low"
Stretch = tuple[Fraction, Fraction, Fraction]  # along the run from and to, and the value there
Asked = tuple[Fraction, str]  # a figure in inches, and whose it is


def run_charts(files: Iterable[ObstacleFile], solved: Solved, show: Show) -> tuple[Chart, ...]:
    """Return a chart for each soffit of some records."""
    return tuple(chart for file in files for chart in _chart(file, solved.obstacle(file.key), solved, show))


def _chart(file: ObstacleFile, one: SolvedObstacle, solved: Solved, show: Show) -> Iterator[Chart]:
    assembly = one.assembly
    if assembly is None or assembly.treatment not in SOFFITS:
        return
    faces = tuple(looking_down(assembly))
    known, planned = show.of(assembly.known), assembly.known.how == "planned"
    height = _stretches(faces, lambda face: face.at - solved.level.floor, min)
    values = [("run headroom", height, _limit(assembly, solved, show))]
    if assembly.treatment == "wall soffit":
        wall = solved.level.wall_face
        reach = _stretches(faces, lambda face: max(v for _, v in face.outline.corners) - wall, max)
        values.append(("run reach", reach, None))
    titles = [show.terms[f"{title} planned" if planned else title] for title, _, _ in values]
    profiles = [
        _profile(title, one, asked, known, hangs=one is height)
        for title, (_, one, asked) in zip(titles, values, strict=True)
    ]
    says = (_said(profile, one, show) for profile, (_, one, _) in zip(profiles, values, strict=True))
    axis = show.terms["run axis x" if assembly.frame.along == "x" else "run axis y"]
    ends = [end for low, high, _ in height for end in (low, high)]
    yield Chart(
        f"{file.key}-run",
        show.terms["run chart"].format(name=sentence_case(file.record.obstacle)),
        " ".join(says),
        show.terms["run chart says"].format(axis=axis),
        AlongRun(axis, tuple(_ticks(ends, MOST_STATIONS, show)), tuple(profiles)),
    )


def _stretches(
    faces: Sequence[Face], value: Callable[[Face], Fraction], worst: Callable[[list[Fraction]], Fraction]
) -> tuple[Stretch, ...]:
    """Return the stretches over which the worst value of the faces there stays the same."""
    outlines = [(Polygon(without_holes(face.outline.corners)).bounds(), value(face)) for face in faces]
    ends = sorted({end for ((low, _), (high, _)), _ in outlines for end in (low, high)})
    found: list[Stretch] = []
    for low, high in pairwise(ends):
        here = [v for ((left, _), (right, _)), v in outlines if left <= low and high <= right]
        if here and found and found[-1][1:] == (low, worst(here)):
            found[-1] = (found[-1][0], high, worst(here))
        elif here:
            found.append((low, high, worst(here)))
    return tuple(found)


def _profile(title: str, stretches: Sequence[Stretch], asked: Asked | None, show: Show, *, hangs: bool) -> Profile:
    """Return a profile; what does not hang stands up from nothing."""
    values = [value for _, _, value in stretches]
    values += [asked[0]] if asked else [] if hangs else [Fraction(0)]
    steps = tuple(Step(float(low), float(high), float(v), show.size_of(Length(v))) for low, high, v in stretches)
    limit = Tick(float(asked[0]), asked[1]) if asked else None
    return Profile(title, steps, tuple(_ticks(values, MOST_TICKS, show)), limit, hangs)


def _said(profile: Profile, stretches: Sequence[Stretch], show: Show) -> str:
    """Return what a profile shows, in sentences."""
    form = show.terms["run step"]
    told = (
        form.format(value=step.words, stretch=show.stretch(low, high))
        for step, (low, high, _) in zip(profile.steps, stretches, strict=True)
    )
    limit = f" {sentence_case(profile.limit.words)}." if profile.limit else ""
    return f"{profile.title}: {'; '.join(told)}.{limit}"


def _limit(assembly: Assembly, solved: Solved, show: Show) -> Asked | None:
    """Return the largest figure that the check asked of this work, with whose it is."""
    found = [one for one in solved.findings if one.code == CHECK and one.place == assembly.place]
    asked = [(one.figure.inches, one.source) for one in found if one.figure is not None]
    if not asked:
        return None
    figure, source = max(asked)
    return figure, show.terms["run limit"].format(length=show.inches(figure), source=source)


def _ticks(values: Sequence[Fraction], most: int, show: Show) -> Iterator[Tick]:
    """Yield few round ticks from just below the least of some values to just above the most, in one unit alone."""
    show = replace(show, units="metric" if show.tape.metric else "imperial")
    least, greatest = min(values) - MARGIN if min(values) else Fraction(0), max(values) + MARGIN
    intervals = INTERVALS["metric" if show.tape.metric else "imperial"]
    step = next((one for one in intervals if (greatest - least) / one + 1 < most), intervals[-1])
    for number in range(floor(least / step), ceil(greatest / step) + 1):
        yield Tick(float(number * step), show.inches(number * step))
