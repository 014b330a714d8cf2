"""Trade text such as "3 in PVC drain" -> the pipe's true outside diameter, wall, hub and what it carries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from types import MappingProxyType

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length, parse_length
from bookgen.trade import words
from bookgen.trade.tables import Sure, read_rows

TABLE = "pipe.toml"

# What is the pipe made of, when the text says so? The material as the table names it, and the system that word implies.
MATERIALS: Mapping[tuple[str, ...], tuple[str, str | None]] = MappingProxyType(
    {
        ("pvc",): ("PVC", None),
        ("abs",): ("ABS", None),
        ("cpvc",): ("CPVC", None),
        ("pex",): ("PEX", None),
        ("copper",): ("copper", None),
        ("black", "steel"): ("steel", "gas"),
        ("black", "iron"): ("steel", "gas"),
        ("black",): ("steel", "gas"),
        ("galvanized", "steel"): ("steel", "water"),
        ("galvanised", "steel"): ("steel", "water"),
        ("galvanized",): ("steel", "water"),
        ("galvanised",): ("steel", "water"),
        ("steel",): ("steel", None),
        ("cast", "iron"): ("cast iron", None),
        ("no-hub", "cast", "iron"): ("cast iron", None),
        ("hubless", "cast", "iron"): ("cast iron", None),
    }
)

# What system does a word of use put the pipe in?
USES: Mapping[str, str] = MappingProxyType(
    {
        "drain": "waste", "waste": "waste", "vent": "waste", "stack": "waste", "soil": "waste", "sewer": "waste",
        "discharge": "waste", "gas": "gas", "water": "water", "hot": "water", "cold": "water", "service": "water",
        "radon": "soil gas", "soil-gas": "soil gas",
    }
)  # fmt: skip

# Words that change neither the size nor the system. Types K, L and M of copper share one outside diameter.
PLAIN_WORDS = frozenset(
    {"pipe", "line", "lines", "tube", "tubing", "riser", "main", "branch", "supply", "return", "and", "rigid"}
    | {"sch40", "dwv", "ips", "cts", "type", "k", "l", "m", "hard", "soft"}
)


@dataclass(frozen=True, slots=True)
class PipeSize:
    """One pipe or tube size.

    `hub` is the outside diameter over a fitting or coupling, the size a box round the pipe must clear. `system` is
    water, waste, gas or soil gas: what the text says it carries, else what the material mostly does.
    `sure` is of the outside diameter; the wall and the hub carry their own.
    """

    nominal: str
    material: str
    outside: Length
    wall: Length | None
    wall_sure: Sure | None
    hub: Length | None
    hub_sure: Sure | None
    system: str
    source: str
    sure: Sure

    @property
    def name(self) -> str:
        """The size as it is asked for: 3 in PVC."""
        return f"{self.nominal} {self.material}"


@cache
def pipes() -> tuple[PipeSize, ...]:
    """Return every size in the table, by material, smallest first."""
    return read_rows(TABLE, "pipe", PipeSize)


def pipe(text: str) -> PipeSize | None:
    """Return the size that trade text such as "3/4 in copper" or "1-1/2 in ABS vent" asks for.

    None if the size or material is unknown, or any word is, or two words disagree on what the pipe carries.
    """
    sized = words.split_size(text.casefold().replace("soil gas", "soil-gas"))
    if sized is None:
        return None
    phrase = _material_phrase(sized.words)
    if phrase is None:
        return None
    material, implied = MATERIALS[phrase]
    rest = [word for word in sized.words if word not in phrase]
    if any(word not in USES and word not in PLAIN_WORDS for word in rest):
        return None
    carried = {USES[word] for word in rest if word in USES}
    if len(carried) > 1:
        return None
    (size,) = sized.sizes
    for row in pipes():
        if row.material == material and parse_length(row.nominal) == size:
            return replace(row, system=next(iter(carried), implied or row.system))
    return None


def near(text: str) -> tuple[str, ...]:
    """Return the sizes whose names look most like *text*, for a Problem's hint."""
    return words.near(text, (row.name for row in pipes()))


def _material_phrase(said: tuple[str, ...]) -> tuple[str, ...] | None:
    """Return the longest material phrase whose words stand together in *said*."""
    for phrase in sorted(MATERIALS, key=len, reverse=True):
        for start in range(len(said) - len(phrase) + 1):
            if said[start : start + len(phrase)] == phrase:
                return phrase
    return None
