"""Kinds of problem that read finds in the names of a record: rooms, marks, tags, chapters, trade sizes."""

from bookgen.model.problem_kinds.kind import ProblemKind

NAME_KINDS = (
    ProblemKind(
        "unknown-room",
        "No room of project.yaml has this key.",
        "room: famly",
        "room: family",
    ),
    ProblemKind(
        "unknown-partition",
        "No partition of project.yaml has this key.",
        "wall: P9",
        "wall: P3",
    ),
    ProblemKind(
        "unknown-mark",
        "No mark of project.yaml has this key; a tie is taped from a mark that will still be there.",
        "ties: [{from: familly-nw, is: 3' 0-1/4\"}]",
        "ties: [{from: family-nw, is: 3' 0-1/4\"}]",
    ),
    ProblemKind(
        "unknown-caution",
        "The table of cautions has no such key.",
        "cautions: [{hazard: sewage}]",
        "cautions: [{hazard: sewage-at-cleanout}]",
    ),
    ProblemKind(
        "nothing-shared",
        "A sample edition was asked for, and no obstacle record is marked to be shared: it would be empty.",
        "obstacle: Main drain\nshare: no",
        "obstacle: Main drain\nshare: yes",
    ),
    ProblemKind(
        "unknown-check",
        "An answer is to a finding of a check that there is not.",
        "answered: [{finding: valve-shutin, by: Brightwater Plumbing (demo), on: 2026-04-02, paper: letter on file}]",
        "answered: [{finding: valve-shut-in, by: Brightwater Plumbing (demo), on: 2026-04-02, paper: letter on file}]",
    ),
    ProblemKind(
        "answer-unclear",
        "A check finds several things in this record, and the answer does not say which one it settles.",
        "answered: [{finding: valve-shut-in, by: Brightwater Plumbing (demo), on: 2026-04-02, paper: letter on file}]",
        "answered:\n  - {finding: valve-shut-in, about: 'tag 18, Second water valve', by: Brightwater Plumbing (demo),"
        " on: 2026-04-02, paper: letter on file}",
    ),
    ProblemKind(
        "unknown-limit",
        "The tables of limits have no such key, so no local figure can take its place.",
        "local: [{limit: egress-sil, is: 48 in, ordinance: City of Fargo}]",
        "local: [{limit: egress-sill, is: 48 in, ordinance: City of Fargo}]",
    ),
    ProblemKind(
        "limit-without-figure",
        "The limit is a rule in words; a local figure can only take the place of another figure.",
        "local: [{limit: box-reachable, is: 48 in, ordinance: City of Fargo}]",
        "local: [{limit: egress-sill, is: 48 in, ordinance: City of Fargo}]",
    ),
    ProblemKind(
        "limit-of-another-kind",
        "A local figure is of the same kind as the one it replaces: a length for a length, an area for an area.",
        "local: [{limit: egress-sill, is: 48, ordinance: City of Fargo}]",
        "local: [{limit: egress-sill, is: 48 in, ordinance: City of Fargo}]",
    ),
    ProblemKind(
        "unknown-jurisdiction",
        "The tables hold no local changes of this place; write its figures under local: with the ordinance.",
        "codes: {jurisdiction: Pell Harbor}",
        "codes: {jurisdiction: Minnesota}",
    ),
    ProblemKind(
        "unknown-thing",
        "The largest thing of a utility room is not among what the records say is inside.",
        "largest: Furnce",
        "largest: Furnace",
    ),
    ProblemKind(
        "unknown-tag",
        "Upkeep is done, or a mark on a photo stands, at a tag that no access point has.",
        "upkeep: [{do: Look, every: 1 month, how: Look at the gauge., tag: 99}]",
        "upkeep: [{do: Look, every: 1 month, how: Look at the gauge., tag: 12}]",
    ),
    ProblemKind(
        "tag-twice",
        "Two access points have the same tag; a tag stays the same for good, so the newer one gets another.",
        "tag: 03",
        "tag: 04",
    ),
    ProblemKind(
        "lone-chapter",
        "A chapter gathers two records or more, but only this one has its title: mostly a slip of the pen.",
        "chapter: Drain and stak",
        "chapter: Drain and stack",
    ),
    ProblemKind(
        "unknown-size",
        "The trade's tables hold no pipe, duct, cable or post of this name, so its true size is not known.",
        "pipe: 3 in PCV drain",
        "pipe: 3 in PVC drain",
    ),
    ProblemKind(
        "unknown-stock",
        "No lumber of this name is sold.",
        "ladder: 2x5",
        "ladder: 2x4",
    ),
)
