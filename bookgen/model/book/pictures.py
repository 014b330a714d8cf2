"""Pictures of the book as data: each with its marks, and the finished wall that can be looked through."""

from __future__ import annotations

from typing import Literal

from bookgen.model.evidence import Pane
from bookgen.model.frozen import dataclass

MarkShape = Literal["point", "arrow", "box"]


Percent = tuple[float, float]
"""A point of a picture, in percent of its width from the left and of its height from the top."""


@dataclass(frozen=True, slots=True)
class PictureMark:
    """Something pointed out on a picture: *label* stands on it and before *what* in the list below the picture.

    *dots*: the point; the tail of an arrow and its tip; two opposite corners of a box. *tag* is true where the label is
    the number of a hang tag. *where* says where it was measured to be, *known* how that is known; both may be "".
    """

    shape: MarkShape
    label: str
    tag: bool
    what: str
    dots: tuple[Percent, ...]
    where: str = ""
    known: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo in the book: *digest* of its original, words for those who can't see it, caption; upright size."""

    digest: str
    alt: str
    caption: str
    width: int
    height: int
    phase: str
    date: str
    marks: tuple[PictureMark, ...] = ()


@dataclass(frozen=True, slots=True)
class SeeThrough:
    """A finished wall that can be looked through: *panes* map the *framed* picture onto the *finished* one.

    *key* names the pictures made of both. *alt* says what is seen through the board, *shift* how far off what lies
    deeper may seem. The *marks* are those of the framed picture where they lie on the finished one.
    """

    key: str
    finished: Picture
    framed: Picture
    panes: tuple[Pane, ...]
    alt: str
    caption: str
    shift: str
    marks: tuple[PictureMark, ...]
