"""Kinds of problem that read finds in the values of a record: lengths, places, sizes, days, evidence."""

from bookgen.model.problem_kinds.kind import ProblemKind

VALUE_KINDS = (
    ProblemKind(
        "bare-number",
        "A length stands there without its unit, so that inches and millimetres can't be told apart.",
        "clearance: 6",
        "clearance: 6 in",
    ),
    ProblemKind(
        "not-a-length",
        "The text can't be read as a length.",
        "clearance: a hand's width",
        "clearance: 4 in",
    ),
    ProblemKind(
        "length-too-large",
        "A length is longer than anything in a house; most often a unit or a digit is wrong.",
        "east west: 17000 ft",
        "east west: 17 ft",
    ),
    ProblemKind(
        "not-positive",
        "A size is more than nothing.",
        "finished: 0 in",
        "finished: 8 in",
    ),
    ProblemKind(
        "datum-missing",
        "A height or an offset doesn't say what it is measured from, such as the slab or the finished floor.",
        "framing bottom: 77 in",
        "framing bottom: 77 in above slab",
    ),
    ProblemKind(
        "not-a-span",
        "A stretch is written with both its ends.",
        "between: 41 in",
        "between: 81.5 in to 122.5 in",
    ),
    ProblemKind(
        "span-backward",
        "The second end of a stretch lies before the first.",
        "between: 122.5 in to 81.5 in",
        "between: 81.5 in to 122.5 in",
    ),
    ProblemKind(
        "not-a-size",
        "A size is written as width by height.",
        "size: 12 in",
        "size: 12 x 14 in",
    ),
    ProblemKind(
        "not-a-rise",
        "A slope says how much it rises, per what length, and toward which side.",
        "rises: 1/4 in",
        "rises: 1/4 in per ft to the east",
    ),
    ProblemKind(
        "not-a-point",
        "A point of the plan has two lengths: east of the west block face, north of the south block face.",
        "at: [4.6 in]",
        "at: [4.6 in, 283.4 in]",
    ),
    ProblemKind(
        "not-yes-or-no",
        "Only yes or no can stand here.",
        "share: true",
        "share: yes",
    ),
    ProblemKind(
        "not-a-count",
        "A whole number belongs here, in digits.",
        "risers: thirteen",
        "risers: 13",
    ),
    ProblemKind(
        "not-a-date",
        "A date is written as year, month, day.",
        "started: 3/9/26",
        "started: 2026-03-09",
    ),
    ProblemKind(
        "not-a-heat-input",
        "What an appliance burns is written as its label has it: so much heat an hour, with its unit.",
        "input: 80,000",
        "input: 80,000 Btu/h",
    ),
    ProblemKind(
        "not-an-area",
        "An area is a number and a square: square inches, square feet or square centimetres.",
        "louvre area: 130 in",
        "louvre area: 130 sq in",
    ),
    ProblemKind(
        "not-an-interval",
        "How often something is due is counted in months or years.",
        "every: often",
        "every: 3 months",
    ),
    ProblemKind(
        "not-a-tag",
        "A tag is a number of up to three digits.",
        "tag: A3",
        "tag: 03",
    ),
    ProblemKind(
        "number-out-of-range",
        "The number can't be meant, such as a thirteenth month.",
        "month: 13",
        "month: 10",
    ),
    ProblemKind(
        "interval-backward",
        "The longest that a thing may wait is shorter than the time after which it is due.",
        "every: 6 months\nat most: 3 months",
        "every: 3 months\nat most: 6 months",
    ),
    ProblemKind(
        "days-backward",
        "The days of the job don't follow one another: started, framed, finished.",
        "work: {started: 2026-03-09, framed: 2026-02-01}",
        "work: {started: 2026-03-09, framed: 2026-04-01}",
    ),
    ProblemKind(
        "outside-the-level",
        "A point or a stretch lies outside the block walls of the level.",
        "at: [4.6 in, 283.4 ft]",
        "at: [4.6 in, 283.4 in]",
    ),
    ProblemKind(
        "evidence-undated",
        "A fact that was measured or seen on a photo says on which day.",
        "known: {how: measured}",
        "known: {how: measured, on: 2026-03-10}",
    ),
    ProblemKind(
        "height-missing",
        "A place has exactly one height: above slab, above floor or below joists.",
        "at: {along: 40 in, off the block: 7 in}",
        "at: {along: 40 in, off the block: 7 in, above slab: 82 in}",
    ),
    ProblemKind(
        "position-incomplete",
        "A place has two directions on the plan: east and north, or along and one offset.",
        "at: {along: 40 in, above slab: 82 in}",
        "at: {along: 40 in, off the block: 7 in, above slab: 82 in}",
    ),
    ProblemKind(
        "size-missing",
        "A hidden thing has exactly one size: a pipe, duct, cable or post by its trade name, a body, or stations.",
        "inside:\n  - {what: Main drain, at: {east: 40 in, north: 281 in, above slab: 82 in}, system: waste,"
        " known: {how: assumed}}",
        "inside:\n  - {what: Main drain, pipe: 3 in PVC drain, at: {east: 40 in, north: 281 in, above slab: 82 in},"
        " system: waste, known: {how: assumed}}",
    ),
    ProblemKind(
        "size-incomplete",
        "A body is wide, deep and high, or it has a diameter and is high.",
        "body: {wide: 24 in, high: 24 in}",
        "body: {wide: 24 in, deep: 1 in, high: 24 in}",
    ),
    ProblemKind(
        "place-missing",
        "A hidden thing says where it is: at, or path with the points of its axis.",
        "inside:\n  - {what: Branch, duct: 6 in round, system: air, known: {how: assumed}}",
        "inside:\n  - {what: Branch, duct: 6 in round, at: {east: 96 in, north: 94 in, above slab: 88.5 in},"
        " system: air, known: {how: assumed}}",
    ),
    ProblemKind(
        "place-twice",
        "Something that was measured at stations has its place already.",
        "stations: [{along: 40 in, reach: 9 in, hang: 9 in}]\nat: {east: 40 in, north: 281 in, above slab: 82 in}",
        "stations: [{along: 40 in, reach: 9 in, hang: 9 in}, {along: 192 in, reach: 9 in, hang: 6 in}]",
    ),
    ProblemKind(
        "run-missing",
        "A treatment follows a run, so the record says along what, from where and to where.",
        "treatment: {post wrap: {finished: 8 in, top: 80 in above slab}}",
        "run: {along: east, from: 64 in, to: 72 in}\ntreatment: {post wrap: {finished: 8 in, top: 80 in above slab}}",
    ),
    ProblemKind(
        "web-address-odd",
        "The address of the book on the web, which the codes on its tags hold, starts with https:// and has no blanks.",
        "book:\n  web address: book.test",
        "book:\n  title: House\n  subtitle: Lower level\n  date: 2026-06-15\n  web address: https://book.test",
    ),
    ProblemKind(
        "picture-without-words",
        "Every picture of the book says what it shows: a screen reader reads that aloud, in the site and in the PDF.",
        "book:\n  cover: corner-finished.jpg",
        "book:\n  title: House\n  subtitle: Lower level\n  date: 2026-06-15\n  cover: corner-finished.jpg\n"
        "  cover shows: The finished corner",
    ),
    ProblemKind(
        "not-a-colour",
        "A colour is written as # and six signs, in quotes, since # starts a comment elsewhere.",
        "theme options: {accent: blue}",
        'theme options: {accent: "#17599c"}',
    ),
    ProblemKind(
        "colour-too-faint",
        "Type in a colour of your own has to stand out from the page, or it can't be read by everybody (WCAG 2.2).",
        'theme options: {accent: "#d9d9d9"}',
        'theme options: {accent: "#17599c"}',
    ),
    ProblemKind(
        "theme-unusable",
        "There is no such theme, or something in its folder is missing or wrong.",
        "theme: chalklin",
        "theme: chalkline",
    ),
    ProblemKind(
        "built-undecided",
        "What stands there has been chosen: `as built` names a treatment, and can't ask for proposals.",
        "as built:\n  known: {how: measured, on: 2026-04-01}\n  treatment: propose",
        "as built:\n  known: {how: measured, on: 2026-04-01}\n  treatment: {wall soffit: {line: straight}}",
    ),
    ProblemKind(
        "run-backward",
        "A run ends before it starts; its stations are plan positions, so they always count up.",
        "run: {along: north wall, from: 204 in, to: 40 in}",
        "run: {along: north wall, from: 40 in, to: 204 in}",
    ),
    ProblemKind(
        "treatment-count",
        "An obstacle has exactly one treatment; two things hidden in two ways are two records.",
        "treatment:\n  post wrap: {finished: 8 in, top: 80 in above slab}\n"
        "  chase: {along: 32 in to 48 in, front: 12 in off the block}",
        "treatment:\n  post wrap: {finished: 8 in, top: 80 in above slab}",
    ),
)
