"""Areas, volumes, heat and other amounts in, words for them out, in the units that a project is measured in."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import ceil, floor
from types import MappingProxyType

from bookgen.model.length import MILLIMETRES_PER_INCH as MILLIMETRES
from bookgen.model.records.values import BTU_PER_HOUR
from bookgen.model.tape import Tape
from bookgen.trade.tongue import Tongue

_Amount = tuple[Fraction | int, str, int]  # how much, of which unit, to how many places
SQUARE_FOOT = Fraction(144)  # square inches
CUBIC_FOOT = Fraction(1728)  # cubic inches
KILOWATT = BTU_PER_HOUR["kW"]
THOUSAND = 1000
# How does a person read a unit of the tables where the job is measured in feet, and what is it, and how many of
# them, where it is measured in metres? The second figure multiplies the table's own.
UNITS: Mapping[str, tuple[str, str, Fraction]] = MappingProxyType(
    {
        "ft2": ("sq ft", "m²", SQUARE_FOOT * MILLIMETRES**2 / 10**6),
        "m2": ("m²", "m²", Fraction(1)),
        "in per ft": ("in per ft", "mm per m", Fraction(1000, 12)),
        "in2": ("sq in", "cm²", MILLIMETRES**2 / 100),
        "in2 per 1,000 Btu/h": ("sq in per 1,000 Btu/h", "cm² per kW", MILLIMETRES**2 / 100 * KILOWATT / THOUSAND),
        "ft3 per 1,000 Btu/h": (
            "cu ft per 1,000 Btu/h", "m³ per kW", CUBIC_FOOT * MILLIMETRES**3 / 10**9 * KILOWATT / THOUSAND
        ),
    }
)  # fmt: skip


def amount(value: Fraction, unit: str, tape: Tape, tongue: Tongue) -> str:
    """Return an amount of a table's unit in words, to two places: 5.7 sq ft, or 0.53 m²."""
    imperial, metric, factor = UNITS.get(unit, (unit, unit, Fraction(1)))
    return _told((value, imperial, 2), (value * factor, metric, 2), tape, tongue)


def in_square_inches(value: Fraction, unit: str) -> Fraction:
    """Return an area of the tables in square inches; a unit that is none of theirs is our own bug."""
    return value * {"in2": Fraction(1), "ft2": SQUARE_FOOT, "m2": 10**6 / MILLIMETRES**2}[unit]


def area(square_inches: Fraction, tape: Tape, tongue: Tongue) -> str:
    """Return a small area, never more than it is: 108 sq in, or 696 cm²."""
    return _told((floor(square_inches), "sq in", 0), (floor(square_inches * UNITS["in2"][2]), "cm²", 0), tape, tongue)


def area_needed(square_inches: Fraction, tape: Tape, tongue: Tongue) -> str:
    """Return a small area that is asked for, never less than it is."""
    return _told((ceil(square_inches), "sq in", 0), (ceil(square_inches * UNITS["in2"][2]), "cm²", 0), tape, tongue)


def wide_area(square_inches: Fraction, tape: Tape, tongue: Tongue) -> str:
    """Return a large area, never more than it is: 9.2 sq ft, or 0.85 m²."""
    square_feet = square_inches / SQUARE_FOOT
    metres = Fraction(floor(square_feet * UNITS["ft2"][2] * 100), 100)
    return _told((Fraction(floor(square_feet * 10), 10), "sq ft", 1), (metres, "m²", 2), tape, tongue)


def volume(cubic_inches: Fraction, tape: Tape, tongue: Tongue) -> str:
    """Return a room's volume, never more than it is: 873 cu ft, or 24.7 m³."""
    metres = Fraction(floor(cubic_inches * MILLIMETRES**3 / 10**8), 10)
    return _told((floor(cubic_inches / CUBIC_FOOT), "cu ft", 0), (metres, "m³", 1), tape, tongue)


def volume_needed(cubic_inches: Fraction, tape: Tape, tongue: Tongue) -> str:
    """Return a volume that is asked for, never less than it is."""
    metres = Fraction(ceil(cubic_inches * MILLIMETRES**3 / 10**8), 10)
    return _told((ceil(cubic_inches / CUBIC_FOOT), "cu ft", 0), (metres, "m³", 1), tape, tongue)


def heat(btu_per_hour: Fraction, tape: Tape, tongue: Tongue) -> str:
    """Return what is burnt an hour: 120,000 Btu/h, or 35.2 kW."""
    kilowatts = Fraction(ceil(btu_per_hour / KILOWATT * 10), 10)
    return _told((ceil(btu_per_hour), "Btu/h", 0), (kilowatts, "kW", 1), tape, tongue)


def _told(imperial: _Amount, metric: _Amount, tape: Tape, tongue: Tongue) -> str:
    """Return an amount in the units of the tape, told once where they have one unit in common."""
    words = [
        tongue.name(f"{tongue.number(Fraction(value), places)} {unit}") for value, unit, places in (imperial, metric)
    ]
    return words[0] if imperial[1] == metric[1] else tape.either(*words)
