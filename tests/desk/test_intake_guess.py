"""Phase and obstacle are proposed from names, days and neighbours, and left open where nothing tells."""

from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from bookgen.desk.intake_guess import Arrival, Hints, Obstacle, guess_all, words_of
from bookgen.model.photo import Photo
from tests.desk.phone import DAY_ONE, DAY_THREE, DAY_TWO

WORK = Hints(started=date(2026, 3, 9), framed=date(2026, 4, 1), finished=date(2026, 6, 12))
NAMED = Hints(
    obstacles=(
        Obstacle("02-drain", "Main drain along the north wall", "drain"),
        Obstacle("03-stack", "Drain stack with its cleanout", "stack"),
        Obstacle("11-water", "Water service", "water service"),
    )
)


def arrival(taken: datetime | None, *names: str, clock: str = "exif") -> Arrival:
    """Return a photo taken then, in these folders and with this name."""
    name = names[-1] if names else "IMG_1.JPG"
    photo = Photo(name, Path(name), 4, 3, taken, clock, 1, "0" * 64, "jpeg")  # type: ignore[arg-type]
    return Arrival(photo, Path(*names or (name,)), words_of((*names[:-1], Path(name).stem)))


@pytest.mark.parametrize(
    ("day", "phase"),
    [
        ("2026-02-20", "before"),
        ("2026-03-09", "before"),
        ("2026-03-10", "framed"),
        ("2026-04-01", "framed"),
        ("2026-04-10", "framed"),
        ("2026-06-01", "finished"),
        ("2026-06-12", "finished"),
        ("2027-01-01", "finished"),
    ],
)
def test_phase_by_the_days_of_the_work(day: str, phase: str) -> None:
    """Up to the first day, up to the framing, from the last day on; between, the nearer."""
    (guess,) = guess_all([arrival(datetime.fromisoformat(f"{day} 10:00"))], WORK)
    assert guess.phase == phase
    assert guess.why[0].startswith(f"{phase}: ")


def test_phase_by_three_visits() -> None:
    """Without days in the record, three visits to the job are the three phases; two or four tell nothing."""
    times = [DAY_ONE, DAY_ONE + timedelta(hours=3), DAY_TWO, DAY_THREE]
    assert [g.phase for g in guess_all([arrival(t) for t in times], Hints())] == [
        "before",
        "before",
        "framed",
        "finished",
    ]
    assert {g.phase for g in guess_all([arrival(t) for t in times[:3]], Hints())} == {None}
    more = [*times, DAY_THREE + timedelta(days=30)]
    assert {g.phase for g in guess_all([arrival(t) for t in more], Hints())} == {None}


def test_phase_by_a_word_goes_before_the_day() -> None:
    """A folder's or file's word is the person's own; two that differ cancel out."""
    said = [
        arrival(DAY_ONE, "After framing", "a.jpg"),
        arrival(DAY_ONE, "FINISHED", "a.jpg"),
        arrival(DAY_ONE, "x", "rough-1.jpg"),
    ]
    assert [g.phase for g in guess_all(said, WORK)] == ["before", "finished", "framed"]


def test_obstacle_by_words() -> None:
    """Words of the record's name count most; words that many share count nothing; a tie is left open."""
    named = [
        arrival(None, "water", "a.jpg"),
        arrival(None, "cleanout 2.jpg"),
        arrival(None, "north wall", "a.jpg"),
        arrival(None, "drain stack.jpg"),
        arrival(None, "drain.jpg"),
        arrival(None, "stack water.jpg"),
    ]
    assert [g.obstacle for g in guess_all(named, NAMED)] == ["11-water", "03-stack", None, "03-stack", "02-drain", None]


def test_obstacle_by_photos_taken_beside() -> None:
    """A photo within two minutes of one whose obstacle is told shows the same thing; between two, neither."""
    times = [DAY_ONE + timedelta(minutes=m) for m in (0, 1, 10, 20, 21, 22)]
    photos = [arrival(time) for time in times]
    photos[0], photos[3], photos[5] = (
        arrival(times[0], "water.jpg"),
        arrival(times[3], "water.jpg"),
        arrival(times[5], "stack.jpg"),
    )
    found = [g.obstacle for g in guess_all(photos, NAMED)]
    assert found == ["11-water", "11-water", None, "11-water", None, "03-stack"]


def test_obstacle_by_photos_in_the_records() -> None:
    """A photo that a record names already tells those taken with it; a file's own time tells nothing so fine."""
    hints = Hints(placed=((DAY_ONE, "11-water"),))
    near = DAY_ONE + timedelta(seconds=90)
    photos = [arrival(near), arrival(near, clock="file"), arrival(near + timedelta(minutes=5))]
    assert [g.obstacle for g in guess_all(photos, hints)] == ["11-water", None, None]


def test_nothing_is_guessed_from_nothing() -> None:
    """No time, no word, no record: phase and obstacle stay open."""
    (guess,) = guess_all([arrival(None)], Hints())
    assert (guess.phase, guess.obstacle, guess.why) == (None, None, ())
