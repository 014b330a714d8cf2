"""Texts that would do harm where they are taken for anything but text, and a project with one of them in every field.

The fields are found by walking the models of the records, so a field added tomorrow is planted tomorrow. What a record
leaves out is added first. A few fields hold no words but a size or somebody's key: `NO_WORDS` says which and why.
"""

from __future__ import annotations

import copy
import shutil
import typing
from collections.abc import Callable, Iterator
from pathlib import Path
from types import UnionType
from typing import Any

import yaml

from bookgen.model.records import Obstacle, Project, Record
from bookgen.model.records.base import words
from bookgen.model.records.values import Line, Words

PROJECTS = Path(__file__).parents[1] / "projects"
TEXT_SCHEMAS = tuple(marked.__metadata__[1] for marked in (Line, Words))

# Each script, if it ran, would set `ran`, open a dialog or write to the console.
SCRIPTS = (
    "<script>window.ran=1;alert(1)</script>",
    "</script><script>window.ran=2;console.log('ran')</script>",
    '"><script>window.ran=3;alert(3)</script>',
    "'><img src=x onerror='window.ran=4;alert(4)'>",
    '" onmouseover="window.ran=5" autofocus onfocus="window.ran=5;alert(5)" x="',
    "' onfocus='window.ran=6;alert(6)' autofocus tabindex='0",
    "` onerror=`window.ran=7;alert(7)",
    "<svg onload=window.ran=8;alert(8)><animate onbegin=window.ran=8 attributeName=x dur=1s></svg>",
    "<svg><script>window.ran=9;alert(9)</script></svg>",
    "</title></style></textarea></noscript></template><script>window.ran=10</script>",
    "--><script>window.ran=11</script><!--",
    "]]><script>window.ran=12</script><![CDATA[",
    '<iframe src="javascript:parent.ran=13"></iframe>',
    '<iframe srcdoc="<script>parent.ran=14</script>"></iframe>',
    '<a href="javascript:window.ran=15">call 555-0100</a>',
    "javascript:window.ran=16//alert(16)",
    "JaVaScRiPt:window.ran=17",
    "data:text/html,<script>parent.ran=18</script>",
    "vbscript:msgbox(19)",
    "<body onload=window.ran=20><details open ontoggle=window.ran=20>",
    '<meta http-equiv=refresh content="0;url=javascript:window.ran=21">',
    '<base href="https://example.com/"><link rel=stylesheet href=x.css>',
    "<style>*{background:url('javascript:window.ran=23')}</style>",
    "</style><style>body{display:none}</style>",
    "x;background:url(https://example.com/x.png);expression(window.ran=25)",
    "<math><mtext><table><mglyph><style><img src=x onerror=window.ran=26>",
    "<form action=javascript:window.ran=27><button autofocus>go</button></form>",
    '<object data="javascript:window.ran=28"></object><embed src="javascript:window.ran=28">',
    "\\u003cscript\\u003ewindow.ran=29\\u003c/script\\u003e",
    "&lt;script&gt;window.ran=30&lt;/script&gt; &#60;b&#62; &amp;amp;",
    "%3Cscript%3Ewindow.ran=31%3C/script%3E",
    "</scr<script>ipt><scr</script>ipt>window.ran=32</script>",
    "';window.ran=33;//",
    '";window.ran=34;"',
    '\\";window.ran=35;//',
    "${window.ran=36}",
    "`);window.ran=37;(`",
    "*/window.ran=38/*",
)
MARKUP = (
    "{{ 7*7 }} {{ book.owner }} {{ self.__init__.__globals__ }}",
    "{% for x in (1,) %}{% include '/etc/passwd' %}{% endfor %} {# gone #}",
    '#panic("printed") #read("/etc/passwd")',
    "#set page(fill: red)",
    '#import "@preview/none:1.0.0": *',
    "#{ while true {} }",
    "$ sum_(i=0)^n i $ and $x$",
    "= Heading - item + item / term: what",
    "*bold* _emphasis_ `raw` <label> @label ~ -- ---",
    "\\ \\\\ \\# \\u{1F600} \\n \\0",
    "// a comment? /* and another */ \"quotes\" 'single'",
    "[content] #[content] #let x = 1;",
    "# Heading of a note",
    "[link](javascript:window.ran=40) ![picture](https://example.com/x.png)",
    "| a | b | \\begin{document} \\input{x} %comment",
    "BEGIN:VALARM\\nACTION:EMAIL\\nEND:VALARM;X=1,2",
    '=HYPERLINK("https://example.com") +1 -1 @SUM(A1)',
    "!!python/object/apply:os.system [ls] &anchor *alias <<: {a: b} : - ?",
    "%s %d %n {0} {name!r} $(ls) `ls` ; ls | ls && ls > x",
    "' OR 1=1; DROP TABLE books; --",
    "../../../../etc/passwd ..\\..\\x C:\\x file:///etc/passwd",
    "NaN null None undefined true 1e999 -0 0x41",
)
LETTERS = (
    "\u05e9\u05dc\u05d5\u05dd abc \u0645\u0631\u062d\u0628\u0627 123",
    "Z\u0351\u036b\u0343\u036a\u0302a\u0340\u0341l\u0343\u0344go\u0345\u0361",
    "\u200dx\u200dy\u200cz and \U0001f468\u200d\U0001f469\u200d\U0001f467 \U0001f3f4\U000e0067\U000e007f",
    "\u6c34\u9053 \u0e19\u0e49\u0e33 \u0d12\u0d30\u0d41 \ufdfd \U0001d4d0 \ue000 \u00ad \u00a0|\u3000|",
    "\ufb01\ufb02 \u212b \u1e9e \u0130\u0131 \u017f \u2126 \u00bd\u2044\u2044 5\u2044 \u2033\u2032",
    "long" * 400,
    "many words " * 180 + "end",
    "7' 4-1/2\" 911 555-0100 +1 (555) 555-0100-1-2-3",
)
CORPUS = (*SCRIPTS, *MARKUP, *LETTERS)
# The reader refuses these, wherever they stand: they can't be seen, or turn the reading direction round.
REFUSED = (
    "a\u202eb",
    "a\u2066b",
    "a\u200fb",
    "a\u200bb",
    "a\u2060b",
    "a\ufeffb",
    "a\u2028b",
    "a\x00b",
    "a\x1bb",
    "a\x7fb",
)

NO_WORDS = {
    "size of stock": {
        "Joists.size", "WallLining.stud", "Partition.stud", "Door.header", "WallSoffit.ladder", "HungSoffit.ladder",
        "BeamSoffit.ladder", "Furring.strip", "PostWrap.flats", "PostWrap.framing", "Chase.framing", "Closet.framing",
        "Backing.stock",
    },
    "trade size": {"Hidden.pipe", "Hidden.duct", "Hidden.cable", "Hidden.post", "Hidden.fitting"},
    "key of something": {
        "Tie.from_", "AccessPoint.room", "Caution.hazard", "Obstacle.room", "StripArea.room", "UtilityRoom.wall",
        "Answer.finding", "BookRecord.theme", "BookRecord.sample_theme", "AccessOpening.passes", "Backing.wall",
        "Codes.jurisdiction",
    },
    "address on the web": {"BookRecord.web_address"},
    "name of a file": {
        "BookRecord.cover", "ThemeOptions.logo", "PhotoUse.file", "SeeThrough.framed", "SeeThrough.finished",
        "Notes.before", "Notes.framed", "Notes.finished", "Paper.file",
    },
}  # fmt: skip
KEPT = frozenset().union(*NO_WORDS.values())

Plant = Callable[[str, str], str]
"""What takes the place of a text: it is given the field, such as House.kind, and the text that stood there."""


def text_fields(*records: type[Record]) -> set[str]:
    """Return every text field of *records* and of the records inside them, as House.kind."""
    found: set[str] = set()
    waiting, seen = list(records), set(records)
    while waiting:
        record = waiting.pop()
        for name, field in record.model_fields.items():
            inner = list(_parts(field.annotation, tuple(field.metadata)))
            if any(part is str for part in inner):
                found.add(f"{record.__name__}.{name}")
            fresh = [part for part in inner if part is not str and part not in seen]
            waiting += fresh
            seen |= set(fresh)
    return found


def planted(record: type[Record], data: Any, plant: Plant) -> Any:
    """Return *data*, a record as plain data, with *plant* called for each text field; optional ones are added."""
    result = {}
    for name, field in record.model_fields.items():
        key, where = words(name), f"{record.__name__}.{name}"
        if key in data:
            result[key] = _planted(field.annotation, tuple(field.metadata), data[key], where, plant)
        elif not field.is_required() and where not in KEPT | {"Obstacle.chapter", "Door.louvres"}:
            texts = _texts(field.annotation, tuple(field.metadata))
            if texts:
                result[key] = plant(where, where) if texts == "one" else [plant(where, where)]
    assert not set(data) - {words(name) for name in record.model_fields}
    return result


def _planted(annotation: Any, metadata: tuple[Any, ...], value: Any, where: str, plant: Plant) -> Any:
    if isinstance(value, str):
        is_text = str in _parts(annotation, metadata)
        return plant(where, value) if is_text and where not in KEPT else value
    if isinstance(value, list):
        return [_planted(annotation, metadata, item, where, plant) for item in value]
    inner = [part for part in _parts(annotation, metadata) if part is not str]
    if not inner:
        return value
    if typing.get_origin(annotation) is dict:
        return {key: planted(inner[0], item, plant) for key, item in value.items()}
    return planted(inner[0], value, plant)


def _parts(annotation: Any, metadata: tuple[Any, ...]) -> Iterator[type]:
    """Yield the records that *annotation* names, and `str` where it is a text."""
    if any(item in TEXT_SCHEMAS for item in metadata):
        yield str
    elif isinstance(annotation, type) and issubclass(annotation, Record):
        yield annotation
    else:
        for part in typing.get_args(annotation):
            yield from _parts(part, getattr(part, "__metadata__", ()))


def _texts(annotation: Any, metadata: tuple[Any, ...]) -> str:
    """Say whether a field is "one" text, "several", or "" for something else."""
    if any(item in TEXT_SCHEMAS for item in metadata):
        return "one"
    if isinstance(annotation, UnionType) or typing.get_origin(annotation) is typing.Union:
        return next((_texts(part, getattr(part, "__metadata__", ())) for part in typing.get_args(annotation)), "")
    if typing.get_origin(annotation) is tuple:
        first = typing.get_args(annotation)[0]
        return "several" if _texts(first, getattr(first, "__metadata__", ())) == "one" else ""
    return ""


def rotating(shift: int, planted_at: dict[str, set[str]]) -> Plant:
    """Return a plant that gives each new text the next one of the corpus, and equal texts the same; *planted_at* notes.

    Equal texts stay equal since some are names that another record repeats.
    """
    given: dict[str, str] = {}

    def plant(where: str, text: str) -> str:
        if text not in given:
            given[text] = CORPUS[(len(given) + shift) % len(CORPUS)]
        planted_at.setdefault(where, set()).add(given[text])
        return given[text]

    return plant


def loaded(path: Path) -> Any:
    """Return a record file as mappings, lists and texts."""
    return yaml.load(path.read_text("utf-8"), yaml.BaseLoader)  # noqa: S506 - a loader that makes texts only


def written(data: Any, path: Path) -> None:
    """Write a record file with quotes round every text."""
    text = yaml.dump(
        data, Dumper=yaml.CSafeDumper, default_style='"', allow_unicode=True, width=1 << 20, sort_keys=False
    )
    path.write_text(text, encoding="utf-8")


def hostile_project(folder: Path, plant: Plant) -> Path:
    """Lay out the least project with every sort of record added to it, and with *plant* in every text field."""
    shutil.copytree(PROJECTS / "smallest", folder)
    (folder / "notes").mkdir()
    project = loaded(folder / "project.yaml") | copy.deepcopy(PROJECT_MORE)
    project["level"]["finishes"]["base"] = "4 in"
    drain = loaded(folder / "obstacles" / "01-drain.yaml") | copy.deepcopy(OBSTACLE_MORE)
    for phase, name in HOSTILE_NOTES.items():
        (folder / "notes" / name).write_text("\n\n".join((*MARKUP, *SCRIPTS, *LETTERS)), encoding="utf-8")
        drain.setdefault("notes", {})[phase] = name
    for phase, name in HOSTILE_PHOTOS.items():
        (folder / "photos" / f"{phase}.jpg").rename(folder / "photos" / name)
        drain["photos"][phase][0] |= {"file": name, "share": "yes"}
    drain["photos"]["before"][0] |= {"marks": [{"what": "A mark", "at": ["40", "40"], "tag": "01"}]}
    drain["facts"] = list(CORPUS)
    written(planted(Project, project, plant), folder / "project.yaml")
    written(planted(Obstacle, drain, plant), folder / "obstacles" / "01-drain.yaml")
    for number in ("2", "3"):
        record = copy.deepcopy(HIDDEN_WORK)
        record["obstacle"] += number
        record["inside"][0]["at"]["above slab"] = f"{number}0 in"
        written(planted(Obstacle, record, plant), folder / "obstacles" / f"0{number}-cable.yaml")
    return folder


HOSTILE_NOTES = {
    "before": "<script>window.ran=50<_script>.md",
    "framed": "{{ 7*7 }} #panic() $x$.md",
    "finished": "a'b\"c.md",
}
HOSTILE_PHOTOS = {"before": "<img src=x onerror=window.ran=51>.jpg", "finished": "#read(x) $x$ {{ 7*7 }} ';\".jpg"}
KNOWN = {"how": "measured", "on": "2026-03-10"}
UPKEEP = {"do": "Do", "every": "3 months", "how": "How", "month": "10"}
MATERIAL = {"what": "Material", "buy": "Buy"}
PROJECT_MORE = {
    "people": [{"role": "Role", "name": "Name", "share": "yes"}, {"role": "Role 2", "name": "Name 2"}],
    "private": {"owner": "Owner", "address": "Address", "security": ["Security"]},
    "partitions": {
        "P1": {
            "stud": "2x4",
            "runs": "east",
            "thick": "120 in to 123.5 in",
            "along": "4.1 in to 199.9 in",
            "openings": [{"what": "Doorway", "along": "60 in to 92 in", "head": "80 in above slab"}],
        }
    },
    "windows": {
        "one": {
            "what": "Window",
            "wall": "south wall",
            "along": "60 in to 90 in",
            "sill": "40 in above slab",
            "head": "70 in above slab",
        }
    },
    "marks": {
        "nw": {"what": "Corner", "at": ["4.6 in", "283.4 in"]},
        "ne": {"what": "Corner 2", "at": ["199.4 in", "283.4 in"]},
    },
    "upkeep": [UPKEEP],
    "materials": [MATERIAL],
    "papers": [{"what": "Paper", "kind": "permit"}, {"what": "Manual", "kind": "manual"}],
    "hazards that remain": ["Hazard"],
}  # fmt: skip
SHUTOFF = {"stops": "Stops", "turn": "Turn", "get there": ["Get there"], "never": ["Never"], "first": "yes"}
OBSTACLE_MORE = {
    "access": [
        {
            "tag": f"0{number}",
            "what": f"Access {supply}",
            "where": f"Where {supply}",
            "system": system,
            "at": {"along": f"{number}0 in", "off the block": "6 in", "above slab": "30 in"},
            "cover": {"kind": "cover plate", "size": "4 x 4 in", "opens": "Opens"},
            "ties": [{"from": "nw", "is": "40 in"}, {"from": "ne", "is": "160 in"}],
            "shutoff": SHUTOFF | {"of": supply},
            "known": KNOWN,
        }
        for number, (supply, system) in enumerate((("water", "water"), ("gas", "gas"), ("electric", "power")), 1)
    ],
    "cautions": [{"hazard": "sewage-at-cleanout"}],
    "upkeep": [UPKEEP | {"tag": "01"}],
    "materials": [MATERIAL],
    "answered": [{"finding": "headroom-low", "by": "By", "on": "2026-03-10", "paper": "Paper"}],
    "share": "yes",
}
HIDDEN_WORK = {
    "obstacle": "Cable ",
    "kind": "hidden work",
    "room": "family",
    "sentence": "Sentence",
    "chapter": "Chapter",
    "run": {"along": "south wall", "from": "40 in", "to": "100 in"},
    "inside": [
        {
            "what": "Cable",
            "cable": "12-2 NM",
            "at": {"along": "40 in to 100 in", "off the block": "2 in"},
            "system": "power",
            "known": KNOWN,
            "share": "yes",
        }
    ],
    "known": KNOWN,
    "share": "yes",
}
