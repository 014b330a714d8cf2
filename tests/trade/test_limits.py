"""Code limits: figures beside their published source, and editions that differ side by side."""

from collections import Counter
from fractions import Fraction

import pytest

from bookgen.model.length import inches, parse_length
from bookgen.trade.limits import INCHES, LocalLimitError, Sense, limits, local_limit
from bookgen.trade.tables import Sure

BOOK = limits({"IRC": "2021", "NEC": "2023"})
OTHER_UNITS = {
    "ft2",
    "m2",
    "in per ft",
    "in2",
    "fc",
    "psi",
    "each",
    "degrees",
    "percent",
    "of depth",
    "air changes/h",
    "in2 per 1,000 Btu/h",
    "ft3 per 1,000 Btu/h",
}


def length_of(id_: str, code: str, edition: str) -> Fraction:
    """Return a limit that is a length, in inches."""
    found = BOOK.find(id_, code, edition)
    assert found is not None
    assert found.length is not None
    return found.length.inches


@pytest.mark.parametrize(
    ("code", "edition", "small", "large"),
    [
        ("IRC", "2009", 12, 18),  # IRC 2009 P3005.2.5
        ("IRC", "2021", 18, 18),  # IRC P3005.2.9
        ("IPC", "2009", 18, 18),  # IPC 2009 708.8
        ("UPC", "2021", 18, 24),  # UPC 2021 707.9
        ("UPC", "older", 12, 18),  # older UPC, Redwood City
    ],
)
def test_cleanout_clearance_differs_by_code_and_edition(code: str, edition: str, small: int, large: int) -> None:
    """12, 18 and 24 in stand side by side, each under its own code and edition."""
    assert length_of("cleanout-clearance-small-pipe", code, edition) == small
    assert length_of("cleanout-clearance-large-pipe", code, edition) == large


def test_headroom_under_a_beam_differs_by_edition() -> None:
    """6 ft 4 in under a beam: IRC 2015 only where nobody lives (R305.1.1); 2018 and 2021 also in rooms (memory)."""
    assert length_of("headroom-beam-not-habitable", "IRC", "2015") == 76
    assert length_of("headroom-beam-habitable", "IRC", "2012") == 84
    assert length_of("headroom-beam-habitable", "IRC", "2021") == 76
    found = BOOK.find("headroom-beam-habitable", "IRC", "2021")
    assert found is not None
    assert found.sure == Sure.MEMORY
    assert len(BOOK.editions("headroom-beam-habitable")) == 3


@pytest.mark.parametrize(
    ("id_", "code", "edition", "text"),
    [
        ("headroom-habitable", "IRC", "2018", "7'-0\""),  # R305.1
        ("headroom-bath", "IRC", "2018", "6'-8\""),  # R305.1
        ("headroom-stair", "IRC", "2018", "6'-8\""),  # R311.7.2
        ("egress-sill", "IRC", "2021", "44 in"),  # R310
        ("stair-riser", "IRC", "2018", "7-3/4 in"),  # R311.7.5
        ("guard-opening-stair", "IRC", "2021", "4-3/8 in"),  # R312.1.3
        ("panel-working-depth", "NEC", "2017", "3 ft"),  # table 110.26(A)(1)
        ("panel-working-width", "NEC", "2023", "30 in"),  # 110.26(A)(2)
        ("panel-working-height", "NEC", "2023", "78 in"),  # 110.26(A)(3)
        ("breaker-handle-height", "NEC", "2023", "6'-7\""),  # 240.24(A)
        ("cable-along-framing-from-edge", "NEC", "2023", "1-1/4 in"),  # 300.4(D)
        ("dryer-duct-length", "IRC", "2009", "25 ft"),  # M1502.4.5.1, older
        ("dryer-duct-length", "IRC", "2021", "35 ft"),  # M1502.4.5.1
        ("post-steel-pipe-size", "IRC", "2021", "3.5 in"),  # R407.3: 3 in Schedule 40
        ("post-steel-pipe-size", "OBC", "2012", "73 mm"),  # O. Reg. 332/12 9.17.3
        ("post-steel-pipe-wall", "OBC", "2012", "4.76 mm"),  # O. Reg. 332/12 9.17.3
    ],
)
def test_lengths_match_the_published_figure(id_: str, code: str, edition: str, text: str) -> None:
    """A limit is the published figure, exactly; the section stands beside each."""
    assert length_of(id_, code, edition) == parse_length(text).inches


def test_a_metric_set_says_what_was_seen_and_what_was_not() -> None:
    """Ontario's table 9.5.3.1 was seen quoted; its guards (9.8.8.3) are from memory, and say so."""
    found = BOOK.find("headroom-habitable", "OBC", "2012")
    guard = BOOK.find("guard-height", "OBC", "2012")
    assert found is not None
    assert guard is not None
    assert (found.length, found.sure) == (parse_length("2100 mm"), Sure.QUOTED)
    assert (guard.length, guard.sure) == (parse_length("900 mm"), Sure.MEMORY)


def test_a_local_change_is_found_only_for_its_place() -> None:
    """Minnesota allows 6 ft 4 in over an altered basement stair (R305.2.2), Fargo a 48 in sill; nowhere else."""
    local = BOOK.find("headroom-stair", "IRC", "2018", "Minnesota")
    model = BOOK.find("headroom-stair", "IRC", "2018")
    elsewhere = BOOK.find("headroom-stair", "IRC", "2018", "Ohio")
    assert local is not None
    assert local.length == inches(76)
    assert model is not None
    assert model == elsewhere
    assert model.length == inches(80)
    assert local.citation == "IRC R305.2.2 (Minnesota)"
    sill = BOOK.find("egress-sill", "IRC", "2021", "Fargo, North Dakota")
    assert sill is not None
    assert sill.length == inches(48)


def test_an_edition_not_seen_is_marked_from_memory() -> None:
    """Stair headroom was seen in the 2018 text; the same figure for 2021 rests on memory."""
    seen, unseen = BOOK.find("headroom-stair", "IRC", "2018"), BOOK.find("headroom-stair", "IRC", "2021")
    assert seen is not None
    assert unseen is not None
    assert (seen.sure, unseen.sure) == (Sure.OFFICIAL, Sure.MEMORY)
    assert "Jefferson" not in unseen.source


def test_unknown_ids_codes_and_editions_are_none() -> None:
    """What we do not hold is None, and the hint names what we do."""
    assert BOOK.find("headroom-habitable", "IRC", "1999") is None
    assert BOOK.find("headroom-habitable", "XYZ", "2021") is None
    assert BOOK.find("hedroom-habitable", "IRC", "2021") is None
    assert "headroom-habitable" in BOOK.near("hedroom-habitable")
    assert BOOK.known_editions("XYZ") == ()
    assert BOOK.known_editions("NEC")[-1] == "2023"


def test_the_adopted_codes_govern() -> None:
    """An id is looked up in every adopted code, in the order they were adopted."""
    assert [row.code for row in BOOK.governing("panel-light")] == ["IRC", "NEC"]
    assert [row.code for row in BOOK.governing("panel-working-depth")] == ["NEC"]
    assert limits().governing("panel-light") == ()


def test_finished_basement_outlets_need_shock_protection_from_2020() -> None:
    """NEC 210.8(A)(5): unfinished basements only to 2017, every basement from 2020."""
    for edition, every in (("2014", False), ("2017", False), ("2020", True), ("2023", True)):
        assert (BOOK.find("gfci-basement-every-outlet", "NEC", edition) is not None) is every
        assert (BOOK.find("gfci-basement-unfinished-outlet", "NEC", edition) is not None) is not every


def test_no_two_rows_answer_the_same_question() -> None:
    """An id has one row for each code, edition and place."""
    asked = Counter(
        (row.id, row.code, edition, row.jurisdiction) for row in BOOK.rows for edition in (row.editions or ("",))
    )
    assert [question for question, count in asked.items() if count > 1] == []


def test_a_rule_in_words_has_no_figure_and_every_other_row_has_one() -> None:
    """A figure has a unit and a sense; a rule has neither figure nor unit."""
    for row in BOOK.rows:
        assert (row.value is None) == (row.unit is None) == (row.sense == Sense.RULE), row.id
        assert row.unit is None or row.unit in INCHES or row.unit in OTHER_UNITS, row.unit
        assert (row.length is not None) == (row.unit in INCHES)


def test_one_id_has_one_sense() -> None:
    """A limit is not a least figure in one code and a most in another."""
    senses = {(row.id, row.sense) for row in BOOK.rows if row.sense != Sense.RULE}
    assert len(senses) == len({id_ for id_, _ in senses})


@pytest.mark.parametrize("id_", ["guard-opening", "guard-opening-stair", "guard-triangle", "stair-open-riser"])
def test_a_gap_that_a_ball_must_not_pass_is_under_its_size(id_: str) -> None:
    """A gap of just the ball's size lets it through, so the sense is less than (IRC R312.1.3, R311.7.5)."""
    assert {row.sense for row in BOOK.editions(id_)} == {Sense.LESS_THAN}


@pytest.mark.parametrize(
    ("id_", "code", "edition", "cited"),
    [
        ("headroom-stair", "IRC", "2018", "IRC 2018 R311.7.2, as posted by Jefferson County, Colorado"),
        ("headroom-stair", "IRC", "2021", "IRC 2021 R311.7.2"),  # from memory: no page to name
        ("egress-sill", "IRC", "2021", "IRC R310, edition not named, as posted by Greenwood Village, Colorado"),
        ("plate", "IRC", "2021", ""),
        ("headroom-habitable", "IRC", "2018", "IRC 2018 R305.1"),  # quoted: the page that quotes it is not named
    ],
)
def test_a_citation_names_the_adopted_edition_once(id_: str, code: str, edition: str, cited: str) -> None:
    """A finding names code, edition and section, and of an official text who posted it; nothing twice."""
    found = limits({code: edition}).governing(id_)

    assert [row.cited for row in found] == ([cited] if cited else [])


def test_no_finding_names_a_page_that_only_quotes() -> None:
    """What is quoted or retold elsewhere is said to be so by its sureness; hosts stay in the tables."""
    hosts = {".com", ".org", ".net"}

    assert [row.cited for row in BOOK.rows if any(host in row.cited for host in hosts)] == []


def test_a_local_figure_goes_before_the_code() -> None:
    """Fargo asks 48 in where IRC R310 asks 44; the ordinance is the source, in any unit of length."""
    fargo = local_limit("egress-sill", "1219.2 mm", "City of Fargo, lower level finishing guide")
    book = limits({"IRC": "2021"}, local=(fargo,))

    local, model = book.governing("egress-sill")
    assert (local.length, local.cited) == (inches(48), "City of Fargo, lower level finishing guide")
    assert model.length == inches(44)


def test_a_jurisdiction_brings_its_own_changes() -> None:
    """Minnesota R305.2.2: 6 ft 4 in over an altered basement stair."""
    (row,) = limits({"IRC": "2018"}, "Minnesota").governing("headroom-stair")

    assert row.length == inches(76)
    assert "Minnesota" in limits().jurisdictions()


@pytest.mark.parametrize(
    ("id_", "text", "code"),
    [
        ("egress-sil", "48 in", "unknown-limit"),
        ("box-reachable", "48 in", "limit-without-figure"),
        ("egress-sill", "48", "limit-of-another-kind"),
        ("egress-area", "5 in", "limit-of-another-kind"),
    ],
)
def test_a_local_figure_that_can_be_none_says_why(id_: str, text: str, code: str) -> None:
    """An unknown key, a rule, a bare number and a wrong unit each have their own problem."""
    with pytest.raises(LocalLimitError) as error:
        local_limit(id_, text, "Ordinance 12")
    assert error.value.code == code
