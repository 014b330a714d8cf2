"""The shapes of a drawing in; the key to its hatches and lines, its scale bar, and where they stand under it, out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from bookgen.draw.paper import TEXT, Paper
from bookgen.model.assembly import Material
from bookgen.model.sketch import Anchoring, Area, KeyEntry, Label, LineKind, Shape, Spot, Stroke
from bookgen.model.widths import CAP_HEIGHT
from bookgen.trade.tongue import Tongue

SWATCH = (7.0, 3.6)  # millimetres wide and high
ROW = 6.4  # millimetres from one row of the key to the next
TO_WORDS = 1.6  # millimetres from swatch to words
TO_NEXT = 5.0  # millimetres from words to the next swatch
BAR_HIGH = 1.4  # millimetres

# What does a hatch mean? In the order of the key.
_HATCHES = {
    Material.LUMBER: "lumber, cut across",
    Material.TREATED: "treated lumber",
    Material.BLOCKING: "blocking",
    Material.BOARD: "gypsum board",
    Material.BLOCK: "block wall",
    Material.CONCRETE: "concrete",
    Material.INSULATION: "insulation",
    Material.STEEL: "steel",
}
_LINES = {
    LineKind.HIDDEN: "hidden",
    LineKind.GHOST: "as it was, now hidden",
    LineKind.OVERHEAD: "overhead",
    LineKind.PLANE: "where another sketch is cut",
    LineKind.CENTRE: "center line",
    LineKind.LAYER: "vapor layer",
    LineKind.FREE: "kept free",
    LineKind.PLANNED: "size planned, not yet confirmed",
    LineKind.BARRED: "no screw, nail or drill",
}


def key_entries(shapes: Iterable[Shape], tongue: Tongue) -> tuple[KeyEntry, ...]:
    """Return an entry for each hatch and line type that the shapes use, in a fixed order."""
    hatches: set[Material | None] = set()
    lines: set[LineKind] = set()
    for shape in shapes:
        if isinstance(shape, Area) and shape.line is LineKind.CUT:
            hatches.add(shape.material)
        if isinstance(shape, (Area, Stroke)):
            lines.add(shape.line)
    found = [
        KeyEntry(tongue.name(words), material=material) for material, words in _HATCHES.items() if material in hatches
    ]
    return (*found, *(KeyEntry(tongue.name(words), line=line) for line, words in _LINES.items() if line in lines))


def drawn_key(
    entries: Sequence[KeyEntry], paper: Paper, left: float, right: float, top: float
) -> tuple[tuple[Shape, ...], float]:
    """Return the scale bar and, after it, the entries in rows from *left* to *right*, and the bottom of it all."""
    bar, x = _scale_bar(paper, left, top)
    shapes, y = list(bar), top
    for entry in entries:
        wide = paper.inches(SWATCH[0] + TO_WORDS) + paper.width(entry.words)
        if x + wide > right and x > left:
            x, y = left, y - paper.inches(ROW)
        shapes += _entry(entry, paper, (x, y))
        x += wide + paper.inches(TO_NEXT)
    return tuple(shapes), y - paper.inches(SWATCH[1])


def _entry(entry: KeyEntry, paper: Paper, at: Spot) -> list[Shape]:
    (x, y), (wide, high) = at, (paper.inches(SWATCH[0]), paper.inches(SWATCH[1]))
    shapes: list[Shape] = []
    if entry.line is LineKind.BARRED:
        box = ((x, y - high), (x + wide, y - high), (x + wide, y), (x, y), (x, y - high))
        slant = [x + wide * share for share in (0.0, 0.25, 0.5, 0.75)]
        shapes += [Stroke(entry.line, ((left, y), (left + min(high, x + wide - left), y - high))) for left in slant]
        shapes.append(Stroke(LineKind.BEYOND, box))
    elif entry.line is not None:
        shapes.append(Stroke(entry.line, ((x, y - high / 2), (x + wide, y - high / 2))))
    else:
        corners = ((x, y - high), (x + wide, y - high), (x + wide, y), (x, y))
        shapes.append(Area(entry.material, LineKind.CUT, corners))
        if entry.material in (Material.LUMBER, Material.TREATED, Material.BLOCKING):
            shapes.append(Stroke(LineKind.DETAIL, (corners[0], corners[2])))
        if entry.material in (Material.LUMBER, Material.TREATED):
            shapes.append(Stroke(LineKind.DETAIL, (corners[1], corners[3])))
    baseline = y - high / 2 - paper.inches(TEXT * CAP_HEIGHT / 2)
    words = Label(entry.words, (x + wide + paper.inches(TO_WORDS), baseline), TEXT, Anchoring.START, quiet=True)
    return [*shapes, words]


def _scale_bar(paper: Paper, left: float, top: float) -> tuple[list[Shape], float]:
    """Return the bar, two equal steps long, with its ends named, and where the key may go on."""
    step, words = _step(paper)
    y = top - paper.inches(SWATCH[1] / 2)
    high = paper.inches(BAR_HIGH / 2)
    baseline = y - paper.inches(TEXT * CAP_HEIGHT / 2)
    x = left + paper.width("0") + paper.inches(TO_WORDS)
    boxes: list[Shape] = []
    for number, low, up in ((0, y - high, y), (1, y, y + high)):
        start = x + number * step
        corners = ((start, low), (start + step, low), (start + step, up), (start, up))
        boxes.append(Area(None, LineKind.WALL, corners))
    end = x + 2 * step
    frame = Stroke(LineKind.BEYOND, ((x, y - high), (end, y - high), (end, y + high), (x, y + high), (x, y - high)))
    label_at = end + paper.inches(TO_WORDS)
    labels = [
        Label("0", (left, baseline), TEXT, Anchoring.START, quiet=True),
        Label(words, (label_at, baseline), TEXT, Anchoring.START, quiet=True),
    ]
    return [*boxes, frame, *labels], label_at + paper.width(words) + paper.inches(TO_NEXT)


def _step(paper: Paper) -> tuple[float, str]:
    """Return half the length of the bar in inches, and the words for the whole."""
    # With both units the bar is a whole number of feet, and the scale beside it says the ratio.
    if paper.units == "metric":
        metres = next(
            m for m in (Fraction(1, 4), Fraction(1, 2), 1, 2, 5, 10) if paper.millimetres(m * 1000 / 25.4) > 12
        )
        words = f"{int(metres * 1000)} mm" if metres < 1 else f"{metres} m"
        return float(metres) * 1000 / 25.4 / 2, words
    feet = next((f for f in (1, 2, 4, 8, 16) if paper.millimetres(f * 12) > 14), 32)
    return feet * 12 / 2, paper.tongue.say("{count} ft", count=feet)
