"""Notes choose their places beside one another: what spares them a look changes nothing."""

from __future__ import annotations

import pytest

from bookgen.draw import placing, views
from tests.draw.drawn import house


def test_a_note_that_asks_for_less_stands_where_it_would_have_stood(monkeypatch: pytest.MonkeyPatch) -> None:
    """Asked only for what further notes have made cheaper, or for every place again, each sketch comes out the same."""
    draw = views(house("imperial"))
    spared = [one() for one in draw]
    asked: list[int] = []
    monkeypatch.setattr(placing._Standing, "more_starts", lambda _, number: asked.append(number))
    assert [one() for one in draw] == spared
    assert asked
