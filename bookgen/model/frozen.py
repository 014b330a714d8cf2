"""A class with typed fields in, a frozen dataclass out that acts as the library's own and is made far more quickly.

The library writes six methods of every class as text and compiles them, half a millisecond each time; with some 400
nouns that is longer than most commands work. Here all share their methods, and what makes an instance is compiled when
the first one is made. Use it as `dataclasses.dataclass`; whatever is not the usual frozen, slotted class it leaves to
the library.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from operator import attrgetter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:

    def dataclass(cls=None, /, **wanted):
        """Return *cls* as a dataclass, or with keywords alone what makes one."""
        if cls is None:
            return lambda later: dataclass(later, **wanted)
        usual = wanted == {"frozen": True, "slots": True} and cls.__bases__ == (object,)
        if not usual or any(isinstance(value, dataclasses.Field) for value in vars(cls).values()):
            return dataclasses.dataclass(cls, **wanted)
        return _made(cls)


_SHARED = ("__repr__", "__eq__", "__hash__", "__setattr__", "__delattr__", "__reduce__")


def _made(cls: type) -> type:
    own = vars(cls)
    if cls.__doc__ is None:
        cls.__doc__ = cls.__name__  # else the library works a signature out
    made: Any = dataclasses.dataclass(cls, init=False, repr=False, eq=False, slots=True)
    says = made.__dataclass_params__
    says.frozen = says.eq = says.init = says.repr = True
    names = tuple(field.name for field in dataclasses.fields(made))
    shared = _shared(names)
    for name in _SHARED:
        if own.get(name) is None:
            setattr(made, name, shared[name])

    def first(self: Any, *given: Any, **named: Any) -> None:
        made.__init__ = _init(made)
        made.__init__(self, *given, **named)

    made.__init__ = first
    return made  # type: ignore[no-any-return]


def _shared(names: tuple[str, ...]) -> dict[str, Any]:
    """Return the methods of a class with the fields *names*, but for the one that makes an instance."""
    values: Callable[[Any], tuple[Any, ...]] = attrgetter(*names) if len(names) > 1 else _few(names)

    def equal(self: Any, other: Any) -> Any:
        return values(self) == values(other) if other.__class__ is self.__class__ else NotImplemented

    def hashed(self: Any) -> int:
        return hash(values(self))

    def shown(self: Any) -> str:
        said = ", ".join(f"{name}={value!r}" for name, value in zip(names, values(self), strict=True))
        return f"{self.__class__.__qualname__}({said})"

    def made_of(self: Any) -> tuple[type, tuple[Any, ...]]:
        return self.__class__, values(self)

    return {
        "__eq__": equal,
        "__hash__": hashed,
        "__repr__": shown,
        "__reduce__": made_of,
        "__setattr__": _refuse_to_set,
        "__delattr__": _refuse_to_delete,
    }


def _few(names: tuple[str, ...]) -> Callable[[Any], tuple[Any, ...]]:
    """Return what gives the values of no name or of one; the library's getter would give that one bare."""
    return lambda self: tuple([getattr(self, name) for name in names])


def _refuse_to_set(_self: object, name: str, _value: object) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_to_delete(_self: object, name: str) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


def _init(made: Any) -> Any:
    """Return what makes an instance of the class *made*: it puts each value straight into its slot."""
    fields = dataclasses.fields(made)
    given = [one.name if one.default is dataclasses.MISSING else f"{one.name}=default_{one.name}" for one in fields]
    lines = [f"  put_{one.name}(self, {one.name})" for one in fields]
    if hasattr(made, "__post_init__"):
        lines.append("  self.__post_init__()")
    known: dict[str, Any] = {f"default_{one.name}": one.default for one in fields}
    known |= {f"put_{one.name}": vars(made)[one.name].__set__ for one in fields}
    text = f"def __init__(self, {', '.join(given)}):\n" + "\n".join(lines or ["  pass"])
    exec(text, known)  # noqa: S102 - the text is made of names of fields alone, as the library does
    init = known["__init__"]
    init.__qualname__, init.__module__ = f"{made.__qualname__}.__init__", made.__module__
    init.__annotations__ = {one.name: one.type for one in fields} | {"return": None}
    return init
