"""Kinds of problem that solve finds in the level and its rooms: sizes and outlines that no house can have."""

from bookgen.model.problem_kinds.kind import ProblemKind

LEVEL_KINDS = (
    ProblemKind(
        "well-past-window",
        "A window well is narrower than its window, or its floor lies over the sill.",
        "along: 214 in to 250 in\nwell: {wide: 30 in, ...}",
        "along: 214 in to 250 in\nwell: {wide: 42 in, ...}",
    ),
    ProblemKind(
        "well-upside-down",
        "The rim of a window well is not over its floor.",
        "well: {bottom: 36 in above slab, top: 20 in above slab, ...}",
        "well: {bottom: 36 in above slab, top: 80 in above slab, ...}",
    ),
    ProblemKind(
        "joists-below-floor",
        "The underside of the joists lies at the finished floor or under it.",
        "underside: -3 in above slab",
        "underside: 7'-5 1/2\" above slab",
    ),
    ProblemKind(
        "joist-off-level",
        "The joist that the layout is counted from does not lie over the level.",
        "first: 500 in    (the level is 36 ft from west to east)",
        "first: 8 in",
    ),
    ProblemKind(
        "base-too-high",
        "The baseboard would reach the joists.",
        "base: 475 in",
        "base: 4-3/4 in",
    ),
    ProblemKind(
        "window-below-slab",
        "A window's sill is under the slab; usually it is a slip of the pen.",
        "sill: -4 in above slab",
        "sill: 40 in above slab",
    ),
    ProblemKind(
        "room-skew",
        "A side of a room's outline runs askew, or a corner is written twice. Only square walls are solved.",
        "outline: [[4 in, 4 in], [203 in, 10 in], [203 in, 283 in], [4 in, 283 in]]",
        "outline: [[4 in, 4 in], [203 in, 4 in], [203 in, 283 in], [4 in, 283 in]]",
    ),
    ProblemKind(
        "room-crossed",
        "Two sides of a room's outline cross or lie on one another: its corners are out of order.",
        "outline: [[0 in, 0 in], [90 in, 0 in], [90 in, 60 in], [30 in, 60 in], [30 in, -30 in], [0 in, -30 in]]",
        "outline: [[0 in, 0 in], [90 in, 0 in], [90 in, 60 in], [0 in, 60 in]]",
    ),
    ProblemKind(
        "ceiling-below-floor",
        "A room's ceiling lies at the finished floor or under it.",
        "ceiling: 0 in above slab",
        "ceiling: 89 in above slab",
    ),
)
