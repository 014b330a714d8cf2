"""Kinds of problem with points on photos: ties to a wall, marks, and framed photos seen through finished ones."""

from bookgen.model.problem_kinds.kind import ProblemKind

_FOUR = "what: soffit meets chase, along: 32.5 in, above slab: 77 in, at: [654, 336]"

SEEING_KINDS = (
    ProblemKind(
        "not-a-pixel",
        "A point of a picture is not two whole numbers: pixels to the right and down from the top left corner.",
        "at: [654]",
        "at: [654, 336]",
    ),
    ProblemKind(
        "side-twice",
        "A thing is said to stand in front of the plane and behind it.",
        "in front: 1/4 in\nbehind: 1/2 in",
        "in front: 1/4 in",
    ),
    ProblemKind(
        "spot-half-placed",
        "A known point of a photo has neither along and a height, as on a wall, nor east and north, as on a ceiling.",
        "points: [{what: corner of the soffit, east: 58 in, at: [310, 402]}, ...]",
        "points: [{what: corner of the soffit, east: 58 in, north: 81 in, at: [310, 402]}, ...]",
    ),
    ProblemKind(
        "spot-other-plane",
        "A photo is tied to a wall by points of a ceiling, or to a ceiling by points of a wall.",
        "tied:\n  to: north wall\n  points: [{what: light, east: 58 in, north: 81 in, at: [310, 402]}, ...]",
        "tied:\n  to: ceiling\n  points: [{what: light, east: 58 in, north: 81 in, at: [310, 402]}, ...]",
    ),
    ProblemKind(
        "mark-two-shapes",
        "A mark is an arrow, with from, or a box, with to; not both.",
        "marks: [{what: Plug, from: [600, 800], at: [719, 866], to: [760, 900]}]",
        "marks: [{what: Plug, from: [600, 800], at: [719, 866]}]",
    ),
    ProblemKind(
        "mark-box-measured",
        "The place of a box is asked for; only a point, or the tip of an arrow, has one.",
        "marks: [{what: Cover, at: [650, 800], to: [760, 920], measure: yes}]",
        "marks: [{what: Cover, at: [650, 800], to: [760, 920]}]",
    ),
    ProblemKind(
        "mark-not-tied",
        "A mark is to be measured on a photo that is tied to no wall.",
        "file: corner-framed.jpg\nmarks: [{what: Plug, at: [719, 866], measure: yes}]",
        "file: corner-framed.jpg\ntied: {to: north wall, ...}\nmarks: [{what: Plug, at: [719, 866], measure: yes}]",
    ),
    ProblemKind(
        "point-outside-picture",
        "A point lies outside its photo: its numbers count pixels of the upright original.",
        "at: [1719, 866]    (the photo is 1600 by 1200)",
        "at: [719, 866]",
    ),
    ProblemKind(
        "unknown-photo",
        "No photo of this phase of the record has this name.",
        "framed: [{file: corner-framed.jpg, shows: A framed corner.}]\nsee through: [{framed: corner-frame.jpg, ...}]",
        "framed: [{file: corner-framed.jpg, shows: A framed corner.}]\nsee through: [{framed: corner-framed.jpg, ...}]",
    ),
    ProblemKind(
        "see-through-untied",
        "A framed photo is to be seen through a finished one, but nothing says which of their points belong together.",
        "see through: [{framed: corner-framed.jpg, finished: corner-finished.jpg}]",
        "see through:\n  - framed: corner-framed.jpg\n    finished: corner-finished.jpg\n"
        "    pairs: [{what: outlet, framed: [408, 1235], finished: [393, 1203]}, ...]",
    ),
    ProblemKind(
        "ties-differ",
        "Two photos are to be laid over one another that are tied to different walls.",
        "tied: {to: north wall, ...}    (the other photo's points are on the west wall)",
        "tied: {to: west wall, ...}",
    ),
    ProblemKind(
        "pair-off",
        "A point does not fit the plane that the others agree on: it is marked, or taped, in the wrong place.",
        "{what: soffit meets chase, along: 42.5 in, above slab: 77 in, at: [654, 336]}",
        "{" + _FOUR + "}",
    ),
    ProblemKind(
        "pairs-too-few",
        "Fewer than four points or pairs are given; a plane takes four.",
        "pairs: [{what: outlet, framed: [408, 1235], finished: [393, 1203]}]",
        "pairs: [{what: outlet, framed: [408, 1235], finished: [393, 1203]}, ...]",
    ),
    ProblemKind(
        "pairs-doubled",
        "Two points are at the same place, on the photo or on the wall.",
        "points: [{" + _FOUR + "}, {" + _FOUR + "}]",
        "points: [{" + _FOUR + "}]",
    ),
    ProblemKind(
        "pairs-in-line",
        "So many points stand in one line that they don't settle a plane.",
        "points: [...]    (all of them along the floor)",
        "points: [{" + _FOUR + "}]",
    ),
    ProblemKind(
        "pairs-crossed",
        "The points don't follow one another the same way round on both sides; mostly two of them are swapped.",
        "pairs: [{what: upper corner, framed: [408, 1235], finished: [393, 803]}, ...]",
        "pairs: [{what: upper corner, framed: [408, 835], finished: [393, 803]}, ...]",
    ),
    ProblemKind(
        "pairs-mirrored",
        "One photo would show the wall from behind; left and right are swapped in it.",
        "pairs: [{what: left jamb, framed: [408, 900], finished: [1203, 880]}, ...]",
        "pairs: [{what: left jamb, framed: [408, 900], finished: [393, 880]}, ...]",
    ),
    ProblemKind(
        "pairs-disagree",
        "No flat face fits the points; some are marked in the wrong place, or don't lie in one plane.",
        "points: [...]    (some on the wall, some on the soffit in front of it)",
        "points: [{" + _FOUR + "}]",
    ),
    ProblemKind(
        "pairs-ill-placed",
        "The points stand so close together that a slip of one pixel would move the result by many.",
        "points: [...]    (the four corners of one outlet)",
        "points: [{" + _FOUR + "}]",
    ),
    ProblemKind(
        "point-beyond",
        "A mark to be measured is no point of the wall: it lies past the line where the wall meets the horizon.",
        "marks: [{what: Plug, at: [719, 4], measure: yes}]",
        "marks: [{what: Plug, at: [719, 866], measure: yes}]",
    ),
)
