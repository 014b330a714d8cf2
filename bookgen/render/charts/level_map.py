"""Headroom over a level in, its map out: bands, walls, letters on it; under it the bands and what each letter is."""

from __future__ import annotations

from bookgen.model.chart import WIDE, HeadroomMap, NamedSpot
from bookgen.model.widths import CAP_HEIGHT, text_width
from bookgen.render.charts.canvas import LINE, TEXT, Canvas, area, circle, line, text, wrapped

# Millimetres.
EDGE = 2.0
RADIUS = 2.8  # of the circle round a letter, as on sketches
SWATCH = (9.0, 3.4)
AFTER = 2.0  # between a swatch and its words
BETWEEN = 6.0  # between the entries of a row
ROW = 6.6  # from one row of the list to the next
INDENT = 8.0  # of the words after a letter

Lines = tuple[tuple[str, ...], tuple[str, ...]]  # of a name, and of the words after it


def level_map(figure: HeadroomMap) -> Canvas:
    """Return the sheet: as high as the level needs at its width, and the lists under it."""
    wide = WIDE - 2 * EDGE
    high = wide * figure.high / figure.wide
    keys = _key_rows(figure)
    lists = [_list_lines(spot, wide - INDENT) for spot in figure.spots]
    spots_top = EDGE + high + 6.0 + len(keys) * ROW + 2.0
    whole = spots_top + sum(ROW + (_count(lines) - 1) * LINE for lines in lists) - ROW + EDGE
    canvas = Canvas(WIDE, whole)
    _map(canvas, figure, (wide, high))
    _keys(canvas, keys, EDGE + high + 6.0)
    _list(canvas, figure, lists, spots_top)
    return canvas


def _map(canvas: Canvas, figure: HeadroomMap, size: tuple[float, float]) -> None:
    level = canvas.panel((EDGE, EDGE), size, ((0.0, 0.0), (figure.wide, figure.high)))
    per_mm = figure.wide / size[0]
    corners = ((0.0, 0.0), (figure.wide, 0.0), (figure.wide, figure.high), (0.0, figure.high))
    area(level, corners, "sk-f-steel sk-l-wall")
    for one in figure.undersides:
        area(level, one.outline, f"sk-f-band-{one.band} sk-l-{'hidden' if one.planned else 'beyond'}")
    for stair in figure.stairs:
        area(level, stair, "sk-f-page sk-l-beyond")
        middle = sum(x for x, _ in stair) / len(stair), sum(y for _, y in stair) / len(stair)
        text(level, (middle[0], middle[1] - TEXT * CAP_HEIGHT / 2 * per_mm), figure.stair, "sk-t-quiet", "center")
    for wall in figure.walls:
        line(level, wall, "sk-l-wall")
    for spot in figure.spots:
        circle(level, spot.at, RADIUS * per_mm, "sk-f-page sk-l-detail")
        (x, y) = spot.at
        text(level, (x, y - TEXT * CAP_HEIGHT / 2 * per_mm), spot.letter, "sk-t sk-strong", "center")


def _key_rows(figure: HeadroomMap) -> list[list[tuple[str, str]]]:
    """Return the entries of the key in rows that fit: the class of a swatch, and its words."""
    entries = [(f"sk-f-band-{n} sk-l-beyond", words) for n, words in enumerate(figure.bands) if words]
    if figure.planned:
        entries.append(("sk-f-page sk-l-hidden", figure.planned))
    rows: list[list[tuple[str, str]]] = [[]]
    left = WIDE - 2 * EDGE
    for style, words in entries:
        wide = SWATCH[0] + AFTER + text_width(words, TEXT) + BETWEEN
        if rows[-1] and wide - BETWEEN > left:
            rows.append([])
            left = WIDE - 2 * EDGE
        rows[-1].append((style, words))
        left -= wide
    return rows


def _keys(canvas: Canvas, rows: list[list[tuple[str, str]]], top: float) -> None:
    for number, row in enumerate(rows):
        x, y = EDGE, top + number * ROW
        for style, words in row:
            (wide, high) = SWATCH
            area(canvas.page, ((x, y - high), (x + wide, y - high), (x + wide, y), (x, y)), style)
            text(canvas.page, (x + wide + AFTER, y - 0.4), words)
            x += wide + AFTER + text_width(words, TEXT) + BETWEEN


def _count(lines: Lines) -> int:
    """Return how many lines of the list an entry takes: the last of its names and the first of its words share one."""
    return len(lines[0]) + len(lines[1]) - 1


def _list_lines(spot: NamedSpot, wide: float) -> Lines:
    """Return the lines of a name, and of the words after it: one line of both where that fits."""
    if text_width(f"{spot.name}  ", TEXT, strong=True) + text_width(spot.words, TEXT) <= wide:
        return (spot.name,), (spot.words,)
    return (*wrapped(spot.name, wide, strong=True), ""), wrapped(spot.words, wide)


def _list(canvas: Canvas, figure: HeadroomMap, lists: list[Lines], top: float) -> None:
    y = top
    for spot, (names, others) in zip(figure.spots, lists, strict=True):
        centre = EDGE + RADIUS, y - TEXT * CAP_HEIGHT / 2
        circle(canvas.page, centre, RADIUS, "sk-f-page sk-l-detail")
        text(canvas.page, (centre[0], y), spot.letter, "sk-t sk-strong", "center")
        for number, words in enumerate(names):
            text(canvas.page, (EDGE + INDENT, y + number * LINE), words, "sk-t sk-strong")
        y += (len(names) - 1) * LINE
        x = EDGE + INDENT + (text_width(f"{names[-1]}  ", TEXT, strong=True) if names[-1] else 0.0)
        for number, words in enumerate(others):
            text(canvas.page, (x, y + number * LINE), words)
        y += (len(others) - 1) * LINE + ROW
