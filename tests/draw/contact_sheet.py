"""A project folder in; one page with every sketch of it, to be looked at, out: `python -m tests.draw.contact_sheet`.

The treatments that the project may lack follow it, from the tests' own houses. `--look` shows the page as a black and
white photocopy, in the dark, or as wide as a telephone.
"""

from __future__ import annotations

import argparse
import base64
import sys
from collections.abc import Iterable, Iterator
from dataclasses import replace
from html import escape
from pathlib import Path
from types import MappingProxyType

import font_source_sans_pro

from bookgen.draw import plan, sketches
from bookgen.model.sketch import MILLIMETRES_PER_INCH, Sketch
from bookgen.model.solved import Solved
from bookgen.read import read
from bookgen.render.svg import sketch_css, write_svg
from bookgen.render.svg_palette import DARK
from bookgen.solve import solve
from tests.draw.houses import odd_house

FACES = ((400, "SourceSansPro-Regular.ttf"), (600, "SourceSansPro-Semibold.ttf"))
PIXELS_PER_INCH = 96
LAYOUT = """
body{margin:2rem;background:var(--sk-page);color:var(--sk-ink);font:16px "Source Sans Pro",sans-serif}
section{border-top:1px solid;padding:1rem 0;display:flex;flex-wrap:wrap;gap:2rem;align-items:flex-start}
h2{flex-basis:100%;font-size:1.2rem;margin:0}figure{margin:0}svg{display:block;max-width:100%;height:auto}
figcaption{font-size:.85rem;max-width:30rem;color:var(--sk-quiet)}.layer-joists{display:none}
"""


LOOKS = MappingProxyType(
    {
        "plain": "",
        "photocopy": "figure svg{filter:grayscale(1) contrast(3)}",
        "dark": f":root{{{DARK.variables()}}}",
        "phone": "body{margin:16px;width:358px}section{display:block}figure{max-width:358px;margin-bottom:2rem}",
    }
)


def main(arguments: list[str]) -> int:
    """Write the page; return 1 where the project has problems, which are printed."""
    parser = argparse.ArgumentParser(description="Put every sketch of a project on one page.")
    parser.add_argument("project", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--look", choices=sorted(LOOKS), default="plain")
    chosen = parser.parse_args(arguments)
    project, problems = read(chosen.project)
    solved, more = solve(project) if project is not None and not problems else (None, ())
    if solved is None:
        for problem in (*problems, *more):
            sys.stderr.write(f"{problem}\n")
        return 1
    text = page((solved, odd_house(), odd_house("metric")), LOOKS[chosen.look])
    chosen.out.write_text(text, encoding="utf-8", newline="\n")
    return 0


def page(houses: Iterable[Solved], look: str = "") -> str:
    """Return the page: for each house a row for each treatment with all its views, then the level plan."""
    rows = [row for number, solved in enumerate(houses) for row in _rows(solved, f"h{number}-")]
    return (
        '<!doctype html><html lang="en"><meta charset="utf-8"><title>Sketches</title>'
        f'<meta name="viewport" content="width=device-width"><style>{_faces()}{sketch_css()}{LAYOUT}{look}</style>'
        f"{''.join(rows)}</html>\n"
    )


def _rows(solved: Solved, prefix: str) -> Iterator[str]:
    """Yield the rows of a house; *prefix* keeps the ids of its drawings apart from those of the others."""
    drawn, _ = sketches(solved)
    yield f"<h1>{escape(solved.project.record.project)}</h1>"
    for file in solved.project.obstacles:
        if drawn.get(file.key):
            yield _row(file.record.obstacle, tuple(replace(one, key=prefix + one.key) for one in drawn[file.key]))
    level = plan(solved)
    yield _row("Level plan", (replace(level, key=prefix + level.key),))


def _row(name: str, views: tuple[Sketch, ...]) -> str:
    return f"<section><h2>{escape(name)}</h2>{''.join(_figure(view) for view in views)}</section>"


def _figure(sketch: Sketch) -> str:
    wide = round(sketch.paper_size()[0] / MILLIMETRES_PER_INCH * PIXELS_PER_INCH)
    words = f"<figcaption><b>{escape(sketch.view.value)}</b> {escape(sketch.caption)}</figcaption>"
    return f'<figure style="width:{wide}px">{write_svg(sketch)}{words}</figure>'


def _faces() -> str:
    """Return the rules of the faces that sketches are lettered in, with the faces themselves."""
    folder = Path(font_source_sans_pro.__file__).parent / "files"
    rules = []
    for weight, name in FACES:
        data = base64.b64encode((folder / name).read_bytes()).decode("ascii")
        source = f"url(data:font/ttf;base64,{data})"
        rules.append(f'@font-face{{font-family:"Source Sans Pro";font-weight:{weight};src:{source}}}')
    return "".join(rules)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
