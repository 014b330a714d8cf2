"""The record models in; their JSON Schemas out, for editors that check and complete YAML while somebody types.

`python -m bookgen.model.records.schema` writes them anew into bookgen/model/schemas. JSON Schema, draft 2020-12.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, get_args

from bookgen.model.records import Obstacle, Prices, Project, Record
from bookgen.model.records.base import described
from bookgen.model.records.treatments import UNDECIDED
from bookgen.model.records.values import IN_LANGUAGES

FOLDER = Path(__file__).parents[1] / "schemas"
DIALECT = "https://json-schema.org/draft/2020-12/schema"
RECORDS: tuple[tuple[str, type[Record]], ...] = (
    ("obstacle.schema.json", Obstacle),
    ("prices.schema.json", Prices),
    ("project.schema.json", Project),
)
EACH = "TextInLanguages"
_OURS = frozenset({"x-wrong", "title", "default", IN_LANGUAGES})  # what no editor needs


def schemas() -> dict[str, str]:
    """Return the text of every schema file, by file name."""
    return {name: _text(record) for name, record in RECORDS}


def write() -> None:
    """Write the schema files into the package."""
    for name, text in schemas().items():
        (FOLDER / name).write_text(text, "utf-8")


def _text(record: type[Record]) -> str:
    whole = record.model_json_schema()
    for part in (whole, *whole.get("$defs", {}).values()):
        says = described(_records()[part["title"]])
        for key, below in part["properties"].items():
            below["description"] = says[key]
    if record is Obstacle:  # a treatment may be one word instead of keys
        whole["properties"]["treatment"]["anyOf"].append({"const": UNDECIDED})
    schema = {"$schema": DIALECT, **_for_editors(whole)}
    schema.setdefault("$defs", {})[EACH] = _each_language()
    return json.dumps(schema, indent=2, sort_keys=True, ensure_ascii=False) + "\n"


def _records() -> dict[str, type[Record]]:
    """Return every record class by its name."""
    found: dict[str, type[Record]] = {}
    waiting: list[type[Record]] = [Record]
    while waiting:
        record = waiting.pop()
        waiting += record.__subclasses__()
        found[record.__name__] = record
    return found


def _for_editors(node: Any) -> Any:
    """Return a schema as a reader of YAML needs it: a key that may be left out is left out, never written as null."""
    if isinstance(node, list):
        return [_for_editors(part) for part in node]
    if not isinstance(node, dict):
        return node
    if "properties" in node:
        inner = {name: _for_editors(part) for name, part in node["properties"].items()}
        return {**_for_editors({key: part for key, part in node.items() if key != "properties"}), "properties": inner}
    kept = {key: _for_editors(part) for key, part in node.items() if key not in _OURS}
    if IN_LANGUAGES in node:
        return _in_languages(kept)
    choices = [part for part in kept.pop("anyOf", []) if part != {"type": "null"}]
    if len(choices) == 1:
        return {**choices[0], **kept}
    return {**kept, "anyOf": choices} if choices else kept


def _in_languages(text: dict[str, Any]) -> dict[str, Any]:
    """Return the schema of a text that may be written once, or once in each of several languages under its code."""
    once = {"type": text["type"]}
    rest = {key: part for key, part in text.items() if key != "type"}
    return {**rest, "anyOf": [once, {"$ref": f"#/$defs/{EACH}"}]}


def _each_language() -> dict[str, Any]:
    """Return the schema of one text in several languages."""
    codes = {
        code: {"type": "string", "description": f"The text in {code}."}
        for code in get_args(Project.model_fields["language"].annotation)
    }
    return {"type": "object", "properties": codes, "additionalProperties": False, "minProperties": 1}


if __name__ == "__main__":
    write()
