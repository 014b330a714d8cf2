"""Values as people write them in records: text in, exact lengths, heights, spans, sizes and dates out.

Every scalar of a record arrives as text, so nothing has been guessed at before it gets here. A wrong text raises a
PydanticCustomError whose type is the permanent problem code and whose context holds the rule and the repair.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable
from fractions import Fraction
from typing import Annotated, Any, Literal, NoReturn

from pydantic import PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from bookgen.model.frozen import dataclass
from bookgen.model.length import BareNumberError, Length, LengthError, parse_length

IN_LANGUAGES = "x-languages"  # what marks a text of one's own words in a schema

HeightDatum = Literal["slab", "floor", "joists", "ceiling"]
OffsetDatum = Literal["block", "finished wall"]
HEIGHT_WORDS: dict[str, HeightDatum] = {
    "above slab": "slab",
    "above floor": "floor",
    "below joists": "joists",
    "below ceiling": "ceiling",
}
OFFSET_WORDS: dict[str, OffsetDatum] = {"off the block": "block", "off the finished wall": "finished wall"}
INCHES_PER_FOOT = 12
LARGEST = 400 * INCHES_PER_FOOT  # inches
LEAST_SPACING = 4  # inches, middle to middle; common practice is 12 and more
BTU_PER_HOUR = {"Btu/h": Fraction(1), "kW": Fraction("3412.14")}  # NIST SP 811, appendix B: Btu (IT) per hour
SQUARE_INCHES = {"sq in": Fraction(1), "sq ft": Fraction(144), "sq cm": 1 / Fraction("6.4516")}


Pixel = tuple[int, int]
"""A point of an upright picture: pixels to the right and down, from its top left corner."""


@dataclass(frozen=True, slots=True)
class Height:
    """A height and what it is measured from; below joists and below ceiling count downward."""

    length: Length
    datum: HeightDatum


@dataclass(frozen=True, slots=True)
class Offset:
    """How far off a wall, and off which face of it."""

    length: Length
    datum: OffsetDatum


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch from *low* to *high* on one axis."""

    low: Length
    high: Length

    def size(self) -> Length:
        """Return how long the stretch is."""
        return self.high - self.low


@dataclass(frozen=True, slots=True)
class Size:
    """Width and height of an opening, cover or leaf."""

    wide: Length
    high: Length


@dataclass(frozen=True, slots=True)
class Rise:
    """A slope: inches of rise per inch of run, going up toward one end."""

    slope: Fraction
    toward: Literal["east", "west", "north", "south"]


@dataclass(frozen=True, slots=True)
class Interval:
    """How often a thing is due: every *months* months."""

    months: int


def wrong(code: str, rule: str, repair: str) -> NoReturn:
    """Raise the error that `read` turns into a Problem with this code, rule and repair."""
    raise PydanticCustomError(code, "{rule}; {repair}", {"rule": rule, "repair": repair})


def _text(value: Any) -> str:
    if not isinstance(value, str):
        wrong("not-text", "one value belongs here, not a list or keys of its own", "write it on the line of its key")
    return " ".join(value.split())


def _some_text(value: Any) -> str:
    text = _text(value)
    if not text:
        wrong("empty-value", "the value is empty", "write it, or delete the line")
    return text


def to_length(value: Any) -> Length:
    """Read a length; raises `bare-number`, `not-a-length`, `length-too-large`."""
    text = _some_text(value)
    try:
        length = parse_length(text)
    except BareNumberError as error:
        return wrong("bare-number", *str(error).split("; ", 1))
    except LengthError as error:
        return wrong("not-a-length", *str(error).split("; ", 1))
    if abs(length.inches) > LARGEST:
        wrong("length-too-large", "nothing in a house is longer than 400 ft", "look at the number and its unit")
    return length


def _positive(value: Any) -> Length:
    length = to_length(value)
    if length.inches <= 0:
        wrong("not-positive", "a size must be more than nothing", "write a length above 0")
    return length


def _spacing(value: Any) -> Length:
    length = _positive(value)
    if length.inches < LEAST_SPACING:
        wrong("spacing-too-small", "members stand at least 4 in apart, middle to middle", "write it such as 16 in")
    return length


def _with_datum(value: Any, words: dict[str, Any], example: str) -> tuple[Length, Any]:
    text = _some_text(value)
    for phrase, datum in words.items():
        if text.lower().endswith(phrase):
            return to_length(text[: -len(phrase)]), datum
    choices = ", ".join(words)
    return wrong(
        "datum-missing", "it does not say what it is measured from", f"add one of these: {choices}, as in {example}"
    )


def to_height(value: Any) -> Height:
    """Read 77 in above slab; raises `datum-missing`."""
    return Height(*_with_datum(value, HEIGHT_WORDS, "77 in above slab"))


def to_offset(value: Any) -> Offset:
    """Read 12 in off the block; raises `datum-missing`."""
    return Offset(*_with_datum(value, OFFSET_WORDS, "12 in off the block"))


def to_span(value: Any) -> Span:
    """Read 40 in to 204 in; raises `not-a-span`, `span-backward`."""
    text = _some_text(value)
    parts = re.split(r"\s+to\s+", text)
    if len(parts) != 2:
        wrong("not-a-span", "a stretch has two ends", "write both, such as 40 in to 204 in")
    span = Span(to_length(parts[0]), to_length(parts[1]))
    if span.high <= span.low:
        wrong("span-backward", "the second end must be beyond the first", "write the smaller one first")
    return span


def to_length_or_span(value: Any) -> Length | Span:
    """Read a length or, when it says `to`, a span."""
    return to_span(value) if re.search(r"\sto\s", _some_text(value)) else to_length(value)


def to_size(value: Any) -> Size:
    """Read 12 x 14 in (wide by high); raises `not-a-size`."""
    text = _some_text(value)
    parts = re.split(r"\s*[x×]\s*", text)
    if len(parts) != 2:
        wrong("not-a-size", "a size is width by height", "write it such as 12 x 14 in")
    unit = re.search(r"(in|mm|cm|m|\"|″)\s*$", parts[1])
    first = parts[0] if re.search(r"[a-z\"'″′]\s*$", parts[0]) else f"{parts[0]} {unit[1] if unit else ''}"
    return Size(_positive(first), _positive(parts[1]))


def to_rise(value: Any) -> Rise:
    """Read 1/4 in per ft to the east; raises `not-a-rise`."""
    match = re.fullmatch(r"(.+?) per (ft|foot|m) to the (east|west|north|south)", _some_text(value))
    if not match:
        wrong("not-a-rise", "a slope says how much, per what and toward where", "write 1/4 in per ft to the east")
    run = Length(Fraction(INCHES_PER_FOOT)) if match[2] != "m" else parse_length("1 m")
    toward: Any = match[3]
    return Rise(to_length(match[1]).inches / run.inches, toward)


def _yes_no(value: Any) -> bool:
    text = _some_text(value).lower()
    if text not in {"yes", "no"}:
        wrong("not-yes-or-no", "only yes or no can stand here", "write yes or no")
    return text == "yes"


def _count(value: Any) -> int:
    text = _some_text(value)
    if not re.fullmatch(r"[0-9]{1,6}", text):
        wrong("not-a-count", "a whole number belongs here", "write it in digits, such as 13")
    return int(text)


def _day(value: Any) -> datetime.date:
    text = _some_text(value)
    try:
        if re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
            return datetime.date.fromisoformat(text)
    except ValueError:
        pass  # no such day: the message below serves both
    return wrong("not-a-date", "a date is year, month, day", "write it such as 2026-03-10")


def to_heat(value: Any) -> Fraction:
    """Read 80,000 Btu/h or 23 kW, in Btu an hour; raises `not-a-heat-input`."""
    return _amount(value, BTU_PER_HOUR) or wrong(
        "not-a-heat-input", "what an appliance burns is so much heat an hour", "write it such as 80,000 Btu/h or 23 kW"
    )


def to_area(value: Any) -> Fraction:
    """Read 130 sq in, in square inches; raises `not-an-area`."""
    return _amount(value, SQUARE_INCHES) or wrong(
        "not-an-area", "an area says how much of which square", "write it such as 130 sq in, 2 sq ft or 840 sq cm"
    )


def _amount(value: Any, units: dict[str, Fraction]) -> Fraction | None:
    """Return an amount above nothing in the first of *units*; None for any other text."""
    for unit, factor in units.items():
        match = re.fullmatch(
            rf"([0-9]{{1,3}}(?:,[0-9]{{3}})+|[0-9]{{1,7}})(\.[0-9]{{1,3}})? ?{unit}", _some_text(value)
        )
        if match:
            return Fraction(match[1].replace(",", "") + (match[2] or "")) * factor or None
    return None


def to_money(value: Any) -> Fraction:
    """Read a price such as 3.98; raises `not-a-price`."""
    text = _some_text(value)
    if not re.fullmatch(r"[0-9]{1,6}(\.[0-9]{1,2})?", text) or not Fraction(text):
        wrong("not-a-price", "a price is a number above 0, with no more than two digits behind the point", "write 3.98")
    return Fraction(text)


def to_interval(value: Any) -> Interval:
    """Read 3 months or 1 year; raises `not-an-interval`."""
    match = re.fullmatch(r"(\d{1,3}) (month|year)s?", _some_text(value))
    if not match or int(match[1]) == 0:
        wrong("not-an-interval", "how often counts in months or years", "write it such as 3 months")
    return Interval(int(match[1]) * (12 if match[2] == "year" else 1))


def _tag(value: Any) -> str:
    text = _some_text(value)
    if not re.fullmatch(r"[0-9]{1,3}", text) or int(text) == 0:
        wrong("not-a-tag", "a tag is a number", "write it such as 03; it is stuck inside the cover")
    return f"{int(text):02d}"


def _point(value: Any) -> tuple[Length, Length]:
    if not isinstance(value, (list, tuple)) or len(value) != 2:
        wrong("not-a-point", "a point of the plan has two lengths: east, north", "write [204 in, 60 in]")
    return to_length(value[0]), to_length(value[1])


def _pixel(value: Any) -> Pixel:
    parts = value if isinstance(value, (list, tuple)) and len(value) == 2 else ()
    if not parts or not all(isinstance(part, str) and re.fullmatch(r"[0-9]{1,6}", part.strip()) for part in parts):
        wrong("not-a-pixel", "a point of a picture has two whole numbers: right, down", "write it such as [654, 336]")
    return int(parts[0]), int(parts[1])


def _colour(value: Any) -> str:
    text = _some_text(value).lower()
    if not re.fullmatch(r"#[0-9a-f]{6}", text):
        wrong(
            "not-a-colour", "a colour is # and six signs of 0 to 9 and a to f", 'write it in quotes, such as "#17599c"'
        )
    return text


def _as_text(
    read: Callable[[Any], Any], says: str, example: str, wrong_example: str, also: tuple[str, ...] = ()
) -> tuple[PlainValidator, WithJsonSchema]:
    """Return the validator of a text value and its schema, with one example that passes and one that fails.

    *also* names what else the text may look like to a YAML reader other than ours, such as 03 to an editor's.
    """
    schema = {
        "type": ["string", *also] if also else "string",
        "description": says,
        "examples": [example],
        "x-wrong": wrong_example,
    }
    return PlainValidator(read), WithJsonSchema(schema)


def _in_languages(text: tuple[PlainValidator, WithJsonSchema]) -> tuple[PlainValidator, WithJsonSchema]:
    """Return the same with a schema that says that the text may stand in several languages, each under its code."""
    return text[0], WithJsonSchema({**(text[1].json_schema or {}), IN_LANGUAGES: True})


_LENGTH = _as_text(to_length, "a length with its unit", "3' 4-1/2\"", "40.5")
_SPACING = _as_text(_spacing, "a spacing, middle to middle", "16 in", "1 in")
_POSITIVE = _as_text(_positive, "a length above 0, with its unit", "14-1/2 in", "-2 in")
_HEIGHT = _as_text(to_height, "a height and its datum", "77 in above slab", "77 in")
_OFFSET = _as_text(to_offset, "an offset and its datum", "12 in off the block", "12 in")
_SPAN = _as_text(to_span, "a stretch with both ends", "40 in to 204 in", "204 in")
_EITHER = _as_text(to_length_or_span, "a length, or a stretch with both ends", "7 in", "7")
_SIZE = _as_text(to_size, "width by height", "12 x 14 in", "12 in")
_RISE = _as_text(to_rise, "a slope and the way it goes up", "1/4 in per ft to the east", "1/4 in")
_YES = _as_text(_yes_no, "yes or no", "yes", "true", ("boolean",))
_COUNT = _as_text(_count, "a whole number", "13", "thirteen", ("integer",))
_DAY = _as_text(_day, "a day as year-month-day", "2026-03-10", "3/10/26")
_EVERY = _as_text(to_interval, "an interval", "3 months", "often")
_HEAT = _as_text(to_heat, "heat an hour with its unit", "80,000 Btu/h", "80,000")
_AREA = _as_text(to_area, "an area with its unit", "130 sq in", "130")
_MONEY = _as_text(to_money, "a price, without the sign of the money", "3.98", "$3.98", ("number",))
_TAG = _as_text(_tag, "a tag number", "03", "A3", ("integer",))
_COLOUR = _as_text(_colour, "a colour as # and six signs, in quotes", '"#17599c"', '"blue"')
_LINE = _in_languages(_as_text(_some_text, "a line of text", "in your own words", '""', ("number",)))
_PARA = _in_languages(_as_text(_some_text, "some lines of text", "in your own words, as many as it takes", '""'))

LengthText = Annotated[Length, _LENGTH[0], _LENGTH[1]]
Spacing = Annotated[Length, _SPACING[0], _SPACING[1]]
PositiveLength = Annotated[Length, _POSITIVE[0], _POSITIVE[1]]
HeightText = Annotated[Height, _HEIGHT[0], _HEIGHT[1]]
OffsetText = Annotated[Offset, _OFFSET[0], _OFFSET[1]]
SpanText = Annotated[Span, _SPAN[0], _SPAN[1]]
LengthOrSpan = Annotated[Length | Span, _EITHER[0], _EITHER[1]]
SizeText = Annotated[Size, _SIZE[0], _SIZE[1]]
RiseText = Annotated[Rise, _RISE[0], _RISE[1]]
YesNo = Annotated[bool, _YES[0], _YES[1]]
Count = Annotated[int, _COUNT[0], _COUNT[1]]
Day = Annotated[datetime.date, _DAY[0], _DAY[1]]
IntervalText = Annotated[Interval, _EVERY[0], _EVERY[1]]
HeatText = Annotated[Fraction, _HEAT[0], _HEAT[1]]
AreaText = Annotated[Fraction, _AREA[0], _AREA[1]]
MoneyText = Annotated[Fraction, _MONEY[0], _MONEY[1]]
Tag = Annotated[str, _TAG[0], _TAG[1]]
Colour = Annotated[str, _COLOUR[0], _COLOUR[1]]
Line = Annotated[str, _LINE[0], _LINE[1]]
Words = Annotated[str, _PARA[0], _PARA[1]]
PlanPoint = Annotated[
    tuple[Length, Length],
    PlainValidator(_point),
    WithJsonSchema(
        {
            "type": "array",
            "items": {"type": "string"},
            "minItems": 2,
            "maxItems": 2,
            "examples": ["[204 in, 60 in]"],
            "x-wrong": "[204 in]",
        }
    ),
]
PixelText = Annotated[
    Pixel,
    PlainValidator(_pixel),
    WithJsonSchema(
        {
            "type": "array",
            "items": {"type": ["string", "integer"]},
            "minItems": 2,
            "maxItems": 2,
            "examples": ["[654, 336]"],
            "x-wrong": "[654]",
        }
    ),
]
