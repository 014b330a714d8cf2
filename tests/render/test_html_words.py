import pytest

from bookgen.model.length import HAIR, SLASH
from bookgen.render.words import calls, dialled, element_id, safe_href, words

HALF = f"1{SLASH}2"


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("plain", "plain"),
        (HALF, f'<span class="fr">{HALF}</span>'),
        (f"{HALF}\u2033", f'<span class="nb"><span class="fr">{HALF}</span>\u2033</span>'),
        (f"at 12{HAIR}{HALF}\u2033.", f'at <span class="nb">12{HAIR}<span class="fr">{HALF}</span>\u2033</span>.'),
        (
            f"6\u2032\u00a04{HAIR}3{SLASH}16\u2033",
            f'<span class="nb">6\u2032\u00a04{HAIR}<span class="fr">3{SLASH}16</span>\u2033</span>',
        ),
        ("24/7", "24/7"),
        ('<b>"&', "&lt;b&gt;&#34;&amp;"),
    ],
)
def test_words_become_html(text: str, html: str) -> None:
    """Text is escaped, and each fraction is set as one and held to its whole number and unit."""
    assert words(text) == html


@pytest.mark.parametrize("number", ["555-0161", "(415) 555-0161", "1 415-555-0161", "911"])
def test_a_telephone_number_becomes_a_link(number: str) -> None:
    """Numbers as people write them dial."""
    assert calls(f"Call {number}.") == f'Call <a class="dial" href="tel:{dialled(number)}">{number}</a>.'


@pytest.mark.parametrize("text", ["PH-26-0311", "16 × 25 × 4", "2026-06-15", "555-01617", f"911{SLASH}2", "code 4417"])
def test_other_numbers_dial_nobody(text: str) -> None:
    """Permit numbers, sizes, dates and longer numbers stay words."""
    assert "tel:" not in calls(text)


@pytest.mark.parametrize(
    ("href", "kept"),
    [
        ("tel:5550161", True),
        ("mailto:a@b.test", True),
        ("#reach", True),
        ("../plan.html", True),
        ("javascript:alert(1)", False),
        ("data:text/html,x", False),
        ("https://x.test", False),
        ("//x.test", False),
        ("/etc/passwd", False),
        ("", False),
    ],
)
def test_only_addresses_of_the_book_are_links(href: str, kept: bool) -> None:
    """A note can't lead out of the book."""
    assert safe_href(href) == (href if kept else "")


def test_ids_are_plain() -> None:
    """An id holds small letters, digits and hyphens."""
    assert element_id("W-12 b\u2033") == "w-12-b"
