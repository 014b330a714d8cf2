from dataclasses import FrozenInstanceError
from pathlib import Path
from typing import get_args

import pytest

from bookgen.model.photo import FaultCode, Photo, PhotoFault


def test_photo_never_changes() -> None:
    """A photo is a fact: nothing can be set on it, known field or new."""
    photo = Photo("a.jpg", Path("a.jpg"), 4, 3, None, "file", 1, "00", "jpeg")
    with pytest.raises(FrozenInstanceError):
        photo.width = 5  # type: ignore[misc]
    with pytest.raises((AttributeError, TypeError)):
        photo.caption = "x"  # type: ignore[attr-defined]


def test_every_fault_code_is_kebab_case_and_explained() -> None:
    """The docstring that `explain` prints has a line for every code, and the codes are of one pattern."""
    lines = (PhotoFault.__doc__ or "").splitlines()
    for code in get_args(FaultCode):
        assert code.startswith("photo-")
        assert code == code.lower().replace("_", "-")
        assert any(line.strip().startswith(f"{code} ") for line in lines), code
