"""Kinds of problem that solve finds in post wraps, chases, closets, stairs and access openings; more of walls."""

from bookgen.model.problem_kinds.kind import ProblemKind

UPRIGHT_KINDS = (
    ProblemKind(
        "cover-size-disagrees",
        "A cover's size and the stretches of its place are not the same.",
        "cover: {size: 30 x 14 in, at: {along: 34 in to 46 in, above slab: 10 in to 24 in, ...}}",
        "cover: {size: 12 x 14 in, at: {along: 34 in to 46 in, above slab: 10 in to 24 in, ...}}",
    ),
    ProblemKind(
        "doorway-crossed",
        "A duct or a pipe crosses a doorway or a window, or lies where its header has to.",
        "head: 75.85 in above slab    (a duct crosses at 74 in)",
        "head: 71-1/2 in above slab",
    ),
    ProblemKind(
        "opening-count",
        "A stair's side is opened between two stations, or to a nosing: one of the two is written.",
        "opening: 86.75 in to 136.25 in\nopened to: 6",
        "opened to: 6",
    ),
    ProblemKind(
        "backing-past-wall",
        "Backing for something that will hang on a wall lies past the wall's end, or over or under its plates.",
        "backing: [{what: Screen, wall: north wall, along: 90 in to 900 in, middle: 52 in above floor}]",
        "backing: [{what: Screen, wall: north wall, along: 90 in to 140 in, middle: 52 in above floor}]",
    ),
    ProblemKind(
        "stud-past-wall",
        "A stud as somebody found it does not stand in its wall.",
        "studs: [16 in, 32 in, 480 in]",
        "studs: [16 in, 32 in, 48 in]",
    ),
    ProblemKind(
        "studs-overlap",
        "Two studs as somebody found them stand in one another.",
        "studs: [16 in, 32 in, 33 in]",
        "studs: [16 in, 32 in, 33-1/2 in]",
    ),
    ProblemKind(
        "landing-past-wrap",
        "A rail or a half wall is wider or higher than the post wrap that it ends on.",
        "lands: [{what: Half wall, side: east, top: 92 in above floor, wide: 3-1/2 in}]",
        "lands: [{what: Half wall, side: east, top: 42 in above floor, wide: 3-1/2 in}]",
    ),
    ProblemKind(
        "unknown-passing",
        "No table says how large an opening that needs.",
        "passes: [foot]",
        "passes: [two hands]",
    ),
    ProblemKind(
        "opening-unsized",
        "Nothing in the record says how large an access opening is.",
        "at: {along: 170 in, off the block: 4.6 in, above slab: 35 in}",
        "at: {along: 170 in, off the block: 4.6 in, above slab: 35 in}\npasses: [hand]",
    ),
    ProblemKind(
        "opening-cuts-joist",
        "An access opening in a ceiling lies under a joist; it is framed between two joists.",
        "at: {east: 148 in to 156 in, ...}    (a joist stands at 152 in)",
        "at: {east: 156 in to 164 in, ...}",
    ),
    ProblemKind(
        "chase-around-nothing",
        "Nothing that the record lists inside stands where its chase is built.",
        "along: 232.5 in to 247.5 in    (the stack is at 40 in)",
        "along: 32.5 in to 47.5 in",
    ),
    ProblemKind(
        "cover-in-no-face",
        "A cover of the record lies in none of the faces of its chase, soffit or ceiling.",
        "cover: {at: {along: 34 in to 46 in, off the block: 16 in, ...}}    (the front is 12-1/2 in off)",
        "cover: {at: {along: 34 in to 46 in, off the block: 12.5 in, ...}}",
    ),
    ProblemKind(
        "wrap-above-joists",
        "A post wrap would go up past the underside of the joists.",
        "top: 90 in above slab    (the joists are at 89-1/2 in)",
        "top: 80 in above slab",
    ),
    ProblemKind(
        "openings-meet",
        "Two openings of a wall overlap, or leave no room for the studs between them.",
        "along: 60 in to 92 in    (another opening goes from 90 in to 120 in)",
        "along: 60 in to 92 in",
    ),
    ProblemKind(
        "door-smaller-than-opening",
        "The leaves with their jambs are much smaller than the rough opening; one of the two is a slip of the pen.",
        "leaf: 24 x 76 in\nrough opening: 68.25 in to 99.75 in",
        "leaf: 30 x 76 in\nrough opening: 68.25 in to 99.75 in",
    ),
)
