"""A Book's register in, `tags.pdf` out: labels for the inside of each cover, with the book's own id as a QR code."""

from __future__ import annotations

import tempfile
from functools import lru_cache, partial
from io import BytesIO
from pathlib import Path

from bookgen.model.book import Book, RegisterRow
from bookgen.render.engine import set_pdf
from bookgen.render.kept import Store
from bookgen.render.print import write_words
from bookgen.render.printable import signs_of
from bookgen.render.themes import Theme
from bookgen.render.words import element_id

ERROR_LEVEL = "m"  # a label gets dusty; level M still reads with 15 % of it lost


def write_tags(book: Book, theme: Theme, target: Path, store: Store | None = None) -> None:
    """Write the label sheet of every tagged thing, in the order of the tags."""
    with tempfile.TemporaryDirectory(prefix="bookgen-tags-") as made:
        work = Path(made)
        theme.lay_out_print(work)
        (work / "codes").mkdir()
        rows = [row for row in book.register if row.tag]
        for row in rows:
            text = code_text(book, row)
            made_code = store.once("codes", store.key(text), partial(_code, text)) if store else _code(text)
            (work / "codes" / f"{row.tag}.svg").write_bytes(made_code)
        data = {
            "title": book.terms["tags title"],
            "iso_date": book.iso_date,
            "language": book.language,
            "paper": book.paper,
            "stamp": f"{book.edition_words} · {book.revision}, {book.date}",
            "terms": dict(book.terms),
            "tags": [_label(book, row) for row in rows],
        }
        write_words(data, work / "tags.json", signs_of(theme))
        set_pdf(work / "tags.typ", target, theme, book.iso_date, store)


@lru_cache(512)  # of a book's tags: a proof sets them at every save
def _code(text: str) -> bytes:
    """Return the QR code of *text* as SVG."""
    import segno  # heavy: only a tag that is new needs it

    made = BytesIO()
    segno.make_qr(text, error=ERROR_LEVEL).save(
        made, kind="svg", border=4, dark="#000000", light="#ffffff", omitsize=True
    )
    return made.getvalue()


def code_text(book: Book, row: RegisterRow) -> str:
    """Return what the QR code of a tag holds: the book's page on the web, or its own id; never the house's address."""
    if book.web:
        return f"{book.web}#tag-{element_id(row.tag)}"
    return f"BOOK {book.book_id} TAG {row.tag} {row.what}"


def _label(book: Book, row: RegisterRow) -> dict[str, str]:
    panel = row.caution
    return {
        "tag": row.tag,
        "what": row.what,
        "trade_word": row.trade_word,
        "line": ". ".join(filter(None, (row.room, row.where, row.turn))),
        "word": book.terms[f"signal {panel.word}"] if panel else "",
        "caution": panel.avoidance if panel else "",
        "code": f"{row.tag}.svg",
        "code_says": book.terms["code says"].format(tag=row.tag),
        "code_text": book.terms["code text"].format(book=book.book_id, tag=row.tag),
    }
