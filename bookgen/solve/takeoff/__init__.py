"""The solved treatments and walls in, their pieces counted and their stock put together out."""

from bookgen.solve.takeoff.count import count

__all__ = ["count"]
