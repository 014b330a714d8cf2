"""The ends of a stair's opening in; the two posts of its rail, and the soffits that they end under, out."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import SOFFITS, Part
from bookgen.model.geometry import Box, Point
from bookgen.solve.framing import Stretch, stick, true_size
from bookgen.solve.site import Envelope, Site, Taken
from bookgen.solve.treatments.assembled import middle

POST = "4x4"
NAMES = ("bottom post", "post at the wall")


def post_rooms(
    opening: Stretch, across: Stretch, posts: tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]
) -> tuple[Box, Box]:
    """Return the room of each post, inside the opening; *posts* are the station and the top of each."""
    side = (true_size(POST) or (Fraction(0), Fraction(0)))[0]
    y = middle(across) - side / 2
    rooms = []
    for station, top in posts:
        x = station if station == opening[1] else station - side
        rooms.append(Box(Point(x, y, Fraction(0)), Point(x + side, y + side, top)))
    return rooms[0], rooms[1]


def post_sticks(site: Site, rooms: tuple[Box, Box]) -> Iterator[Part]:
    """Yield both posts; one under a soffit ends there."""
    for name, room in zip(NAMES, rooms, strict=True):
        up = Fraction(0), min((room.high.z, *(taken.room.finished.low.z for taken in ended_under(site, room))))
        yield stick(name, "post", POST, "z", up, (room.low.x, room.low.y), "x")


def post_words(site: Site, rooms: tuple[Box, Box]) -> Iterator[str]:
    """Yield what each post ends under."""
    low, high = rooms
    for taken in ended_under(site, low):
        yield site.say("The bottom post ends under {what}.", what=taken.what)
    for taken in ended_under(site, high):
        yield site.say("The post at the wall ends under {what}.", what=taken.what)


def ended_under(site: Site, post: Box) -> tuple[Taken, ...]:
    """Return the soffits that a post ends under."""
    return tuple(one for one in site.taken if one.treatment in SOFFITS and one.room.finished.overlaps(post))


def envelope_of(rooms: tuple[Box, Box]) -> tuple[Envelope, ...]:
    """Return the room that the posts fill: nothing else of a stair goes up where soffits are."""
    return tuple(Envelope(room, room) for room in rooms)
