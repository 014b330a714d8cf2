"""What the checks ask is told from their own files and the tables, so that nothing is asked that is not told."""

from __future__ import annotations

import inspect

import pytest

from bookgen.model.check_reference import CheckReference
from bookgen.model.tape import Tape
from bookgen.solve.checks import CHECKS
from bookgen.solve.checks.reference import references
from bookgen.trade.limits import limits
from bookgen.trade.tongue import tongue

ENTRIES = references(Tape(), tongue("en"))


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.check)
def test_every_entry_is_whole(entry: CheckReference) -> None:
    """A check says what it finds and shows an example of both; each figure has a source and how sure it is."""
    assert entry.says
    assert entry.quiet
    assert entry.found
    assert all(figure.source and figure.sure for figure in entry.figures)


def test_every_check_has_its_entry() -> None:
    """The entries stand in the order of the checks, and the answers that fit nothing come last."""
    assert [entry.check for entry in ENTRIES] == [*(code for code, _ in CHECKS), "answer-fits-nothing"]


def test_every_limit_that_a_check_asks_is_told() -> None:
    """Each key of a limit in a check's file leads to at least one figure of its entry, by the words it applies to."""
    told = {entry.check: {figure.of for figure in entry.figures} for entry in ENTRIES}
    for code, check in CHECKS:
        source = inspect.getsource(inspect.getmodule(check))
        for row in limits().rows:
            if f'"{row.id}"' in source:
                assert row.applies in told[code]


def test_editions_that_differ_stand_side_by_side() -> None:
    """Under ducts in a basement IRC 2021 and Ontario ask different headroom (R305.1 exception, OBC 9.5.3.1)."""
    (entry,) = [one for one in ENTRIES if one.check == "headroom-low"]
    asks = {figure.told: figure.asks for figure in entry.figures if "ducts" in figure.of}

    assert {figure.asks for figure in entry.figures if "Ontario" in figure.told and "ducts" in figure.of} == {
        "at least 6′\u00a04\u200a3\u20444″"
    }
    assert any("IRC 2018, 2021 R305.1" in told and words == "at least 6′\u00a04″" for told, words in asks.items())


def test_a_metric_reference_has_no_inches() -> None:
    """Lengths are written on the tape that is asked for; 6' 4" are 1930 mm."""
    figures = [figure for entry in references(Tape("metric"), tongue("en")) for figure in entry.figures]

    assert any("1930\u00a0mm" in figure.asks for figure in figures)
    assert not [figure for figure in figures if {"\u2032", "\u2033"} & set(figure.asks)]
