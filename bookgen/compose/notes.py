"""A Markdown note in, neutral blocks out: paragraphs, headings, lists and quotes; raw HTML stays plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markdown_it import MarkdownIt
from markdown_it.token import Token

from bookgen.model.book import Block, Run

STYLES = {"em_open": "emphasis", "strong_open": "strong"}
CLOSERS = frozenset({"em_close", "strong_close", "link_close"})
SAFE_LINKS = ("https://", "http://", "mailto:", "tel:")
HARD_ENDS = {"softbreak": " ", "hardbreak": "\n"}


def blocks(markdown: str) -> tuple[Block, ...]:
    """Return the blocks of a note; nested lists are flattened into their parent, with nothing dropped."""
    tokens = MarkdownIt("commonmark", {"html": False}).parse(markdown)
    return tuple(_blocks(tokens))


def _blocks(tokens: Sequence[Token]) -> Iterator[Block]:
    items: list[tuple[Run, ...]] = []
    lists: list[str] = []
    quoted = 0
    heading = ""
    for token in tokens:
        if token.type in {"bullet_list_open", "ordered_list_open"}:
            lists.append(token.type.removesuffix("_list_open"))
        elif token.type in {"bullet_list_close", "ordered_list_close"}:
            kind = lists.pop()
            if not lists:
                yield Block(f"{kind} list", items=tuple(items))
                items = []
        elif token.type in {"blockquote_open", "blockquote_close"}:
            quoted += 1 if token.type == "blockquote_open" else -1
        elif token.type == "heading_open":
            heading = "heading"
        elif token.type in {"fence", "code_block"}:
            yield Block("paragraph", (Run(token.content.rstrip("\n"), "code"),))
        elif token.type == "inline":
            runs = tuple(_runs(token.children or []))
            if lists:
                items.append(runs)
            else:
                yield Block(heading or ("quote" if quoted else "paragraph"), runs)
            heading = ""


def _runs(tokens: Sequence[Token]) -> Iterator[Run]:
    styles: list[str] = []
    href = ""
    for token in tokens:
        if token.type in STYLES:
            styles.append(STYLES[token.type])
        elif token.type == "link_open":
            target = str(token.attrGet("href") or "")
            href = target if target.startswith(SAFE_LINKS) else ""
            styles.append("link" if href else "plain")
        elif token.type in CLOSERS:
            styles.pop()
            href = "" if token.type == "link_close" else href
        elif token.type == "code_inline":
            yield Run(token.content, "code")
        elif token.type == "image":
            yield Run(token.content, "plain")
        elif token.type in HARD_ENDS:
            yield Run(HARD_ENDS[token.type], "plain")
        else:
            yield Run(token.content, styles[-1] if styles else "plain", href)
