"""Where every treatment stands in; which access opening lies in a face of which soffit or chase, out.

Such an opening is framed by the work it lies in, as that frames round the covers of its own record; the record of the
opening makes the cover. One in a lining, a partition or a ceiling is framed in those; in a closet or a wrap none is.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from bookgen.model.assembly import SOFFITS
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import AXES, Axis, Box, Point
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import AccessOpening
from bookgen.solve.choices import chosen
from bookgen.solve.meetings import Standing, standing
from bookgen.solve.positions import Ground, locate
from bookgen.solve.site import Guest, Site
from bookgen.solve.treatments.access_opening import CLOSED
from bookgen.solve.treatments.assembled import path_to
from bookgen.solve.treatments.opening_size import size_of

HOSTS = frozenset({*SOFFITS, "chase"})
NEAR = 1  # inches by which the place may miss the face that it lies in


@dataclass(frozen=True, slots=True)
class _Hosted:
    guest: Site
    opening: Guest
    host: Standing


def with_openings(sites: Mapping[str, Site]) -> dict[str, Site]:
    """Return the sites by the keys of their records: a host with the openings in it, an opening with its host."""
    found = dict(sites)
    for one in _hosted(sites.values()):
        key, host = one.guest.file.key, one.host.site.file.key
        found[key] = replace(found[key], host=one.host.seen_from(one.guest))
        if one.host.treatment in HOSTS:
            found[host] = replace(found[host], guests=(*found[host].guests, one.opening))
    return found


def _hosted(sites: Iterable[Site]) -> Iterable[_Hosted]:
    rows = tuple(sites)
    guests = [(site, guest) for site in rows if (guest := _guest(site)) is not None]
    if not guests:
        return
    hosts = [piece for site in rows for piece in standing(site) if piece.treatment in HOSTS | CLOSED]
    for site, guest in guests:
        host = next(
            (one for one in hosts if _in_a_face(guest.room, one.box) and not _in_its_back(guest.room, one)), None
        )
        if host is not None:
            yield _Hosted(site, guest, host)


def _guest(site: Site) -> Guest | None:
    """Return the opening that a record asks for; None where it asks for none, or can't be placed."""
    pick = chosen(site.file.record)
    if pick is None or not isinstance(pick.choices, AccessOpening):
        return None
    path = path_to(site, "at")
    spot = locate(pick.choices.at, Ground(site.project, site.file, site.level, site.frame), path)
    if isinstance(spot, Problem):
        return None
    low, high = (Point(spot.x[end], spot.y[end], spot.z[end]) for end in (0, 1))
    return Guest(site.file.record.obstacle, Box(low, high), size_of(pick.choices), site.place(*path), path)


def _in_a_face(place: Box, host: Box) -> bool:
    """Tell whether the middle of a flat place lies in a face of a host's finished box."""
    centre = Point(*((place.low.on(a) + place.high.on(a)) / 2 for a in AXES))
    return any(_lies(place, centre, host, axis) for axis in AXES)


def _in_its_back(place: Box, closet: Standing) -> bool:
    """Tell whether a place lies in the lining that a closet stands before, which is framed by itself."""
    own = closet.site.frame.box_from_level(place)
    behind = own.low.y - closet.room.finished.low.y
    return closet.treatment == "closet" and own.size("y") == 0 and abs(behind) <= NEAR


def _lies(place: Box, centre: Point, host: Box, axis: Axis) -> bool:
    at = place.low.on(axis)
    on_it = min(abs(at - host.low.on(axis)), abs(at - host.high.on(axis))) <= NEAR
    within = all(host.low.on(a) < centre.on(a) < host.high.on(a) for a in AXES if a != axis)
    return place.size(axis) == 0 and on_it and within
