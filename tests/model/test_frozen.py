"""A noun is a dataclass of the library in all that can be seen of it; each is held beside the library's own."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from collections.abc import Callable
from dataclasses import FrozenInstanceError, asdict, fields, replace
from typing import Any, ClassVar

import pytest

from bookgen.model.frozen import dataclass


def classes(maker: Callable[..., Any]) -> dict[str, Any]:
    """Return classes of each shape, made dataclasses by *maker*."""

    @maker(frozen=True, slots=True)
    class Pipe:
        """A pipe."""

        KIND: ClassVar[str] = "drain"
        size: int
        name: str = "main"
        rises: tuple[int, ...] = ()

        @property
        def twice(self) -> int:
            return self.size * 2

    @maker(frozen=True, slots=True)
    class Single:
        size: float

    @maker(frozen=True, slots=True)
    class Empty:
        """Nothing."""

    @maker(frozen=True, slots=True)
    class Refusing:
        """It looks at what it is given."""

        size: int

        def __post_init__(self) -> None:
            if self.size < 0:
                raise ValueError("negative")

    @maker(frozen=True, slots=True)
    class Own:
        """It has methods of its own."""

        size: int

        def __eq__(self, other: object) -> bool:
            return isinstance(other, Own) and self.size % 2 == other.size % 2

        def __hash__(self) -> int:
            return self.size % 2

        def __repr__(self) -> str:
            return f"<{self.size}>"

    @maker(frozen=True, slots=True)
    class Unequal:
        """It says what is equal, and not what it hashes to: the library makes that of the fields."""

        size: int

        def __eq__(self, other: object) -> bool:
            return isinstance(other, Unequal) and self.size == other.size

    @maker(frozen=True, slots=True, order=True)
    class Ordered:
        """It has an order."""

        size: int

    @maker(frozen=True, slots=True, eq=False)
    class Itself:
        """It equals nothing else."""

        size: int

    @maker(frozen=True, slots=True)
    class Made:
        """It makes a value of its own."""

        found: dict[str, int] = dataclasses.field(default_factory=dict)

    @maker(slots=True)
    class Open:
        """It may change."""

        size: int

    found = (Pipe, Single, Empty, Refusing, Own, Unequal, Ordered, Itself, Made, Open)
    return {one.__name__: one for one in found}


OURS, LIBRARYS = classes(dataclass), classes(dataclasses.dataclass)
SIZED = [name for name in OURS if name not in {"Empty", "Made"}]


@pytest.mark.parametrize("name", OURS)
def test_it_tells_of_its_fields_what_the_library_tells(name: str) -> None:
    """Fields, their types and defaults, what `match` takes, slots; and no dictionary."""
    ours, theirs = OURS[name], LIBRARYS[name]
    assert [(one.name, one.type, one.default) for one in fields(ours)] == [
        (one.name, one.type, one.default) for one in fields(theirs)
    ]
    assert (ours.__match_args__, ours.__slots__) == (theirs.__match_args__, theirs.__slots__)
    assert repr(ours.__dataclass_params__) == repr(theirs.__dataclass_params__)
    assert not hasattr(ours(*[1] * ("size" in ours.__match_args__)), "__dict__")


@pytest.mark.parametrize("name", SIZED)
def test_an_instance_acts_as_one_of_the_library(name: str) -> None:
    """How it is told, what it equals, what it hashes to, what comes of it as plain data, copied or changed."""

    def seen(kind: Any) -> list[object]:
        one, same, other = kind(3), kind(size=3), kind(4)
        told = [repr(one), one == same, one == other, one == 3, one != same, asdict(one)]
        told += [copy.copy(one) == one, replace(one, size=5).size, kind.__eq__(one, 3)]
        if name != "Open":
            told += [hash(one) == hash(same), len({one, same, other})]
        return told

    assert seen(OURS[name]) == seen(LIBRARYS[name])


def test_values_go_where_they_are_meant() -> None:
    """In order, by name, left out; one too few or too many, or one of another name, is refused."""
    pipe = OURS["Pipe"]
    assert repr(pipe(2)).endswith("Pipe(size=2, name='main', rises=())")
    assert (pipe(2, rises=(1,), name="branch").rises, pipe(2).twice, pipe.KIND) == ((1,), 4, "drain")
    assert hash(pipe(2)) == hash((2, "main", ()))
    for given, named in (((), {}), ((1, "a", (), 4), {}), ((1,), {"size": 2}), ((1,), {"colour": "red"})):
        with pytest.raises(TypeError):
            pipe(*given, **named)


@pytest.mark.parametrize("name", [name for name in SIZED if name != "Open"])
def test_it_never_changes(name: str) -> None:
    """Neither is a value set nor deleted, of a field or of anything else."""
    one = OURS[name](3)
    for field in ("size", "colour"):
        with pytest.raises((FrozenInstanceError, TypeError)):  # the library's own slotted class tells a TypeError
            setattr(one, field, 4)
    with pytest.raises(FrozenInstanceError):
        del one.size
    assert one.size == 3


def test_what_a_class_asks_of_its_values_is_asked() -> None:
    """At the first instance as at any other."""
    for _ in range(2):
        with pytest.raises(ValueError, match="negative"):
            OURS["Refusing"](-1)
    assert OURS["Refusing"](1).size == 1


@dataclass(frozen=True, slots=True)
class Kept:
    """A noun that a file can hold."""

    size: int
    name: str = "main"


def test_a_noun_goes_through_a_file() -> None:
    """As kept drawings do."""
    assert pickle.loads(pickle.dumps(Kept(2, "branch"))) == Kept(2, "branch")  # noqa: S301 - of our own bytes


def test_no_value_that_is_no_number_equals_another() -> None:
    """As in a tuple, the very same object equals itself, and another that is no number does not."""
    odd = float("nan")
    for kind in (OURS["Single"], LIBRARYS["Single"]):
        assert kind(odd) == kind(odd)
        assert kind(odd) != kind(float("nan"))
