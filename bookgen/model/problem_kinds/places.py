"""Kinds of problem that solve finds in the level and in the places of what is hidden."""

from bookgen.model.problem_kinds.kind import ProblemKind

PLACE_KINDS = (
    ProblemKind(
        "unknown-board",
        "No gypsum board of this thickness is made.",
        "wall board: 7/16 in",
        "wall board: 1/2 in",
    ),
    ProblemKind(
        "datum-circular",
        "A height of the level is measured from something that hangs on that very height.",
        "underside: 0 in below joists",
        "underside: 89-1/2 in above slab",
    ),
    ProblemKind(
        "ceiling-above-joists",
        "A room's finished ceiling would lie above the underside of the joists that carry it.",
        "ceiling: 92 in above slab",
        "ceiling: 89 in above slab",
    ),
    ProblemKind(
        "room-flat",
        "The corners of a room enclose nothing.",
        "outline: [[4 in, 4 in], [90 in, 4 in], [90 in, 4 in], [4 in, 4 in]]",
        "outline: [[4 in, 4 in], [90 in, 4 in], [90 in, 80 in], [4 in, 80 in]]",
    ),
    ProblemKind(
        "wall-missing",
        "A place is written along a wall and off it, but the run goes along no wall and none is named.",
        "run: {along: east, from: 0 in, to: 90 in}\nat: {along: 40 in, off the block: 7 in, above slab: 20 in}",
        "at: {wall: north wall, along: 40 in, off the block: 7 in, above slab: 20 in}",
    ),
    ProblemKind(
        "no-length",
        "A pipe, duct, cable or post has two ends in the one direction that it runs, and its middle in the others.",
        "pipe: 3 in PVC drain\nat: {along: 40 in, off the block: 7 in, above slab: 82 in}",
        "pipe: 3 in PVC drain\nat: {along: 40 in to 192 in, off the block: 7 in, above slab: 82 in}",
    ),
    ProblemKind(
        "size-disagrees",
        "A stretch is longer or shorter than the size that the same thing is given beside it.",
        "duct: 20 x 8\nat: {east: 60 in to 316 in, north: 84 in to 110 in, above slab: 84.5 in}",
        "duct: 20 x 8\nat: {east: 60 in to 316 in, north: 84 in to 104 in, above slab: 84.5 in}",
    ),
    ProblemKind(
        "path-too-short",
        "A path has a single point; a thing that does not turn is written with at.",
        "path: [{east: 96 in, north: 94 in, above slab: 88 in}]",
        "path: [{east: 96 in, north: 94 in, above slab: 88 in}, {east: 96 in, north: 94 in, above slab: 94 in}]",
    ),
    ProblemKind(
        "path-point-stretch",
        "A point of a path is written with two ends; each point is one length in each direction.",
        "path: [{east: 96 in to 120 in, north: 94 in, above slab: 88 in}, ...]",
        "path: [{east: 96 in, north: 94 in, above slab: 88 in}, {east: 120 in, north: 94 in, above slab: 88 in}]",
    ),
    ProblemKind(
        "path-doubles",
        "A point of a path is the same as the one before it.",
        "path: [{east: 96 in, north: 94 in, above slab: 88 in}, {east: 96 in, north: 94 in, above slab: 88 in}]",
        "path: [{east: 96 in, north: 94 in, above slab: 88 in}, {east: 96 in, north: 76 in, above slab: 88 in}]",
    ),
    ProblemKind(
        "path-skew",
        "A path can't be followed here: a rectangular duct goes along the walls, a body or post stands in one place.",
        "duct: 20 x 8\npath: [{east: 60 in, north: 90 in, ...}, {east: 90 in, north: 120 in, ...}]",
        "duct: 20 x 8\npath: [{east: 60 in, north: 90 in, ...}, {east: 90 in, north: 90 in, ...}]",
    ),
    ProblemKind(
        "rise-across",
        "Something is said to rise to a side that it does not run to, or has no length to rise along.",
        "at: {along: 40 in to 192 in, off the block: 7 in, above slab: 82 in, rises: 1/4 in per ft to the north}",
        "at: {along: 40 in to 192 in, off the block: 7 in, above slab: 82 in, rises: 1/4 in per ft to the east}",
    ),
    ProblemKind(
        "rise-disagrees",
        "The heights at both ends of a leg do not make the rise that is written beside them.",
        "path: [{..., above slab: 82 in, rises: 1/4 in per ft to the east}, {..., above slab: 90 in}]",
        "path: [{..., above slab: 82 in}, {..., above slab: 85.2 in}]",
    ),
    ProblemKind(
        "coupling-off-pipe",
        "A coupling is written at a station that its pipe does not pass.",
        "at: {along: 40 in to 192 in, ...}\ncouplings: [204 in]",
        "at: {along: 40 in to 192 in, ...}\ncouplings: [128 in]",
    ),
    ProblemKind(
        "couplings-not-pipe",
        "Something that is no pipe has couplings.",
        "duct: 20 x 8\ncouplings: [128 in]",
        "pipe: 3 in PVC drain\ncouplings: [128 in]",
    ),
    ProblemKind(
        "stations-too-few",
        "Something taped as a whole has a single station, which says nothing of the run.",
        "stations: [{along: 40 in, reach: 9 in, hang: 10 in}]",
        "stations: [{along: 40 in, reach: 9 in, hang: 10 in}, {along: 192 in, reach: 9 in, hang: 7 in}]",
    ),
    ProblemKind(
        "station-twice",
        "Two entries are for the same station; the worse one is enough.",
        "stations: [{along: 40 in, reach: 9 in, hang: 10 in}, {along: 40 in, reach: 8 in, hang: 9 in}]",
        "stations: [{along: 40 in, reach: 9 in, hang: 10 in}, {along: 192 in, reach: 8 in, hang: 9 in}]",
    ),
)
