"""Kinds of problem that read finds in the form of a record: its YAML, its keys, its lists."""

from bookgen.model.problem_kinds.kind import ProblemKind

FORM_KINDS = (
    ProblemKind(
        "yaml-syntax",
        "A line can't be read as a key, a colon and a value: mostly a quote, a bracket or the indentation.",
        'sentence: "Everything passes here.',
        'sentence: "Everything passes here."',
    ),
    ProblemKind(
        "tab-indent",
        "Lines are indented with blanks, since a tab has no fixed width.",
        "run:\n\talong: north wall",
        "run:\n  along: north wall\n  from: 40 in\n  to: 204 in",
    ),
    ProblemKind(
        "comment-cuts-value",
        "A # behind a blank begins a comment, so the rest of the line would be left out unseen.",
        "facts:\n  - Screws are #8 by 2-1/2 in",
        'facts:\n  - "Screws are #8 by 2-1/2 in"',
    ),
    ProblemKind(
        "empty-value",
        "A key stands there without its value.",
        "chapter:",
        "chapter: Drain and stack",
    ),
    ProblemKind(
        "text-too-long",
        "One value holds more than 20,000 characters; long texts belong into the notes.",
        "sentence: the whole story of the house",
        "sentence: Everything that goes down upstairs passes here.\nnotes: {before: drain.md}",
    ),
    ProblemKind(
        "second-record",
        "A line --- begins a second record in the same file; each record has a file of its own.",
        "obstacle: Main drain\n---\nobstacle: Stack",
        "obstacle: Main drain",
    ),
    ProblemKind(
        "too-deep",
        "Lists and keys stand more than 20 levels inside one another, which no record needs.",
        "facts: [[[[[[[[[[[[[[[[[[[[[one]]]]]]]]]]]]]]]]]]]]]",
        "facts: [one]",
    ),
    ProblemKind(
        "too-many-values",
        "One file holds more than 20,000 values, many times what a record needs.",
        "facts: [a, b, c, and 20,000 more]",
        "facts: [a, b, c]",
    ),
    ProblemKind(
        "key-twice",
        "The same key stands twice in one place, so that one of the two would be lost.",
        "room: family\nroom: guest",
        "room: family",
    ),
    ProblemKind(
        "not-a-key",
        "Something other than a word or some words stands before a colon.",
        "[room]: family",
        "room: family",
    ),
    ProblemKind(
        "yaml-anchor",
        "& marks a part of the file to be repeated elsewhere; records are written out, so that each line says it all.",
        "obstacle: &name Main drain",
        "obstacle: Main drain",
    ),
    ProblemKind(
        "yaml-alias",
        "* repeats another part of the file; records are written out, so that each line says it all.",
        "chapter: *name",
        "chapter: Main drain",
    ),
    ProblemKind(
        "yaml-merge",
        "<< copies another part of the file in; records are written out, so that each line says it all.",
        "run:\n  <<: {along: north wall}\n  from: 40 in\n  to: 204 in",
        "run:\n  along: north wall\n  from: 40 in\n  to: 204 in",
    ),
    ProblemKind(
        "yaml-type",
        "! would turn a value into something other than text; a text that begins with it stands in quotes.",
        "facts:\n  - !important The valve leaks a little",
        'facts:\n  - "!important The valve leaks a little"',
    ),
    ProblemKind(
        "unknown-key",
        "There is no such key in this place; the message names the nearest one, or all there are.",
        "rom: family",
        "room: family",
    ),
    ProblemKind(
        "missing-key",
        "A key that the record can't do without is not there.",
        "run: {along: north wall, from: 40 in}",
        "run: {along: north wall, from: 40 in, to: 204 in}",
    ),
    ProblemKind(
        "not-a-list",
        "A list belongs here, with a dash before each entry, even if there is only one.",
        "facts: Hardness is set to 18 grains.",
        "facts:\n  - Hardness is set to 18 grains.",
    ),
    ProblemKind(
        "not-keys",
        "Keys with values belong here, not a bare value or a list.",
        "run: north wall",
        "run: {along: north wall, from: 40 in, to: 204 in}",
    ),
    ProblemKind(
        "not-text",
        "One value belongs here, not a list or keys of its own.",
        "obstacle: [Main drain]",
        "obstacle: Main drain",
    ),
    ProblemKind(
        "too-few",
        "A list has fewer entries than it needs.",
        "outline: [[4.6 in, 4.6 in], [203.5 in, 4.6 in], [203.5 in, 283.4 in]]",
        "outline: [[4.6 in, 4.6 in], [203.5 in, 4.6 in], [203.5 in, 283.4 in], [4.6 in, 283.4 in]]",
    ),
    ProblemKind(
        "unknown-choice",
        "Only certain words can stand here; the message names the nearest one, or all there are.",
        "kind: drian",
        "kind: drain",
    ),
)
