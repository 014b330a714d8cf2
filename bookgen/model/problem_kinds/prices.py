"""Kinds of problem that read finds in the price list."""

from bookgen.model.problem_kinds.kind import ProblemKind

PRICE_KINDS = (
    ProblemKind(
        "not-a-price",
        "A price is a plain number; the sign of the money stands once, under money.",
        "- {length: 8 ft, price: $3.98}",
        "- {length: 8 ft, price: 3.98}",
    ),
    ProblemKind(
        "price-size",
        "A price belongs to one size: a stick has a length, a sheet a width and a length, other things neither.",
        "- {price: 3.98}",
        "- {length: 8 ft, price: 3.98}",
    ),
)
