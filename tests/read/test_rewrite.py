"""Records written again: they say the same, to our own reader and to any other."""

from __future__ import annotations

import shutil
from pathlib import Path

import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from bookgen.model.project import Plain
from bookgen.read import read, rewritten
from bookgen.read.tree import source_of

SAMPLE = Path(__file__).parents[2] / "projects" / "tamarack"
TEXTS = st.sampled_from(
    ["no", "012", "6:12", "2026-03-10", "~", "3' 4-1/2\"", "- dash", "a: b", "# sign", "1e3", "é ½"]
)
SIGNS = st.text(st.characters(categories=("L", "N", "P", "S", "Zs"), exclude_characters="\ufeff"), max_size=30)
SAID = TEXTS | SIGNS.map(lambda text: " ".join(text.split())).filter(bool)
PLAIN = st.recursive(
    SAID,
    lambda inner: (
        st.lists(inner, max_size=3).map(tuple)
        | st.dictionaries(st.from_regex(r"[a-z]{1,9}", fullmatch=True), inner, max_size=3)
    ),
    max_leaves=12,
)


def test_the_sample_reads_back_the_same(tmp_path: Path) -> None:
    """A folder with its record files written again gives the same records."""
    first, _ = read(SAMPLE)
    assert first is not None
    shutil.copytree(SAMPLE, tmp_path / "tamarack")
    for name, text in rewritten(first.written).items():
        (tmp_path / "tamarack" / name).write_text(text, encoding="utf-8")

    second, problems = read(tmp_path / "tamarack")

    assert problems == ()
    assert second is not None
    assert second.record == first.record
    assert second.obstacles == first.obstacles


@settings(max_examples=150)
@given(plain=st.dictionaries(st.from_regex(r"[a-z]{1,9}", fullmatch=True), PLAIN, min_size=1, max_size=4))
def test_no_text_becomes_something_else(plain: dict[str, Plain]) -> None:
    """Neither our reader nor PyYAML's safe loader takes a text for a number, a date or a yes."""
    text = rewritten({"a.yaml": plain})["a.yaml"]

    source, _ = source_of(text, "a.yaml")

    assert source is not None
    assert source.plain == plain
    assert yaml.safe_load(text) == _listed(plain)


def _listed(plain: Plain) -> object:
    if isinstance(plain, dict):
        return {key: _listed(value) for key, value in plain.items()}
    return [_listed(value) for value in plain] if isinstance(plain, tuple) else plain
