"""Finished words in, HTML out: escaped, with real fractions that never break over a line, and numbers to call.

Beside it the same words plain, for a terminal or a spreadsheet.
"""

from __future__ import annotations

import re

from markupsafe import Markup, escape

from bookgen.model.length import HAIR, SLASH
from bookgen.model.typeset import typeset

_MEASURE = re.compile(
    rf"(?P<feet>\d+\u2032\u00a0)?(?P<whole>\d+{HAIR})?(?P<fraction>\d+{SLASH}\d+)(?P<unit>[\u2032\u2033]|\u00a0mm)?"
)
_PHONE = re.compile(
    r"(?<![\d\w-])(?:\+?\d{1,2}[ -])?(?:\(?\d{3}\)?[ -])?\d{3}-\d{4}(?![\d\w-])|(?<![\d\w-])911(?![\d\w-]|\u2044)"
)
_SAFE_LINK = re.compile(r"(?:(?:tel:|mailto:|#|\.\./|\./)[\w./#?=&%+@-]*|\w[\w./#?=&%+@-]*)")
_NOT_ID = re.compile(r"[^a-z0-9]+")


def words(text: str) -> Markup:
    """Return *text* as HTML: escaped; each fraction in a `fr` span, held together with its whole number and unit.

    Sizes that people typed, such as 2x4 or 3-1/2 in, are set as those are that were worked out.
    """
    text = typeset(text)
    done = Markup("")
    end = 0
    for match in _MEASURE.finditer(text):
        done += escape(text[end : match.start()]) + _measure(match)
        end = match.end()
    return done + escape(text[end:])


def _measure(match: re.Match[str]) -> Markup:
    before = f"{match['feet'] or ''}{match['whole'] or ''}"
    fraction = Markup('<span class="fr">{}</span>').format(match["fraction"])
    if not before and not match["unit"]:
        return fraction
    # A hair space is a place where a line may break; 12 at the end of one line and 1/2 on the next misleads.
    return Markup('<span class="nb">{}{}{}</span>').format(before, fraction, match["unit"] or "")


def calls(text: str) -> Markup:
    """Return *text* as `words` does, with each telephone number a link that dials it."""
    done = Markup("")
    end = 0
    for match in _PHONE.finditer(text):
        done += words(text[end : match.start()]) + Markup('<a class="dial" href="{}">{}</a>').format(
            f"tel:{dialled(match.group())}", match.group()
        )
        end = match.end()
    return done + words(text[end:])


def dialled(number: str) -> str:
    """Return *number* as a telephone takes it: digits, with a leading plus where there is one."""
    digits = "".join(sign for sign in number if sign.isdigit())
    return f"+{digits}" if number.strip().startswith("+") else digits


def safe_href(href: str) -> str:
    """Return *href* when it stays in the book, dials or writes a letter, and "" for any other address."""
    return href if href and not href.startswith("//") and _SAFE_LINK.fullmatch(href) else ""


def element_id(text: str) -> str:
    """Return *text* as part of an element's id: small letters, digits and hyphens."""
    return _NOT_ID.sub("-", text.casefold()).strip("-")


def plain_text(text: str) -> str:
    """Return *text* as any terminal shows it: fractions with a plain slash, and blanks that don't break."""
    return text.replace(HAIR, "\u00a0").replace(SLASH, "/")
