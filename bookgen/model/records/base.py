"""The base of every record: keys read as plain words, unknown ones are refused, values never change."""

from __future__ import annotations

import ast
import inspect
import itertools
import textwrap
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import ClassVar, TypeGuard

from pydantic import BaseModel, ConfigDict


def words(name: str) -> str:
    """Return the record key of a field: off_the_block is written `off the block`; from_ is written `from`."""
    return name.rstrip("_").replace("_", " ")


class Record(BaseModel):
    """A mapping of a record file. The docstring under a field is what `bookgen explain` prints for it.

    *shown* names the optional fields without which the least example would not pass.
    """

    shown: ClassVar[tuple[str, ...]] = ()

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        strict=True,
        alias_generator=words,
        arbitrary_types_allowed=True,
        defer_build=True,
    )


@cache
def described(record: type[Record]) -> Mapping[str, str]:
    """Return the docstring under each field of a record, by the key as it is written.

    Read from the source only when somebody asks, since that takes longer than building the models.
    """
    (definition,) = ast.parse(textwrap.dedent(inspect.getsource(record))).body
    body = definition.body if isinstance(definition, ast.ClassDef) else []
    found = {}
    for field, below in itertools.pairwise(body):
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name) and _is_text(below):
            found[words(field.target.id)] = inspect.cleandoc(ast.literal_eval(below.value))
    return MappingProxyType(found)


def _is_text(node: ast.stmt) -> TypeGuard[ast.Expr]:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str)
