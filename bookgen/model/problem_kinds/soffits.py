"""Kinds of problem that solve finds in the choices of a wall, hung or beam soffit."""

from bookgen.model.problem_kinds.kind import ProblemKind

SOFFIT_KINDS = (
    ProblemKind(
        "part-meets-obstacle",
        "A piece of the framing or board would go through something hidden, or into the room it must be left.",
        "framing bottom: 79 in above slab    (the duct's underside is 80 in up: crossers would go 1/2 in into it)",
        "framing bottom: 78-1/2 in above slab",
    ),
    ProblemKind(
        "obstacle-shows",
        "Something to be hidden would hang below the framing, or stand outside it.",
        "framing bottom: 84 in above slab    (the drain's underside is 80-1/4 in up)",
        "framing bottom: 77 in above slab",
    ),
    ProblemKind(
        "soffit-too-shallow",
        "Two rails do not fit between the framing's underside and the joists.",
        "framing bottom: 87 in above slab",
        "framing bottom: 77 in above slab",
    ),
    ProblemKind(
        "soffit-below-floor",
        "The soffit would come down to the finished floor, mostly by a wrong datum.",
        "framing bottom: 89 in below joists",
        "framing bottom: 12-1/2 in below joists",
    ),
    ProblemKind(
        "soffit-too-narrow",
        "The ladders, and what they stand on or beside, take more than the width that is written.",
        "finished width: 6 in    (beam 4 in, two ladders 3 in, two boards 1 in)",
        "finished width: 11 in",
    ),
    ProblemKind(
        "soffit-too-short",
        "Between the walls that the soffit's ends meet, nothing is left of it.",
        "along: 204 in to 207.5 in    (all of it lies inside a partition)",
        "along: 4.1 in to 204 in",
    ),
    ProblemKind(
        "soffit-needs-wall",
        "A wall soffit goes along a wall, and the record's run goes along none.",
        "run: {along: east, from: 40 in, to: 192 in}\ntreatment: {wall soffit: {...}}",
        "run: {along: north wall, from: 40 in, to: 192 in}\ntreatment: {wall soffit: {...}}",
    ),
    ProblemKind(
        "soffit-size-missing",
        "Neither the record nor anything inside it says how far out, or how low, the soffit has to come.",
        "inside: []\ntreatment: {wall soffit: {line: straight}}",
        "treatment: {wall soffit: {outside: 12 in off the block, framing bottom: 77 in above slab}}",
    ),
    ProblemKind(
        "spacing-too-small",
        "Rungs and crossers at this spacing would touch one another.",
        "rungs: 2 in",
        "rungs: 16 in",
    ),
    ProblemKind(
        "stick-too-long",
        "A piece that can't be joined, such as a crosser, is longer than its stock is sold.",
        "between: 60 in to 180 in\nladder: 2x2    (sold 8 ft long; the crossers are 117 in)",
        "between: 60 in to 180 in\nladder: 2x4",
    ),
    ProblemKind(
        "steps-not-joined",
        "The steps of a wall soffit do not follow one another, or do not fill the run that is written.",
        "steps: [{along: 40 in to 120 in, ...}, {along: 126 in to 204 in, ...}]",
        "steps: [{along: 40 in to 120 in, ...}, {along: 120 in to 204 in, ...}]",
    ),
    ProblemKind(
        "steps-on-straight-line",
        "A wall soffit is to go in one straight line, and in steps.",
        "line: straight\nbottom: steps",
        "line: steps\nbottom: steps",
    ),
    ProblemKind(
        "cover-past-soffit",
        "A cover reaches over a rail, a cleat or the end of its soffit, where no opening can be framed.",
        "cover: {size: 12 x 12 in, at: {north: 118 in to 130 in, ...}}    (the ladders leave 83 to 121 in)",
        "cover: {size: 12 x 12 in, at: {north: 106 in to 118 in, ...}}",
    ),
    ProblemKind(
        "cover-size-missing",
        "An access point lies in a soffit or above a ceiling, and nothing says where its cover is and how large.",
        "cover: {kind: lift-out panel, opens: push up}",
        "cover: {kind: lift-out panel, size: 12 x 12 in, at: {east: 90 in to 102 in, ...}, opens: push up}",
    ),
    ProblemKind(
        "margin-too-large",
        "The margin asked for under lines is as much as the strips are thick, so that they would hide nothing.",
        "strip: 1x3\nmargin: 3/4 in",
        "strip: 1x3\nmargin: 1/4 in",
    ),
    ProblemKind(
        "section-outside",
        "The station of the section sketch does not lie on the work that it is to show.",
        "section at: 300 in    (the soffit ends at 204 in)",
        "section at: 128 in",
    ),
    ProblemKind(
        "beam-missing",
        "A beam soffit has no beam: nothing inside runs along it from end to end.",
        "inside: []\ntreatment: {beam soffit: {...}}",
        "inside: [{what: Steel beam, body: {wide: 432 in, deep: 4 in, high: 8 in}, ...}]",
    ),
    ProblemKind(
        "fitting-outside",
        "A light or register does not lie in the bottom of the soffit, between its ladders.",
        "between: 81.5 in to 122.5 in\nlights: [{north: 82 in, ...}]",
        "between: 81.5 in to 122.5 in\nlights: [{north: 102 in, ...}]",
    ),
    ProblemKind(
        "fittings-meet",
        "The holes of two lights or registers run into one another.",
        "lights: [{east: 138 in, north: 95 in, ...}]\nregisters: [{east: 132 in to 144 in, north: 91 in to 97 in}]",
        "lights: [{east: 158 in, north: 95 in, ...}]\nregisters: [{east: 132 in to 144 in, north: 91 in to 97 in}]",
    ),
    ProblemKind(
        "light-too-deep",
        "A light goes further up than the space between the board and what hangs over it.",
        "lights: [{deep: 4 in, ...}]    (2 in are there)",
        "lights: [{deep: 1-1/2 in, ...}]",
    ),
)
