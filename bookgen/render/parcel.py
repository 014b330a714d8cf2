"""A bound book and its records in, the owner's parcel out: a BagIt folder (RFC 8493); later, what became of it."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Mapping, Sequence
from pathlib import Path

import bagit

from bookgen.model.parcel import Label, Parcel

PAYLOAD = "data"
BOOK, RECORDS, PAPERS = "book", "records", "papers"
READ_ME, CHANGES = "README.txt", "CHANGES.txt"
REVISION = "Revision"  # an element of bag-info.txt of our own, as RFC 8493, section 2.2.2 lets one add
CHECKSUM = "sha256"
# RFC 8493, section 2.1.1; the library still declares the draft before it, which says the same of all that is here.
DECLARATION = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
CORES = 1  # files are small beside the pictures that were just made; a second process costs more than it saves


class NoParcelError(Exception):
    """The folder is no parcel that can be read; the message says what to do."""


def write_parcel(folder: Path, label: Label, records: Mapping[str, str], files: Sequence[tuple[str, Path]]) -> None:
    """Make the parcel of *folder*, in which the book lies already, under `book`; all of it moves into its `data`.

    *files* are papers, and photos as they came off the phone, by their paths beside the records; copied untouched.
    Every file gets its SHA-256 in the manifest, so that years later anybody can tell whether it is still what was
    handed over.
    """
    for name, text in records.items():
        _write(folder / RECORDS / name, text)
    for name, file in files:
        target = folder / RECORDS / name
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(file, target)
    _write(folder / READ_ME, label.read_me)
    if label.changes:
        _write(folder / CHANGES, label.changes)
    bag = bagit.make_bag(str(folder), _outside(label), processes=CORES, checksums=[CHECKSUM], encoding="utf-8")
    _write(folder / "bagit.txt", DECLARATION)
    bag.save(processes=CORES)  # the declaration has a checksum too


def _outside(label: Label) -> dict[str, str]:
    return {
        "Source-Organization": label.project,
        "External-Description": label.title,
        "External-Identifier": f"{label.project}-{label.revision}",
        "Bagging-Date": label.date,  # the book's own date: the same records make the same parcel
        "Bag-Software-Agent": "bookgen",
        REVISION: str(label.revision),
    }


def read_parcel(folder: Path) -> Parcel:
    """Return what an earlier parcel holds; raises NoParcelError where *folder* is none, or is not whole."""
    bag = _bag(folder)
    try:
        revision = int(bag.info[REVISION])
    except (KeyError, ValueError):
        raise NoParcelError(f"{folder} does not say which revision it is; name a parcel made by handover") from None
    records = folder / PAYLOAD / RECORDS
    names = sorted(path for path in records.rglob("*") if path.suffix in {".yaml", ".md"})
    texts = {path.relative_to(records).as_posix(): path.read_text(encoding="utf-8") for path in names}
    inside = f"{PAYLOAD}/{RECORDS}/"
    listed = {name.removeprefix(inside): digests for name, digests in bag.entries.items() if name.startswith(inside)}
    papers = {name: digests[CHECKSUM] for name, digests in sorted(listed.items()) if name.startswith(f"{PAPERS}/")}
    return Parcel(revision, str(bag.info.get("Bagging-Date", "")), texts, papers)


def paper_digests(files: Mapping[str, Path]) -> dict[str, str]:
    """Return the SHA-256 of *files*, papers by their names, by their paths beside the records."""
    digests = {}
    for name, path in sorted(files.items()):
        with path.open("rb") as opened:
            digests[f"{PAPERS}/{name}"] = hashlib.file_digest(opened, CHECKSUM).hexdigest()
    return digests


def faults(folder: Path) -> tuple[str, ...]:
    """Return what is no longer as it was handed over, a line for each file; nothing where the parcel is whole.

    Every file is looked at, whatever is wrong with the others. Raises NoParcelError where *folder* is no parcel at all.
    """
    bag = _bag(folder)
    missing, added = map(set, bag.compare_manifests_with_fs())
    said = {**dict.fromkeys(missing, "missing"), **dict.fromkeys(added, "added")}
    said |= {name: "changed" for name in {*bag.entries} - missing if not _as_listed(folder / name, bag.entries[name])}
    return tuple(f"{said[name]}: {name}" for name in sorted(said))


def _as_listed(file: Path, digests: Mapping[str, str]) -> bool:
    """Tell whether *file* has the checksums that the manifests give, each by the name of its algorithm."""
    with file.open("rb") as opened:
        found = {name: hashlib.file_digest(opened, name).hexdigest() for name in digests if not opened.seek(0)}
    return found == dict(digests)


def _bag(folder: Path) -> bagit.Bag:
    try:
        return bagit.Bag(str(folder))
    except bagit.BagError as error:
        raise NoParcelError(f"{folder} is no parcel: {error}; name the folder that holds bagit.txt") from None


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")
