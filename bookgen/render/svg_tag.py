"""Length and height in; the outline of a hang tag with its hole, the one motif of the book, out."""

from __future__ import annotations


def tag_path(long: int, high: int) -> str:
    """Return the `d` of a tag's path in whole units: the middle of its pointed end at 0 0, the square end to the right.

    The hole is a second loop, so the path wants `fill-rule="evenodd"`.
    """
    half, tip, shoulder, corner = high // 2, high // 5, high * 9 // 20, high // 8
    hole, centre = high // 9, high * 2 // 5
    return (
        f"M0 {-tip}L{shoulder} {-half}H{long - corner}Q{long} {-half} {long} {corner - half}V{half - corner}"
        f"Q{long} {half} {long - corner} {half}H{shoulder}L0 {tip}Z"
        f"M{centre - hole} 0A{hole} {hole} 0 1 0 {centre + hole} 0A{hole} {hole} 0 1 0 {centre - hole} 0Z"
    )


def tag_number_at(long: int, high: int) -> int:
    """Return where along the tag the middle of its number stands."""
    return (high * 3 // 5 + long) // 2
