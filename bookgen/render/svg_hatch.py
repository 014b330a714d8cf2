"""A material in; the small tile that hatches it when it is cut, quiet enough to photocopy, without text, out."""

from __future__ import annotations

from typing import Any

from bookgen.model.assembly import Material

# How large is a tile, in drawing units, and what lines and dots are in it? Conventions after NCS and ANSI Y14.2, from
# memory: stipple for gypsum, dots and triangles for concrete, slanted lines for block. Short dashes tell treated lumber
# from plain where a copy has no colour (our own, no source).
_TILES: dict[Material, tuple[int, str, tuple[tuple[int, int, int], ...]]] = {
    Material.BOARD: (30, "", ((8, 7, 4), (23, 22, 4))),
    Material.CONCRETE: (110, "M14 30L34 16L44 36Z M74 84L96 76L90 98Z", ((66, 22, 6), (24, 78, 6), (94, 44, 6))),
    Material.BLOCK: (90, "M-5 95L95 -5M-5 5L5 -5M85 95L95 85", ()),
    Material.TREATED: (36, "M3 9H19M21 27H36M0 27H1", ()),
    Material.INSULATION: (80, "M0 60Q20 -20 40 40Q60 100 80 20", ()),
}


def is_hatched(material: Material | None) -> bool:
    """Tell whether a material has a tile."""
    return material in _TILES


def hatch(drawing: Any, material: Material, pattern_id: str) -> Any:
    """Return the pattern of *material* for an svgwrite drawing."""
    size, path, dots = _TILES[material]
    pattern = drawing.pattern(id=pattern_id, size=(size, size), patternUnits="userSpaceOnUse")
    pattern.add(drawing.rect(size=(size, size), class_=f"sk-f-{material.name.lower()}"))
    if path:
        pattern.add(drawing.path(d=path, class_="sk-none sk-l-hatch"))
    for x, y, radius in dots:
        pattern.add(drawing.circle(center=(x, y), r=radius, class_="sk-f-quiet"))
    return pattern
