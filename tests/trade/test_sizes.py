"""True sizes against the published tables, and the traps in them."""

from collections.abc import Callable
from fractions import Fraction

import pytest

from bookgen.model.length import Length, inches, parse_length
from bookgen.trade import board, cable, column, covers, duct, lumber, pipe, stock
from bookgen.trade.systems import system, systems

# PS 20-20, dry dressed sizes of softwood: name, thickness, width in inches.
PS_20 = [
    ("1x2", "3/4", "3/2"),
    ("1x3", "3/4", "5/2"),
    ("1x4", "3/4", "7/2"),
    ("1x6", "3/4", "11/2"),
    ("1x8", "3/4", "29/4"),
    ("1x10", "3/4", "37/4"),
    ("1x12", "3/4", "45/4"),
    ("2x2", "3/2", "3/2"),
    ("2x3", "3/2", "5/2"),
    ("2x4", "3/2", "7/2"),
    ("2x6", "3/2", "11/2"),
    ("2x8", "3/2", "29/4"),
    ("2x10", "3/2", "37/4"),
    ("2x12", "3/2", "45/4"),
    ("4x4", "7/2", "7/2"),
    ("5/4x4", "1", "7/2"),
    ("5/4x6", "1", "11/2"),
    ("6x6", "11/2", "11/2"),
]

# ASTM A53, D1785, D2665 (iron pipe sizes): nominal, outside in inches.
IRON_PIPE = {
    "1/2": "0.840",
    "3/4": "1.050",
    "1": "1.315",
    "1-1/4": "1.660",
    "1-1/2": "1.900",
    "2": "2.375",
    "3": "3.500",
    "4": "4.500",
}


def outside(text: str) -> Length | None:
    """Return the outside diameter of the pipe that *text* names."""
    found = pipe.pipe(text)
    return found.outside if found else None


@pytest.mark.parametrize(("name", "thickness", "width"), PS_20)
def test_lumber_has_its_dry_size(name: str, thickness: str, width: str) -> None:
    """Softwood measures what PS 20 says, exactly."""
    found = lumber.lumber(name)
    assert found is not None
    assert (found.thickness, found.width) == (inches(thickness), inches(width))


def test_every_size_was_compared() -> None:
    """The list above leaves out no size of the table."""
    assert {name for name, _, _ in PS_20} == set(lumber.LUMBER)


def test_a_2x8_is_not_7_1_2_wide() -> None:
    """From 8 in up the width loses 3/4 in, not 1/2 in (PS 20)."""
    assert lumber.LUMBER["2x8"].width == inches("29/4") != inches("15/2")


@pytest.mark.parametrize("text", ["2x4", "2×4", "2 x 4", "2X4", " 2 × 4 "])
def test_a_size_may_be_written_in_several_ways(text: str) -> None:
    """The sign between the figures and the blanks do not matter."""
    assert lumber.lumber(text) is lumber.LUMBER["2x4"]


@pytest.mark.parametrize("text", ["", "2x5", "stud", "2x4x8", "2"])
def test_an_unknown_size_is_none(text: str) -> None:
    """A size that is not made is None, so that the caller can say so."""
    assert lumber.lumber(text) is None


def test_board_measure() -> None:
    """A 14 ft 2x4 is 9-1/3 board feet (NAVEDTRA Engineering Aid Basic); a 1x2x8 is 4/3, a 5/4 counts as 5/4."""
    assert lumber.LUMBER["2x4"].board_feet(parse_length("14 ft")) == Fraction(28, 3)
    assert lumber.LUMBER["1x2"].board_feet(parse_length("8 ft")) == Fraction(4, 3)
    assert lumber.LUMBER["5/4x6"].board_feet(parse_length("8 ft")) == 5


def test_a_precut_stud_makes_its_wall() -> None:
    """A 92-5/8 in stud with three 2x plates is 97-1/8 in (trade convention, added up)."""
    for stud in lumber.precut_studs():
        plates = [lumber.LUMBER[stud.lumber].thickness] * 3
        assert stud.with_three_plates == sum(plates, stud.length)
    assert lumber.precut_studs()[0].with_three_plates == inches("97.125")


@pytest.mark.parametrize("nominal", IRON_PIPE)
def test_steel_and_schedule_40_plastic_share_an_outside(nominal: str) -> None:
    """Steel and Schedule 40 PVC have the iron-pipe outside (ASTM A53, D1785, D2665)."""
    expected = inches(IRON_PIPE[nominal])
    assert outside(f"{nominal} in PVC") == outside(f"{nominal} in black steel") == expected


@pytest.mark.parametrize("nominal", IRON_PIPE)
def test_copper_is_an_eighth_over_nominal(nominal: str) -> None:
    """Copper tube measures its nominal size and 1/8 in (ASTM B88)."""
    assert outside(f"{nominal} in copper") == parse_length(f"{nominal} in") + inches("1/8")


def test_three_quarter_copper_and_steel_differ() -> None:
    """3/4 in copper is .875 in outside (ASTM B88), 3/4 in steel and PVC 1.050 in (ASTM A53, D1785)."""
    assert outside("3/4 in copper") == inches("0.875")
    assert outside("3/4 in steel") == outside("3/4 in PVC") == inches("1.050")


def test_metric_copper_is_its_outside() -> None:
    """Metric copper is named by its outside (ASTM B88M) and stays exact."""
    assert outside("22 mm copper") == parse_length("22 mm")


@pytest.mark.parametrize(
    ("text", "name", "system_name"),
    [
        ("3 in PVC drain", "3 in PVC", "waste"),
        ("3/4 in copper", "3/4 in copper", "water"),
        ("4 in PVC vent", "4 in PVC", "waste"),
        ("1/2 in black steel gas", "1/2 in steel", "gas"),
        ("3/4 PEX", "3/4 in PEX", "water"),
        ("1-1/2 in ABS", "1-1/2 in ABS", "waste"),
        ("1½″ ABS drain", "1-1/2 in ABS", "waste"),
        ("4 in PVC radon riser", "4 in PVC", "soil gas"),
        ("4 in PVC soil gas", "4 in PVC", "soil gas"),
        ("3/4 in galvanized steel", "3/4 in steel", "water"),
        ("1 in steel", "1 in steel", "gas"),
        ("1-1/2 in copper drain", "1-1/2 in copper", "waste"),
        ("2 in no-hub cast iron stack", "2 in cast iron", "waste"),
        ("3 in Schedule 40 PVC", "3 in PVC", "waste"),
        ("1/2 in type L copper, hot", "1/2 in copper", "water"),
    ],
)
def test_pipe_text_is_understood(text: str, name: str, system_name: str) -> None:
    """Trade text gives the size, and what it carries by its words or else by its material."""
    found = pipe.pipe(text)
    assert found is not None
    assert (found.name, found.system) == (name, system_name)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "NM",
        "3 in PVX drain",
        "PVC drain",
        "3 in drain",
        "5 in PVC",
        "3/4 in hot copper gas",
        "3 in PVC 2 in",
        "3/0 in PVC",
        "3 in PVC copper",
        "3 in sch 80 PVC",
        "3 in PVC " + "drain " * 40,
    ],
)
def test_pipe_text_that_says_too_little_or_too_much_is_none(text: str) -> None:
    """No material, an unknown word, two sizes or two uses: None, never a guess."""
    assert pipe.pipe(text) is None


def test_near_names_pipes_for_a_hint() -> None:
    """A slip of the pen finds the size that was meant; nonsense finds nothing."""
    assert pipe.near("3 in PVX drain")[0] == "3 in PVC"
    assert pipe.near("zebra") == ()


def test_hubs_stand_out_past_the_pipe_and_are_from_memory() -> None:
    """A hub is bigger than its pipe, and says that nobody looked it up."""
    hubs = [row for row in pipe.pipes() if row.hub is not None]
    assert hubs
    assert all(row.hub is not None and row.hub > row.outside and row.hub_sure == "memory" for row in hubs)


def test_every_wall_is_thinner_than_the_pipe() -> None:
    """No wall meets itself in the middle."""
    assert all(2 * row.wall.inches < row.outside.inches for row in pipe.pipes() if row.wall is not None)


@pytest.mark.parametrize("text", ["20 x 8 duct", "20x8 sheet metal", "20 x 8", '20" × 8" return duct', "20 in x 8 in"])
def test_rectangular_ducts(text: str) -> None:
    """A pair is width by height."""
    found = duct.duct(text)
    assert found is not None
    assert (found.width, found.height, found.diameter) == (inches(20), inches(8), None)
    assert found.usual


@pytest.mark.parametrize("text", ["6 in round duct", "6 in round", '6" dia duct'])
def test_round_ducts(text: str) -> None:
    """A single size that says round is a diameter."""
    found = duct.duct(text)
    assert found is not None
    assert (found.width, found.height, found.diameter) == (None, None, inches(6))


@pytest.mark.parametrize(
    "text", ["", "6 in duct", "20 x 8 x 3 duct", "20 x 8 tunnel", "20 x 0 duct", "0 in round", "duct"]
)
def test_duct_text_that_is_unclear_is_none(text: str) -> None:
    """One bare size may be either shape, three sizes are none; both are None."""
    assert duct.duct(text) is None


def test_an_unusual_duct_is_read_and_marked() -> None:
    """A 200 x 8 duct is read as written, and marked unusual."""
    found = duct.duct("200 x 8 duct")
    assert found is not None
    assert not found.usual
    assert duct.near("20 by 8 duct")[0] == "20 x 8 duct"


def test_cleats_and_wrap_are_options() -> None:
    """Each allowance adds something and says that it is from memory."""
    assert {row.id for row in duct.allowances()} == {"drive-and-slip-cleats", "insulation-wrap"}
    assert all(row.adds > inches(0) and row.sure == "memory" for row in duct.allowances())


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("14-2 NM", "14-2 NM"),
        ("NM 14/2", "14-2 NM"),
        ("12-2 NM-B with ground", "12-2 NM"),
        ("coax", "coax"),
        ("RG6 coax", "coax"),
        ("RG-6 coax cable", "coax"),
        ("Cat6 cable", "cat 6"),
        ("cat 6", "cat 6"),
    ],
)
def test_cables(text: str, name: str) -> None:
    """A cable is known by its gauge and wires, or by its kind, in any order."""
    found = cable.cable(text)
    assert found is not None
    assert found.name == name


@pytest.mark.parametrize("text", ["", "NM", "NM cable", "14-9 NM", "14-2 PVC"])
def test_an_unknown_cable_is_none(text: str) -> None:
    """Without a gauge there is no size."""
    assert cable.cable(text) is None


def test_a_3_in_schedule_40_post_is_3_1_2_outside() -> None:
    """3 in Schedule 40 pipe is 3.500 in outside (ASTM A53); a 3 in tube is 3 in."""
    as_pipe = column.column("3 in sch 40 pipe column")
    as_tube = column.column("3 in lally column")
    assert as_pipe is not None
    assert as_tube is not None
    assert (as_pipe.outside, as_tube.outside) == (inches("3.5"), inches(3))


@pytest.mark.parametrize(
    "text", ["3-1/2 in steel post", "3-1/2 OD steel post", "3-1/2 in round steel", "3½ in adjustable column"]
)
def test_steel_posts(text: str) -> None:
    """A tube is named by its outside."""
    found = column.column(text)
    assert found is not None
    assert found.outside == inches("7/2")


@pytest.mark.parametrize("text", ["", "3-1/2 in", "5 in steel post", "3 in OD pipe column", "3 in wooden post"])
def test_unclear_posts_are_none(text: str) -> None:
    """A bare size, an unknown word, or a pipe named by its outside is None."""
    assert column.column(text) is None


def test_plates() -> None:
    """A plate is long by wide by thick."""
    assert column.plate("7 x 4 x 3/8 cap plate") == column.PlateSize(inches(7), inches(4), inches("3/8"))
    assert column.plate("7 x 7") is None
    assert column.plate("7 x 7 x 0") is None
    assert all(column.plate(usual.name) for usual in column.usual_plates())


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("1/2 in drywall", "1/2 in gypsum board"),
        ("1/2 gypsum", "1/2 in gypsum board"),
        ("5/8 in type X", "5/8 in type X gypsum board"),
        ("1/2 in sag-resistant board", "1/2 in sag-resistant ceiling board"),
    ],
)
def test_boards(text: str, name: str) -> None:
    """A board is known by thickness and kind."""
    found = board.board(text)
    assert found is not None
    assert found.name == name


def test_unknown_boards_are_none() -> None:
    """A thickness that is not made, or half of a kind's name, is None."""
    assert board.board("7/16 in gypsum") is None
    assert board.board("5/8 in type gypsum") is None


def test_half_inch_ceiling_board_wants_16_unless_across() -> None:
    """1/2 in on ceilings: 16 in (NAVEDTRA 14044); 24 only across the framing (IRC R702.3.5); walls 24."""
    half = board.board("1/2 in gypsum")
    assert half is not None
    ceiling = {row.direction: row.spacing for row in board.spans(half, board.Surface.CEILING)}
    assert ceiling == {board.Direction.EITHER: inches(16), board.Direction.ACROSS: inches(24)}
    assert [row.spacing for row in board.spans(half, board.Surface.WALL)] == [inches(24)]


def test_finishing_factors_lie_in_their_range() -> None:
    """Per 1,000 square feet: tape 380 ft, compound 5 gal, 1,000 screws (estimating textbook, example 16-3)."""
    factors = {row.id: row for row in board.finishing_factors()}
    assert {key: row.per_1000_square_feet for key, row in factors.items()} == {
        "joint-tape": 380,
        "joint-compound": 5,
        "board-screws": 1000,
    }
    assert all(row.least <= row.per_1000_square_feet <= row.most for row in factors.values())


def test_covers_either_way_up() -> None:
    """A cover is found by its opening, either way up, and the smallest that will do is offered."""
    assert covers.cover("14 x 18") == covers.cover("18 x 14 access door")
    assert covers.cover("13 x 18") is None
    found = covers.smallest_cover(inches(7), inches(10))
    assert found is not None
    assert found.name == "9 x 12"
    assert covers.smallest_cover(inches(14), inches(18)) is covers.cover("14 x 18")
    assert covers.smallest_cover(inches(90), inches(90)) is None


def test_every_piece_sold_is_of_something_known() -> None:
    """Each stick and sheet that names a size or board names one that the tables hold."""
    known = set(lumber.LUMBER) | {row.name for row in board.boards()}
    assert all(row.of in known for row in stock.catalogue() if row.of)
    assert {row.key for row in stock.stock_of("2x6")} == {"2x6", "2x6 treated"}


def test_stock_keys() -> None:
    """Things are found by key, in any spacing; keys are unique; lengths stand shortest first."""
    found = stock.stock("2×4")
    assert found is not None
    assert found.lengths[0] == parse_length("8 ft")
    assert stock.stock("1/2 in gypsum 4 x 8") is stock.stock("1/2 in gypsum 4x8") is not None
    assert stock.stock("unobtainium") is None
    assert stock.near("corner beed") == ("corner bead",)
    keys = [row.key for row in stock.catalogue()]
    assert len(keys) == len(set(keys))
    assert all(list(row.lengths) == sorted(row.lengths) for row in stock.catalogue())


def test_systems() -> None:
    """A system answers to its name, the owner's word and the trade's; every pipe and cable belongs to one."""
    assert system("drains") == system("Drain, waste and vent") == system("waste") is not None
    assert system("magic") is None
    names = {row.name for row in systems()}
    assert {row.system for row in pipe.pipes()} | {row.system for row in cable.cables()} <= names


LONG = "3 in " * 40


@pytest.mark.parametrize(
    "lookup", [pipe.pipe, duct.duct, cable.cable, column.column, column.plate, board.board, covers.cover]
)
def test_a_very_long_text_is_none(lookup: Callable[[str], object]) -> None:
    """A text too long to name a size is None at once."""
    assert lookup(LONG) is None


@pytest.mark.parametrize(
    ("near", "text", "name"),
    [
        (lumber.near, "2x5", "2x4"),
        (cable.near, "14-2 NN", "14-2 NM"),
        (column.near, "3 in sch 40 pipe colum", "3 in sch 40 pipe column"),
        (board.near, "1/2 in gypsun board", "1/2 in gypsum board"),
        (covers.near, "14 x 17", "14 x 18"),
    ],
)
def test_near_names_what_was_meant(near: Callable[[str], tuple[str, ...]], text: str, name: str) -> None:
    """Each lookup can offer the names that look most like a slip."""
    assert name in near(text)


def test_sheets_are_4_ft_wide_or_54_in() -> None:
    """Gypsum board is sold 48 in wide in lengths of 8 to 16 ft (NAVEDTRA 14044), and 54 in wide for taller walls."""
    lengths = [sheet.length.inches / 12 for sheet in board.sheets() if sheet.width == inches(48)]
    assert lengths == [8, 9, 10, 12, 14, 16]
    assert {sheet.width for sheet in board.sheets()} == {inches(48), inches(54)}
