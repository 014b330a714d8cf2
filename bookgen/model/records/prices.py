"""The price list: prices.yaml, what one yard asks for each stock, and how the saw is set."""

from __future__ import annotations

from typing import ClassVar, Self

from pydantic import Field, model_validator

from bookgen.model.records.base import Record
from bookgen.model.records.values import Day, LengthText, Line, MoneyText, PositiveLength, SizeText, wrong


class Sold(Record):
    """One size of a stock and its price."""

    shown: ClassVar[tuple[str, ...]] = ("length",)

    length: PositiveLength | None = None
    """Length of a stick, such as `8 ft`."""
    sheet: SizeText | None = None
    """Width and length of a sheet, such as `48 x 96 in`."""
    price: MoneyText
    """Price of one, such as `3.98`."""

    @model_validator(mode="after")
    def _one_size(self) -> Self:
        if self.length is not None and self.sheet is not None:
            wrong("price-size", "it is a stick or a sheet", "keep length: or sheet:, not both")
        return self


class Saw(Record):
    """How sticks are cut."""

    shown: ClassVar[tuple[str, ...]] = ("kerf",)

    kerf: LengthText | None = None
    """What the saw takes between two pieces; 1/8 in where it is left out."""
    trim: LengthText | None = None
    """What is cut off each end of every stick before anything else; nothing where it is left out."""
    keep: LengthText | None = None
    """How long an offcut has to be to be put aside; 24 in where it is left out."""


class Prices(Record):
    """The price list of one yard: prices.yaml. It is the contractor's own and never gets into an owner's book."""

    yard: Line
    """Whose prices they are: `Demo Lumber Yard`."""
    on: Day
    """The day they were asked."""
    money: Line = "$"
    """The sign of the money, written before a sum: `$`."""
    saw: Saw = Saw()
    """How sticks are cut."""
    stock: dict[str, tuple[Sold, ...]] = Field(default_factory=dict)
    """What the yard sells, by its trade name, such as `2x4`; of a stock listed here no other sizes are bought."""
