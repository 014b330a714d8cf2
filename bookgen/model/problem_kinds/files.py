"""Kinds of problem that read finds in the files of a project folder, before it looks at what they say."""

from bookgen.model.problem_kinds.kind import ProblemKind

FILE_KINDS = (
    ProblemKind(
        "project-missing",
        "A project folder has a file project.yaml with the house, the level, its rooms and the book.",
        "tamarack/project.yml",
        "tamarack/project.yaml",
    ),
    ProblemKind(
        "no-obstacles",
        "A book needs at least one obstacle record in the folder obstacles.",
        "tamarack/project.yaml",
        "tamarack/project.yaml\ntamarack/obstacles/main-drain.yaml",
    ),
    ProblemKind(
        "unexpected-file",
        "Something other than a record lies in the folder obstacles, where it would be left out of the book unseen.",
        "obstacles/main-drain.yml",
        "obstacles/main-drain.yaml",
    ),
    ProblemKind(
        "file-name",
        "The name of a record becomes part of links, so it is made of the letters a to z, digits and hyphens.",
        "obstacles/main drain (new).yaml",
        "obstacles/main-drain.yaml",
    ),
    ProblemKind(
        "names-clash",
        "Two records differ in name only by capitals; on many computers one would take the other's place.",
        "obstacles/Stack.yaml\nobstacles/stack.yaml",
        "obstacles/low-stack.yaml\nobstacles/stack.yaml",
    ),
    ProblemKind(
        "record-outside",
        "A record is a link to another place, which the folder would lose when it is copied.",
        "obstacles/stack.yaml -> ../../other/stack.yaml",
        "obstacles/stack.yaml",
    ),
    ProblemKind(
        "file-too-large",
        "A record or a page of notes holds more than 1 MiB, many times what a person writes.",
        "notes/drain.md with the scans of ten papers inside",
        "notes/drain.md with the text of the notes",
    ),
    ProblemKind(
        "empty-file",
        "A record file is empty, or holds nothing but comments.",
        "# to be written",
        "obstacle: Main drain along the north wall",
    ),
    ProblemKind(
        "not-utf-8",
        "The file was saved in an encoding other than UTF-8, so that its signs can't be told for sure.",
        "notes/drain.md saved as Latin-1 or UTF-16",
        "notes/drain.md saved as UTF-8",
    ),
    ProblemKind(
        "control-character",
        "A sign that can't be seen stands in the text, mostly from copying out of another program.",
        'obstacle: "Main\\x0Bdrain"',
        "obstacle: Main drain",
    ),
    ProblemKind(
        "bidi-control",
        "A sign that turns the reading direction round makes the line look other than the program reads it.",
        'obstacle: "Main \\u202Edrain"',
        "obstacle: Main drain",
    ),
    ProblemKind(
        "backslash-in-name",
        "File names in records have / between folders on every computer.",
        "notes: {before: drains\\main.md}",
        "notes: {before: drains/main.md}",
    ),
    ProblemKind(
        "note-missing",
        "A record names a notes file that is not in the folder notes.",
        "notes: {before: drian.md}",
        "notes: {before: drain.md}",
    ),
    ProblemKind(
        "note-outside",
        "The name of a notes file, or a link, leads out of the folder notes.",
        "notes: {before: ../drain.md}",
        "notes: {before: drain.md}",
    ),
    ProblemKind(
        "note-wrong-suffix",
        "Notes are Markdown files, whose names end in .md.",
        "notes: {before: drain.docx}",
        "notes: {before: drain.md}",
    ),
    ProblemKind(
        "photo-missing",
        "A record names a photo that is not in the folder photos.",
        "photos:\n  before:\n    - {file: corner-befor.jpg, shows: A white pipe along a block wall.}",
        "photos:\n  before:\n    - {file: corner-before.jpg, shows: A white pipe along a block wall.}",
    ),
    ProblemKind(
        "photo-outside",
        "The name of a photo, or a link, leads out of the folder photos.",
        "photos:\n  before:\n    - {file: ../corner-before.jpg, shows: A white pipe along a block wall.}",
        "photos:\n  before:\n    - {file: corner-before.jpg, shows: A white pipe along a block wall.}",
    ),
    ProblemKind(
        "photo-unreadable",
        "The file is empty, cut off or broken, as after a copy that was stopped.",
        "photos/corner-before.jpg, 0 bytes",
        "photos/corner-before.jpg, copied again",
    ),
    ProblemKind(
        "photo-wrong-suffix",
        "The picture is of another kind than the end of its name says, and some viewers would not open it.",
        "photos/corner-before.jpg, a HEIC inside",
        "photos/corner-before.heic",
    ),
    ProblemKind(
        "photo-too-large",
        "The picture has more pixels, or the file more bytes, than any photo for a book needs.",
        "photos/panorama.png, 30000 x 9000 pixels",
        "photos/panorama.jpg, 6000 x 1800 pixels",
    ),
    ProblemKind(
        "photo-unknown-kind",
        "The file is no JPEG, PNG, WebP or HEIC picture.",
        "photos:\n  before:\n    - {file: corner.gif, shows: A white pipe along a block wall.}",
        "photos:\n  before:\n    - {file: corner.jpg, shows: A white pipe along a block wall.}",
    ),
    ProblemKind(
        "paper-missing",
        "The record names a file that is not in the folder papers.",
        "papers: [{what: Manual, kind: manual, file: heater.pfd}]",
        "papers: [{what: Manual, kind: manual, file: heater.pdf}]",
    ),
    ProblemKind(
        "paper-outside",
        "A file of a paper lies in the folder papers itself, so that the project can be copied as a whole.",
        "papers: [{what: Manual, kind: manual, file: ../scans/heater.pdf}]",
        "papers: [{what: Manual, kind: manual, file: heater.pdf}]",
    ),
    ProblemKind(
        "paper-not-pdf",
        "A paper is kept as a whole PDF file.",
        "papers: [{what: Manual, kind: manual, file: heater.docx}]",
        "papers: [{what: Manual, kind: manual, file: heater.pdf}]",
    ),
    ProblemKind(
        "paper-too-large",
        "A file of a paper holds more than 25 MiB; the book, which carries it inside, could not be sent any more.",
        "papers: [{what: Manual, kind: manual, file: heater-scan-600dpi.pdf}]",
        "papers: [{what: Manual, kind: manual, file: heater-scan-150dpi.pdf}]",
    ),
)
