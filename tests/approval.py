"""What no edition may say: words that approve, and how they are looked for."""

from __future__ import annotations

import re

APPROVES = re.compile(
    r"\b(compl(y|ies|iant|iance|ied)|approv(e|es|ed|al|als)|certif(y|ies)|is certified|up to code|code-compliant|"
    r"meets? (the |your |all )?(local )?(building |electrical |plumbing )?codes?|satisf(y|ies|ied)|conform(s|ing)?|"
    r"passes (the )?(code|inspection)|passed|is safe|are safe|safe to|safely|it is legal|is allowed|are allowed|"
    r"permitted|(is|are|all|everything) in order|no danger|harmless|nothing to worry|all right|acceptable)\b",
    re.IGNORECASE,
)


DENIED = re.compile(r"\b(no|not|never|nothing|nobody)\b[^.;]{0,16}$", re.IGNORECASE)  # no place is safe


def wrong(words: str) -> list[str]:
    """Return what in *words* says or implies approval; what is said not to be so does neither."""
    return [match[0] for match in APPROVES.finditer(words) if not DENIED.search(words[: match.start()])]
