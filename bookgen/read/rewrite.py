"""What record files say in, record files that say the same out, in one form; nothing of their comments goes along."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

import yaml

from bookgen.model.project import Plain

WIDTH = 100  # columns; longer texts are folded

_Dumper: TypeAlias = "type[yaml.CSafeDumper | yaml.SafeDumper]"
_DUMPER: _Dumper = yaml.CSafeDumper if yaml.__with_libyaml__ else yaml.SafeDumper


def rewritten(written: Mapping[str, Plain]) -> dict[str, str]:
    """Return the text of each record file, by its path in the folder, in the order of the paths.

    `read` understands them as it understood the ones they were written from; so does any other reader of YAML, since a
    text that it might take for a number, a date or a yes stands in quotes.
    """
    return {name: _text(written[name]) for name in sorted(written)}


def _text(plain: Plain) -> str:
    return yaml.dump(_lists(plain), Dumper=_DUMPER, sort_keys=False, allow_unicode=True, width=WIDTH)


def _lists(plain: Plain) -> object:
    if isinstance(plain, dict):
        return {key: _lists(value) for key, value in plain.items()}
    if isinstance(plain, tuple):
        return [_lists(value) for value in plain]
    return plain
