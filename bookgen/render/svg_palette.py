"""The colours of a sketch in; its style sheet out, with variables for the site or resolved for print.

Tints are light enough to photocopy: no fill but that of walls on a plan is darker than its lines' ground.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

# Line widths in drawing units, 20 to the millimetre: 0.5 and 0.25 mm, wide to narrow 2:1 (ISO 128-2).
WIDE = 10
NARROW = 5
WIDE_FINE = 7  # 0.35 mm: where pieces are small on paper
DASHES = "40 20"  # 2 and 1 mm
CHAIN = "120 15 20 15"  # 6, 0.75, 1, 0.75 mm
FINE_DASHES = "20 12"  # 1 and 0.6 mm
DOTS = "7 13"  # 0.35 and 0.65 mm
LONG_DASHES = "90 25"  # 4.5 and 1.25 mm
GHOST_DASHES = "70 14 8 14 8 14"  # 3.5 mm, two dots, 0.7 mm between
TYPE = 76  # 3.8 mm


BANDS = (0.66, 0.5, 0.38, 0.27, 0.17, 0.08)  # how much of the accent does each band of a map take, the lowest first?


@dataclass(frozen=True, slots=True)
class Palette:
    """One colour for each purpose, as `#rrggbb`; `_far` is the tint of what lies past the plane."""

    page: str
    ink: str
    quiet: str
    accent: str
    wood: str
    wood_far: str
    treated: str
    board: str
    block: str
    concrete: str
    finish: str
    steel: str
    plastic: str
    copper: str
    sheet: str
    cable: str
    insulation: str

    def variables(self) -> str:
        """Return the colours as declarations of CSS variables."""
        return "".join(f"--sk-{name.replace('_', '-')}:{colour};" for name, colour in self.colours().items())

    def colours(self) -> dict[str, str]:
        """Return every colour by its name, the bands of a map mixed from the accent and the page among them."""
        named = {f.name: getattr(self, f.name) for f in fields(self)}
        bands = {f"band_{number}": _mixed(self.page, self.accent, share) for number, share in enumerate(BANDS)}
        return named | bands


LIGHT = Palette(
    page="#fbfaf7",
    ink="#1b2733",
    quiet="#55606b",
    accent="#2c6cb0",
    wood="#ead9b9",
    wood_far="#f6eedf",
    treated="#d9dcb6",
    board="#f3f2ee",
    block="#e6e4dd",
    concrete="#dedcd5",
    finish="#d8b98a",
    steel="#b3bec8",
    plastic="#cbd9e5",
    copper="#d69a72",
    sheet="#dfe5ea",
    cable="#f2d58a",
    insulation="#f6e3e0",
)
# Lines and page change places; materials keep their hue and go dark enough for light lines to be seen on them.
DARK = Palette(
    page="#171c22",
    ink="#e9edf0",
    quiet="#a9b4be",
    accent="#7fb2e6",
    wood="#6a5637",
    wood_far="#3d3527",
    treated="#565a35",
    board="#3a3d40",
    block="#43433f",
    concrete="#3b3a37",
    finish="#7a5a31",
    steel="#4f5c68",
    plastic="#3f566b",
    copper="#8a5634",
    sheet="#3c464f",
    cable="#7d6524",
    insulation="#5c4340",
)
PRINT = Palette(**{**{f.name: getattr(LIGHT, f.name) for f in fields(Palette)}, "page": "#ffffff"})

# Which class gets which colour? Fills, then strokes.
_FILLS = {
    "page": "page",
    "wall": "ink",
    "lumber": "wood",
    "blocking": "wood",
    "treated": "treated",
    "panel": "wood",
    "finish": "finish",
    "board": "board",
    "block": "block",
    "concrete": "concrete",
    "steel": "steel",
    "plastic": "plastic",
    "copper": "copper",
    "sheet": "sheet",
    "cable": "cable",
    "insulation": "insulation",
    "far": "wood_far",
    "quiet": "quiet",
    **{f"band-{number}": f"band_{number}" for number in range(len(BANDS))},
}
_LINES = {
    "cut": ("ink", WIDE, ""),
    "beyond": ("quiet", NARROW, ""),
    "hidden": ("ink", NARROW, DASHES),
    "centre": ("accent", NARROW, CHAIN),
    "overhead": ("ink", NARROW, LONG_DASHES),
    "ghost": ("ink", NARROW, GHOST_DASHES),
    "free": ("accent", NARROW, FINE_DASHES),
    "layer": ("accent", 2 * WIDE, DASHES),
    "plane": ("quiet", NARROW, CHAIN),
    "dimension": ("ink", NARROW, ""),
    "planned": ("ink", NARROW, DOTS),
    "tick": ("ink", WIDE, ""),
    "leader": ("quiet", NARROW, ""),
    "break": ("ink", NARROW, ""),
    "detail": ("ink", NARROW, ""),
    "wall": ("ink", WIDE, ""),
    "barred": ("ink", 4, ""),
    "hatch": ("quiet", 6, ""),
    "tag": ("accent", WIDE, ""),
}


def _mixed(one: str, other: str, share: float) -> str:
    """Return a colour so far on the way from one `#rrggbb` to the other."""
    pairs = zip(bytes.fromhex(one[1:]), bytes.fromhex(other[1:]), strict=True)
    return "#" + bytes(round(low + (high - low) * share) for low, high in pairs).hex()


def fill_rule(name: str, colour: str) -> str:
    """Return the rule of one fill class."""
    return f".sk-f-{name}{{fill:{colour}}}"


def _rules(colour_of: dict[str, str]) -> str:
    rules = [fill_rule(name, colour_of[field]) for name, field in _FILLS.items()]
    for name, (field, width, dashes) in _LINES.items():
        dash = f";stroke-dasharray:{dashes}" if dashes else ""
        rules.append(f".sk-l-{name}{{stroke:{colour_of[field]};stroke-width:{width}{dash}}}")
    font = 'font-family:"Source Sans Pro",sans-serif'
    rules += [
        f".sk-fine .sk-l-cut,.sk-fine .sk-l-tick{{stroke-width:{WIDE_FINE}}}",
        ".sk-none{fill:none}",
        ".sk-l-cut,.sk-l-beyond,.sk-l-break{stroke-linejoin:round}",
        f".sk-t{{{font};fill:{colour_of['ink']}}}",
        ".sk-strong{font-weight:600}",
        f".sk-t-quiet{{{font};fill:{colour_of['quiet']}}}",
        '.sk-fr{font-feature-settings:"frac"}',
    ]
    return "".join(rules)


def sketch_css(light: Palette = LIGHT, dark: Palette = DARK) -> str:
    """Return the style sheet that a site needs once for all its sketches, light and dark."""
    variables = {name: f"var(--sk-{name.replace('_', '-')})" for name in light.colours()}
    night = f"@media screen and (prefers-color-scheme:dark){{:root{{{dark.variables()}}}}}"  # paper stays white
    return f":root{{{light.variables()}}}{night}{_rules(variables)}"


def print_css(palette: Palette) -> str:
    """Return the style sheet that goes into a print SVG: resolved colours, since print engines know no variables."""
    return _rules(palette.colours())
