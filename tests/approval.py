"""What no edition may say: words that approve, and how they are looked for."""

from __future__ import annotations

import re

APPROVES = re.compile(
    r"\b(compl(y|ies|iant|iance|ied)|approv(e|es|ed|al|als)|certif(y|ies)|is certified|up to code|code-compliant|"
    r"meets? (the |your |all )?(local )?(building |electrical |plumbing )?codes?|satisf(y|ies|ied)|conform(s|ing)?|"
    r"passes (the )?(code|inspection)|passed|is safe|are safe|safe to|safely|it is legal|is allowed|are allowed|"
    r"permitted|in order|no danger|harmless|nothing to worry|all right|acceptable)\b",
    re.IGNORECASE,
)
# Where such a word is needed to say that nothing is approved, or is about something else.
NOT_MEANT = re.compile(
    r"in order(,|;| of| to|:)|^in order|oldest first, in order|never (says|as) [^.]*approv|are the records in order|"
    r"no finding says that the work is in order",
    re.IGNORECASE,
)


def wrong(words: str) -> list[str]:
    """Return what in *words* says or implies approval."""
    return [match[0] for match in APPROVES.finditer(words) if not NOT_MEANT.search(words[max(0, match.start() - 60) :])]
