"""A photo's name in; what the file is (size, time, orientation, digest), or the fault that keeps it out of a book."""

from __future__ import annotations

import hashlib
from datetime import datetime
from pathlib import Path, PurePosixPath, PureWindowsPath

from bookgen.model.photo import LARGEST_PIXELS, Photo, PhotoFault, PhotoKind
from bookgen.read.near import nearest
from bookgen.read.photo_bytes import BrokenPictureError, header_of, kind_of, other_kind
from bookgen.read.photo_exif import shot_of

LARGEST_BYTES = 400_000_000  # LARGEST_PIXELS of noise, saved as PNG, still fit
EARLIEST = datetime(1990, 1, 1)  # a file time before it is an unset clock or an archive's zero
SUFFIXES: tuple[tuple[PhotoKind, str, tuple[str, ...]], ...] = (
    ("jpeg", "a JPEG", (".jpg", ".jpeg", ".jpe", ".jfif")),
    ("png", "a PNG", (".png",)),
    ("webp", "a WebP", (".webp",)),
    ("heif", "a HEIC", (".heic", ".heif", ".hif")),
)
_COPY_AGAIN = "copy it from the phone again and see that it opens"
_SAVE_AS = "save it as JPEG, PNG, WebP or HEIC and write that file's name"
_SMALLER = "save a smaller copy and write that file's name"


def probe(folder: Path, name: str) -> Photo | PhotoFault:
    """Return the photo *name* of the photos/ folder *folder*, or why it can't be used.

    *name* has / between folders, as records write it. No pixel is decoded: a picture that is whole but broken inside
    is found out when its copies are made. Never raises for what a person or a file can do.
    """
    try:
        fault = _name_fault(folder, name)
        if fault:
            return fault
        path = folder / name
        status = path.stat()
        if status.st_size > LARGEST_BYTES:
            megabytes = f"{status.st_size // 1_000_000} MB, more than the {LARGEST_BYTES // 1_000_000} MB"
            return PhotoFault("photo-too-large", f"the file has {megabytes} a photo may have", _SMALLER)
        data = path.read_bytes()
    except OSError as wrong:
        return PhotoFault(
            "photo-unreadable", f"the file can't be opened ({wrong.strerror})", "see that it and its folder may be read"
        )
    kind = kind_of(data)
    if kind is None:
        return _no_photo(path.suffix.lower(), data)
    fault = _suffix_fault(kind, path.suffix)
    return fault or _photo(PurePosixPath(name).as_posix(), path, kind, data, status.st_mtime)


def _name_fault(folder: Path, name: str) -> PhotoFault | None:
    posix, windows = PurePosixPath(name), PureWindowsPath(name)
    if "\0" in name:
        return PhotoFault("photo-missing", "the name holds a character no file name can have", "type the name anew")
    if posix.is_absolute() or windows.anchor or ".." in windows.parts:
        repair = "copy the photo into photos/ and write its name in there"
        return PhotoFault("photo-outside", "the name leads out of the photos/ folder", repair)
    path = folder
    for part in posix.parts:
        path /= part
        if path.is_symlink():
            link = path.relative_to(folder).as_posix()
            repair = "put a copy of the photo itself in its place"
            return PhotoFault("photo-outside", f"{link} is a link, and a link may lead out of photos/", repair)
    if path.is_file():
        return None
    if posix.parts and path.exists():
        return PhotoFault("photo-missing", "that is a folder, not a photo", "write the name of a photo in it")
    return PhotoFault("photo-missing", "there is no such file in photos/", _look_alike(path, posix))


def _look_alike(path: Path, name: PurePosixPath) -> str:
    there = sorted(entry.name for entry in path.parent.glob("*") if entry.is_file())
    close = nearest(name.name, there)
    return f"did you mean {name.with_name(close)}?" if close else "copy the photo into photos/ or mend the name"


def _no_photo(suffix: str, data: bytes) -> PhotoFault:
    if not data:
        return PhotoFault("photo-unreadable", "the file is empty", _COPY_AGAIN)
    other = other_kind(data)
    if other:
        return PhotoFault("photo-unknown-kind", f"the file is {other}, which the book doesn't take", _SAVE_AS)
    if any(suffix in suffixes for _, _, suffixes in SUFFIXES):
        return PhotoFault("photo-unreadable", "the file doesn't begin as a picture does", _COPY_AGAIN)
    return PhotoFault("photo-unknown-kind", "the file is no kind of picture the book knows", _SAVE_AS)


def _suffix_fault(kind: PhotoKind, suffix: str) -> PhotoFault | None:
    called, suffixes = next((called, suffixes) for known, called, suffixes in SUFFIXES if known == kind)
    if suffix.lower() in suffixes:
        return None
    written = f"its name ends in {suffix}" if suffix else "its name has no suffix"
    repair = f"rename it to end in {suffixes[0]}, here and in photos/"
    return PhotoFault("photo-wrong-suffix", f"the file is {called}, but {written}", repair)


def _photo(name: str, path: Path, kind: PhotoKind, data: bytes, file_time: float) -> Photo | PhotoFault:
    try:
        header = header_of(kind, data)
    except BrokenPictureError as wrong:
        return PhotoFault("photo-unreadable", str(wrong), _COPY_AGAIN)
    width, height = header.width, header.height
    if width * height > LARGEST_PIXELS:
        size = f"{width} x {height} pixels, more than the {LARGEST_PIXELS // 1_000_000} million"
        return PhotoFault("photo-too-large", f"the picture is {size} a photo may have", _SMALLER)
    shot = shot_of(header.exif)
    orientation = 1 if kind == "heif" else shot.orientation  # the HEIF decoder has turned it already
    if orientation >= 5:
        width, height = height, width
    return Photo(
        name=name,
        path=path,
        width=width,
        height=height,
        taken=shot.taken or _file_time(file_time),
        time_known="exif" if shot.taken else "file",
        orientation=orientation,
        digest=hashlib.sha256(data).hexdigest(),
        kind=kind,
        focal_35=shot.focal_35,
    )


def _file_time(seconds: float) -> datetime | None:
    try:
        time = datetime.fromtimestamp(seconds)  # the wall clock here, as the camera's is the wall clock there
    except (OverflowError, OSError, ValueError):
        return None
    return time if time >= EARLIEST else None
