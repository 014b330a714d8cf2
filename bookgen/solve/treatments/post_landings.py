"""Rails and half walls that end on a post wrap in; holes in its board, blocks behind it, Problems and words out."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Material, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import box
from bookgen.model.problem import Problem
from bookgen.model.records.treatments import Landing, PostWrap
from bookgen.solve.compass import looks
from bookgen.solve.cutout import Rectangle
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.site import Site, height_above_slab
from bookgen.solve.treatments.assembled import path_to
from bookgen.solve.treatments.chase_frame import ChaseSide

BLOCK = "2x6"  # behind a rail in a four-sided frame, laid flat, so that its bracket lands on wood; common practice


@dataclass(frozen=True, slots=True)
class Wrapped:
    """One wrapped post: its middle, half the framing's outside along and across, its framing's and board's heights."""

    name: str
    x: Fraction
    y: Fraction
    half: tuple[Fraction, Fraction]
    framing: Stretch
    boards: Stretch
    remark: str


def landing_problems(site: Site, choices: PostWrap, post: Wrapped) -> Iterator[Problem]:
    """Yield a `landing-past-wrap` Problem for each rail or half wall that is wider or higher than the wrap."""
    for index, landing in enumerate(choices.lands):
        room = 2 * (post.half[0] if _across(site, landing.side) else post.half[1])
        foot, top = _up(site, landing)
        path = path_to(site, "lands", index)
        if landing.wide.inches > room:
            rule = f"the framing of the wrap is {site.tape.short(room)} wide on that side"
            yield site.problem(
                "landing-past-wrap", (*path, "wide"), site.tape.short(landing.wide), rule, "write a larger wrap"
            )
        if not (0 <= foot < top <= post.framing[1]):
            rule = f"it lands between the slab and the top of the framing, {site.tape.short(post.framing[1])} up"
            repair = "write its top and its underside, with their datum"
            yield site.problem("landing-past-wrap", (*path, "top"), site.tape.short(top), rule, repair)


def landing_holes(site: Site, choices: PostWrap, post: Wrapped, way: str) -> tuple[Rectangle, ...]:
    """Return where the board of the side that looks *way* is left open: a half wall stands against the framing."""
    return tuple(
        _patch(site, landing, post) for landing in choices.lands if landing.side == way and landing.bottom is None
    )


def landing_blocks(site: Site, choices: PostWrap, post: Wrapped, sides: tuple[ChaseSide, ...]) -> Iterator[Part]:
    """Yield a flat block in a four-sided frame behind each rail: flats are solid wood and need none."""
    thick, wide = true_size(BLOCK) or (Fraction(0), Fraction(0))
    for number, landing in enumerate(choices.lands, 1):
        for side in sides:
            if landing.bottom is None or looks(site.frame, side.axis, side.toward) != landing.side:
                continue
            patch = _patch(site, landing, post)
            middle = (patch.v[0] + patch.v[1]) / 2
            up = middle - wide / 2, middle + wide / 2
            layer = side.layer[0], side.layer[0] + thick
            spans = {side.along: side.clear, side.axis: layer, "z": up}
            solid = box(spans["x"], spans["y"], spans["z"], side.along)
            yield Part(f"{post.name}, block {number}", "block", solid, Material.BLOCKING, BLOCK)


def block_zones(site: Site, choices: PostWrap, post: Wrapped, side: ChaseSide) -> tuple[Stretch, ...]:
    """Return the heights that blocks behind rails take in one side of a frame, where no tie can lie."""
    wide = (true_size(BLOCK) or (Fraction(0), Fraction(0)))[1]
    way = looks(site.frame, side.axis, side.toward)
    middles = [
        (patch.v[0] + patch.v[1]) / 2
        for landing in choices.lands
        if landing.side == way and landing.bottom is not None
        for patch in (_patch(site, landing, post),)
    ]
    return tuple((middle - wide / 2, middle + wide / 2) for middle in middles)


def landing_words(site: Site, choices: PostWrap) -> Iterator[str]:
    """Yield what is said of each rail and half wall."""
    for landing in choices.lands:
        foot, top = _up(site, landing)
        high = site.tape.short(top - site.level.floor)
        if landing.bottom is None:
            yield site.say(
                "{what}: it stands against the framing of the {side} side, {high} over the floor.",
                what=landing.what,
                side=site.tongue.name(landing.side),
                high=high,
            )
        else:
            wood = site.say("a flat" if choices.form == "flats" else "a block")
            yield site.say(
                "{what}: it is screwed through the board of the {side} side into {wood}, from {foot} to "
                "{high} over the floor.",
                what=landing.what,
                side=site.tongue.name(landing.side),
                wood=wood,
                foot=site.tape.short(foot - site.level.floor),
                high=high,
            )


def _across(site: Site, side: str) -> bool:
    """Tell whether a side of the wrap looks across the run."""
    return side in {looks(site.frame, "y", 1), looks(site.frame, "y", -1)}


def _up(site: Site, landing: Landing) -> Stretch:
    foot = Fraction(0) if landing.bottom is None else height_above_slab(landing.bottom, site.level)
    return foot, height_above_slab(landing.top, site.level)


def _patch(site: Site, landing: Landing, post: Wrapped) -> Rectangle:
    middle = post.x if _across(site, landing.side) else post.y
    return Rectangle((middle - landing.wide.inches / 2, middle + landing.wide.inches / 2), _up(site, landing))
