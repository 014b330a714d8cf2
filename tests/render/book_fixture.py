"""A whole invented book for tests of the renderers: every part filled, every signal word, long words and fractions."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from fractions import Fraction

from bookgen.compose.search import search_index
from bookgen.model.book import (
    Block,
    Book,
    Chapter,
    CheckEntry,
    CheckFigure,
    CheckGroup,
    CheckRow,
    CheckSet,
    Cover,
    CutRow,
    DatedRow,
    Edition,
    EmergencyNote,
    FacePage,
    FaceRow,
    Fact,
    HiddenRow,
    IndexRow,
    LineRow,
    MaterialRow,
    MonthRow,
    PaperGroup,
    PaperRow,
    PersonRow,
    Phase,
    Picture,
    PlanLayer,
    Reach,
    RegisterRow,
    Run,
    ShutoffPanel,
    SignalGroup,
    SignalPanel,
    SignalPart,
    UpkeepRow,
    WalkGroup,
)
from bookgen.model.listing import Column, Listing, Table
from bookgen.model.sketch import Anchoring, Area, Label, LineKind, Sketch, Stroke, View
from tests.render.term_fixture import TERMS

DANGER = SignalPanel(
    "DANGER",
    "A gas smell means that gas is loose.",
    "A spark can make it explode and will kill.",
    "Leave at once, touch no switch, and telephone from outside.",
    "Call 911 and the gas company.",
)
WARNING = SignalPanel(
    "WARNING",
    "Waste under pressure can spray when the plug is loosened.",
    "It can carry germs into eyes and cuts.",
    "Stand aside, open it slowly, wear gloves and eye protection. If water stands above the plug, leave it shut.",
    "A licensed plumber: Brightwater Plumbing (demo), 555-0161.",
)
CAUTION = SignalPanel(
    "CAUTION",
    "The cover has a sharp lower edge.",
    "It can cut fingers.",
    "Lift it by the top and wear gloves.",
    "",
)
NOTICE = SignalPanel(
    "NOTICE",
    "Keep 18 in free in front of the cover.",
    "",
    "A bookcase here costs an hour when the drain backs up.",
    "",
)


def picture(name: str, words: str, date: str = "12 June 2026", width: int = 1600, height: int = 1200) -> Picture:
    """Return a picture whose digest follows from *name*, such as corner-finished."""
    digest = hashlib.sha256(name.encode()).hexdigest()
    return Picture(digest, words, f"{words}, {date}", width, height, name.rsplit("-")[-1], date)


def sketch(key: str, view: View = View.SECTION, title: str = "Section through the north wall soffit") -> Sketch:
    """Return a small drawing: one stick, one line, one label."""
    corners = ((0.0, 0.0), (3.5, 0.0), (3.5, 1.5), (0.0, 1.5))
    shapes = (
        Area(None, LineKind.CUT, corners),
        Stroke(LineKind.DIMENSION, ((0.0, 4.0), (3.5, 4.0))),
        Label("12\u200a1\u20442\u2033", (2.0, 5.0), 3.8, Anchoring.MIDDLE),
    )
    caption = "Section at the middle of the wall, looking west. 1 in = 1 ft. Not for permit."
    desc = "A three inch drain inside a framed soffit twelve and a half inches deep."
    return Sketch(key, view, title, desc, caption, Fraction(12), (0.0, 0.0), (77.0, 43.0), shapes, ())


def _note(text: str) -> tuple[Block, ...]:
    return (
        Block("paragraph", (Run(text), Run("not", "emphasis"), Run(" to be moved."))),
        Block("bullet list", items=((Run("Hangers every 48 in"),), (Run("Coupling at 10\u2032 8\u2033", "strong"),))),
    )


CORNER = Chapter(
    number=3,
    slug="drain-and-stack",
    title="Drain and stack, north wall",
    sentence="Everything that goes down upstairs passes through a three-inch pipe behind this wall. The only place to "
    "get a rod into it is behind the small white cover.",
    room="Family room, north wall",
    treatment="wall soffit",
    hero=picture("corner-finished", "The north-west corner: a boxed column with a small white cover near the floor"),
    framed_hero=picture("corner-framed", "The same corner framed: ladders round the white pipe", "1 April 2026"),
    sketches=(
        sketch("corner-section"),
        sketch("corner-elevation", View.ELEVATION, "Framing elevation of the north wall"),
    ),
    reaches=(
        Reach(
            "03",
            "Drain plug",
            "cleanout, 3 in PVC tee",
            "Behind the white cover near the floor, in the north-west corner of the family room.",
            (
                Fact("From the corner", "3\u2032\u00a00\u200a1\u20444\u2033 by tape"),
                Fact("From column A", "10\u2032\u00a09\u200a3\u20444\u2033 to its north-west edge"),
                Fact("Height", "1\u2032\u00a04\u200a3\u20444\u2033 above the floor to the middle of the plug"),
                Fact("Cover", "12 × 14 in, lifts up and out, no tool"),
                Fact("Known", "measured 30 March 2026, and photographed"),
            ),
            ("Lift the cover up by its top edge and draw it out.", "Turn the plug slowly, a quarter turn at a time."),
            sketch("ties-03", View.PLAN, "Where to tape tag 03 from"),
        ),
        Reach("04", "Spare cover", "", "On the shelf in the mechanical room.", (), ()),
    ),
    hidden=(
        HiddenRow("Main drain", "3 in PVC", "7\u2033 off the block", "measured 30 March 2026", "measured", "drain-1"),
        HiddenRow("Copper water line", "3\u20444 in, type L", "under the joists", "photo of 1 April 2026", "photo"),
        HiddenRow("Coaxial cable", "RG-6", "across the joists", "", "assumed"),
        HiddenRow("Ladder", "2×2 rails, rungs every 16 in", "in the soffit", "", "planned"),
    ),
    cautions=tuple(
        SignalGroup(one.word, (SignalPart("Before you open it", (one,)),)) for one in (WARNING, CAUTION, NOTICE)
    ),
    upkeep=(
        UpkeepRow(
            "Run a bucket of water down the floor drain",
            "Twice a year",
            "April and October",
            "Pour slowly until it stays",
            "",
            "You",
            "03",
            "drain-and-stack",
            6,
            4,
            "u-3",
        ),
    ),
    sizes=(
        Fact("Headroom under the soffit", "6\u2032\u00a04\u200a3\u204416\u2033"),
        Fact("Depth off the block", "12\u200a1\u20442\u2033"),
    ),
    facts=("Keep 18 in in front of the cover clear, always.", "The pipe rises 1\u20444 in per foot to the east."),
    questions=("Is the second coupling glued? Ask the plumber.",),
    differences=("The lower rail was built 1\u20448\u2033 higher than planned.",),
    phases=(
        Phase(
            "before",
            "Before",
            "9 March 2026",
            (picture("corner-before", "Bare block wall with the white pipe", "9 March 2026"),),
            _note("The drain hung free and is "),
        ),
        Phase(
            "framed",
            "Framed",
            "1 April 2026",
            (picture("corner-framed", "The same corner framed: ladders round the white pipe", "1 April 2026"),),
            _note("Ladders 2\u2032 long, and the pipe was "),
        ),
        Phase(
            "finished",
            "Finished",
            "12 June 2026",
            (picture("corner-finished", "The finished corner"),),
            (Block("paragraph", (Run("One straight line along the whole wall."),)),),
        ),
    ),
    materials=(MaterialRow("Board", "1\u20442 in gypsum board", "soffit and chase"),),
    summary=("18 pieces of 2×2, 8 ft long, make the ladders.",),
    cut_list=(),
    checks=(),
)
WATER = Chapter(
    number=1,
    slug="water-service",
    title="Water service",
    sentence="All water comes into the house here; one red lever shuts it off.",
    room="Guest room, east wall",
    treatment="access opening",
    hero=picture("water-finished", "A white hinged cover in a warm grey wall", width=1200, height=1600),
    framed_hero=None,
    sketches=(),
    reaches=(
        Reach(
            "01",
            "Main water valve",
            "3\u20444 in ball valve",
            "Behind the hinged white cover in the east wall of the guest room.",
            (Fact("Height", "2\u2032\u00a011\u200a1\u20442\u2033 above the slab"),),
            ("Open the cover to the left.", "Turn the red lever a quarter turn clockwise."),
        ),
    ),
    hidden=(HiddenRow("Pressure reducer", "3\u20444 in", "above the cover", "measured 11 March 2026", "measured"),),
    cautions=(SignalGroup("NOTICE", (SignalPart("At any time", (NOTICE,)),)),),
    upkeep=(),
    sizes=(),
    facts=(),
    questions=(),
    differences=(),
    phases=(),
    materials=(),
    summary=(),
    cut_list=(),
    checks=(),
)
BEAM = replace(
    WATER,
    number=2,
    slug="beam",
    title="Steel beam and the Donaudampfschifffahrtsgesellschaftskapitänspost",
    sentence="The beam under the house is boxed; nothing in it is yours to move.",
    room="Family room",
    hero=None,
    reaches=(),
    cautions=(),
)

SHUTOFFS = (
    ShutoffPanel(
        "water",
        "Water",
        "01",
        "Main water valve",
        "Stops all water to the house.",
        "Quarter turn clockwise, until the lever lies across the pipe",
        "None; by hand",
        ("Down the stair, through the hall, first door on the left.", "White cover in the far wall, at knee height."),
        ("Never force a lever that sticks.",),
        (Fact("Plumber", "Brightwater Plumbing (demo), 555-0161"),),
        picture("water-finished", "The hinged cover that hides the main valve", width=1200, height=1600),
        "water-service",
        first=True,
        place="Guest room: white hinged cover at hip height, east wall, near the right-hand corner",
    ),
    ShutoffPanel(
        "gas",
        "Gas",
        "",
        "Main gas valve, outside",
        "Stops all gas to the house.",
        "Quarter turn, until the slot lies across the pipe",
        "12 in adjustable wrench",
        ("Out by the side door and round to the meter.",),
        ("Never turn the gas on again yourself.",),
        (Fact("Gas company, day and night", "555-0100"),),
        None,
        "",
        first=True,
        place="Outside the house: at the gas meter on the east wall",
    ),
    ShutoffPanel(
        "electric",
        "Electricity",
        "02",
        "Main breaker",
        "Stops all current except at the meter.",
        "Push the big switch to OFF",
        "None",
        ("Family room, two-panel door in the west wall.",),
        ("Never touch it standing in water.",),
        (),
        picture("panel-finished-open", "The closet open, with the panel inside"),
        "",
        first=True,
        place="Family room: behind the two-panel door, west wall",
    ),
    ShutoffPanel(
        "water",
        "Water",
        "05",
        "Outdoor tap, north wall",
        "Stops the tap in the garden.",
        "Clockwise until it stops",
        "Step ladder",
        (),
        (),
        (),
        None,
        "",
        first=False,
        place="Guest room: white cover in the ceiling",
    ),
)

CHECKS = (
    CheckRow(
        "ask",
        "The soffit leaves 6\u2032\u00a04\u200a3\u204416\u2033 of headroom.",
        "North wall soffit",
        "6\u2032\u00a04\u200a3\u204416\u2033",
        "6\u2032\u00a04\u2033 under an obstruction",
        "IRC 2021, R305.1.1",
        "Check against your local code.",
        "Answered by Tern Engineering (demo) on 2 April 2026: letter on file",
    ),
)

BOOK = Book(
    key="tamarack",
    edition=Edition.OWNER,
    edition_words="Owner edition",
    language="en",
    paper="letter",
    theme="chalkline",
    revision="Revision 2",
    date="15 June 2026",
    iso_date="2026-06-15",
    book_id="tamarack-2",
    cover=Cover(
        "Tamarack Lane",
        "The lower level, and what is behind its walls",
        picture("beam-finished", "The finished family room: two wrapped columns under a long straight soffit"),
        ("Built by Halfmoon Carpentry (demo), March to June 2026", "Telephone 555-0190"),
    ),
    owner_lines=("Ines and Paul Verhoeven-Achterberg", "14 Tamarack Lane, Pell Harbor"),
    security=("Key box by the side gate, code 4417",),
    about_pictures="All pictures are computer-rendered stand-ins of an invented house.",
    disclaimer="Sizes and checks are for talking with the trades. Check each against your local code; the building "
    "department and licensed trades decide.",
    shutoffs=SHUTOFFS,
    emergencies=(
        EmergencyNote(
            "You smell gas",
            ("Leave the house with everybody in it.", "From outside, call 911, then 555-0100."),
            DANGER,
        ),
        EmergencyNote(
            "Water where none should be",
            ("Shut the main water valve, tag 01.", "Call the plumber, 555-0161."),
            None,
        ),
    ),
    register=(
        RegisterRow(
            "01",
            "Main water valve",
            "3\u20444 in ball valve",
            "Guest room",
            "east wall",
            "2\u2032\u00a011\u200a1\u20442\u2033",
            "9\u2032\u00a05\u200a1\u20442\u2033 from the north-east corner",
            "14 × 18 in, hinged",
            "measured 11 March 2026",
            "measured",
            "water-service",
            1,
            tied="23\u200a3\u20444\u2033 from the south-east corner. Good to about 1\u20442\u2033.",
            tool="flat screwdriver",
        ),
        RegisterRow(
            "03",
            "Drain plug",
            "cleanout",
            "Family room",
            "north wall, at the column",
            "1\u2032\u00a04\u200a3\u20444\u2033",
            "3\u2032\u00a00\u200a1\u20444\u2033 from the north-west corner",
            "12 × 14 in, lifts out",
            "photo of 1 April 2026",
            "photo",
            "drain-and-stack",
            3,
        ),
        RegisterRow(
            "", "Junction box", "", "Guest room", "ceiling", "", "", "flush plate", "", "assumed", "", 0, key="lines-1"
        ),
        RegisterRow("12", "Shelf backing", "2×8", "Hall", "north wall", "5\u2032", "", "", "", "planned", "beam", 2),
    ),
    plan=sketch("plan", View.PLAN, "Plan of the lower level with numbered tags"),
    layers=(
        PlanLayer("all", "Everything", sketch("plan-all", View.PLAN, "Plan with everything")),
        PlanLayer("water", "Water", sketch("plan-water", View.PLAN, "Plan with the water alone")),
    ),
    chapters=(WATER, BEAM, CORNER),
    faces=(
        FacePage(
            "North wall, lower part",
            "Family room",
            "Studs every 16 in from the west corner. The drain runs in the soffit above.",
            (
                FaceRow("Stud 1", "1\u2032\u00a04\u2033", "floor to soffit", "1\u20442\u2033", "", "measured", "A"),
                FaceRow("Cable to the outlet", "4\u2032 to 6\u2032", "1\u2032", "", "photo, April 2026", "photo", "B"),
                FaceRow("Backing", "8\u2032", "5\u2032", "", "", "planned", "C"),
            ),
            "drain-and-stack",
            screw="Outside the hatched parts no screw longer than 1\u200a3\u20444\u2033.",
            sketch=sketch("face-1", View.ELEVATION, "What is behind the north wall"),
            picture=picture("corner-framed", "The same corner framed: ladders round the white pipe", "1 April 2026"),
        ),
        FacePage(
            "Ceiling", "Guest room", "Nothing is known here: open before you drill.", (), "",
            told=("Between its joists lies R-19 batt.",),
        ),
    ),
    upkeep=(
        *CORNER.upkeep,
        UpkeepRow(
            "Change the furnace filter", "Every 3 months", "next in September", "Arrow toward the blower",
            "16 × 25 × 4 in", "You", "07", "", 3, 9, "u-7",
        ),
    ),
    months=(MonthRow("Every month", ("Test the alarms",)), MonthRow("September 2026", ("Filter", "Salt"))),
    dates=(DatedRow("Ends: Furnace warranty", "12 June 2036", "2036-06-12", "FW-1", "p-1"),),
    materials=(MaterialRow("Wall paint", "Harbor Fog (demo), eggshell", "all walls"),),
    papers=(
        PaperGroup(
            "Permits",
            (PaperRow("Building permit", "PH-26-0311", "9 March 2026", "in the folder", "Tern Office, 555-0155"),),
        ),
    ),
    walk=(WalkGroup("Shutoffs, found and turned", ("01 Main water valve: quarter turn", "02 Main breaker: off")),),
    people=(PersonRow("Plumber", "Brightwater Plumbing (demo)", "555-0161", "DEMO-0000"),),
    hazards=("No expansion tank was seen, though there is a pressure reducer: ask the plumber.",),
    takeoff=(),
    checks=(),
    index=(
        IndexRow("Beam", ((2, "beam", BEAM.title),), "B"),
        IndexRow("Cleanout", ((3, "drain-and-stack", CORNER.title),), "C"),
        IndexRow("Cover", ((1, "water-service", WATER.title), (3, "drain-and-stack", CORNER.title)), "C"),
        IndexRow("911", ((1, "water-service", WATER.title),), "#"),
    ),
    terms=TERMS,
    drill_cautions=(SignalGroup("WARNING", (SignalPart("Before you drill", (WARNING,)),)),),
)  # fmt: skip
BOOK = replace(BOOK, search=search_index(BOOK))


TAKEOFF = (
    Listing(
        "buy",
        "To buy",
        says=("Exactly as the cutting plans use it.",),
        table=Table(
            (Column("Count", figures=True), Column("What"), Column("Size", figures=True)), (("23", "2×2", "8′"),)
        ),
    ),
    Listing(
        "sticks-2x2", "2×2: how to cut it", 3, sketches=(sketch("sticks-2x2-1", View.CUTTING, "2×2: how to cut it"),)
    ),
)


def trade_book() -> Book:
    """Return the trade edition: cut list, checks and takeoff filled."""
    cut = (CutRow("rung", "2×2", "8\u200a5\u20448\u2033", "14"), CutRow("rail", "2×2", "8\u2032", "6"))
    line = LineRow("One straight line", "12.5 sq ft", "40.1 sq ft", "0")
    corner = replace(CORNER, cut_list=cut, checks=CHECKS, reasons=("The drain reaches furthest.",), lines=(line,))
    chapters = (WATER, BEAM, corner)
    return replace(
        BOOK,
        edition=Edition.TRADE,
        edition_words="Trade edition",
        chapters=chapters,
        takeoff=TAKEOFF,
        checks=(
            CheckGroup("To stop for: 0", "", ()),
            CheckGroup("To ask about: 1", "Ask before it is closed.", (CheckSet("headroom-low", "", "", "", CHECKS),)),
            CheckGroup(
                "Within: 1", "Measured on the plan.",
                (
                    CheckSet(
                        "stair-out-of-limits", "at most 8\u2033", "IRC 2021 R311.7", "Look it up.",
                        (replace(CHECKS[0], asked="", source="", hint="", answered=""),),
                    ),
                ),
            ),
        ),
        check_reference=(
            CheckEntry(
                "headroom-low", "A ceiling comes down too far.", ("framing bottom: 77 in above slab",),
                ("framing bottom: 75 in above slab",), "By the room's use.",
                (CheckFigure("at least 6\u2032\u00a04\u2033", "under beams", "IRC 2021 R305.1.1"),),
            ),
            CheckEntry("tie-disagrees", "A tape leads elsewhere.", ("right",), ("wrong",), "", ()),
        ),
    )  # fmt: skip


def sample_book() -> Book:
    """Return a sample edition: chapters only, no tags, everything else left out."""
    reaches = tuple(replace(reach, tag="") for reach in CORNER.reaches)
    book = replace(
        BOOK,
        edition=Edition.SAMPLE,
        edition_words="Sample edition",
        owner_lines=(),
        security=(),
        shutoffs=(),
        emergencies=(),
        register=(),
        plan=None,
        layers=(),
        chapters=(replace(CORNER, number=1, reaches=reaches),),
        faces=(),
        upkeep=(),
        papers=(),
        walk=(),
        people=(),
        hazards=(),
        index=(),
    )
    return replace(book, search=search_index(book))
