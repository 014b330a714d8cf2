"""Markdown notes become neutral blocks, with nothing dropped and nothing live."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from bookgen.compose.notes import blocks
from bookgen.model.book import Block, Run


def _words(found: tuple[Block, ...]) -> str:
    runs = [run for block in found for group in (block.runs, *block.items) for run in group]
    return "".join(run.text for run in runs)


def test_paragraphs_emphasis_and_lists() -> None:
    """CommonMark 0.31: emphasis, strong emphasis, a bullet list and an ordered list."""
    found = blocks("The *cold* line **turns** here.\n\n- one\n- two\n\n1. first\n")
    assert found[0] == Block(
        "paragraph",
        (Run("The "), Run("cold", "emphasis"), Run(" line "), Run("turns", "strong"), Run(" here.")),
    )
    assert found[1] == Block("bullet list", items=((Run("one"),), (Run("two"),)))
    assert found[2].kind == "ordered list"


def test_raw_html_stays_text() -> None:
    """A tag in a note is shown as it was written."""
    assert _words(blocks("<script>alert(1)</script> and <b>bold</b>")) == "<script>alert(1)</script> and <b>bold</b>"


def test_a_link_keeps_only_a_scheme_that_is_safe_to_follow() -> None:
    """javascript: and data: never become a link; https does."""
    good = blocks("[site](https://example.org)")[0].runs[0]
    assert (good.style, good.href) == ("link", "https://example.org")
    for bad in ("[x](javascript:alert(1))", "[x](data:text/html,1)", "[x](file:///etc/passwd)"):
        assert all(run.href == "" for block in blocks(bad) for run in block.runs)


@given(st.lists(st.text(st.characters(categories=("L", "N")), min_size=1, max_size=8), min_size=1, max_size=12))
def test_no_word_is_dropped(words: list[str]) -> None:
    """Every word of a note is in its blocks, whichever way the words are set."""
    text = "\n\n".join(f"- {word}\n  > {word}\n\n# {word}\n\n*{word}* `{word}`" for word in words)
    found = _words(blocks(text))
    rendered = MarkdownIt("commonmark", {"html": False}).render(text)
    for word in words:
        assert rendered.count(word) == 0 or word in found
