"""Folders laid out to do harm by names, links, files of no ordinary sort or sheer size: refused in words, counted.

Outside each folder lies a secret. What comes out of the folder never tells it, and nothing waits for bytes that never
come: a path, a link or a pipe in the place of each file that a project may have.
"""

from __future__ import annotations

import os
import shutil
import socket
import stat
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from bookgen.model.project import Project
from bookgen.read import read
from tests.hostile import PROJECTS, loaded, written
from tests.tried import Tally

SECRET = "secret-4417-of-somebody-else"  # noqa: S105 - no password, only a word to look for
# Where a record names a file: the file of the record, the path to the name, the folder that it counts from, the ending.
NAMED = {
    "photo": ("obstacles/01-drain.yaml", ("photos", "before", 0, "file"), "photos", ".jpg"),
    "note": ("obstacles/01-drain.yaml", ("notes", "before"), "notes", ".md"),
    "paper": ("project.yaml", ("papers", 0, "file"), "papers", ".pdf"),
    "cover": ("project.yaml", ("book", "cover"), "photos", ".jpg"),
    "logo": ("project.yaml", ("book", "theme options", "logo"), "photos", ".png"),
}
FILES = ("project.yaml", "prices.yaml", "obstacles/01-drain.yaml", "notes/a.md", "photos/a.jpg", "papers/a.pdf")
BOMB = "\n".join(["a0: &a0 [x, x]", *(f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]" for n in range(1, 40))])
TEXTS = {
    "a bomb of aliases": BOMB.encode(),
    "lists in lists": b"a: " + b"[" * 100_000,
    "maps in maps": b"{a: " * 100_000,
    "lines in lines": "\n".join(" " * n + f"a{n}:" for n in range(1_000)).encode(),
    "a text of 10 MB": b"project: " + b"x" * 10_000_000,
    "a million lines": b"a: b\n" * 200_000,
    "nothing": b"",
    "only NUL": bytes(1_000),
    "UTF-16": "project: Plover".encode("utf-16"),
    "UTF-32": "project: Plover".encode("utf-32"),
    "Latin 1": "project: Caf\xe9".encode("latin-1"),
    "overlong": b"project: \xc0\xaf\xc0\xae",
    "lone surrogates": b"project: \xed\xa0\x80",
    "controls": bytes(range(1, 32)) * 10,
    "bidi signs": "project: \u202eabc\u202c \u2066def\u2069".encode(),
    "a tag of Python": b"project: !!python/object/apply:os.system [ls]",
    "two documents": b"project: a\n---\nproject: b\n",
    "keys without end": b"".join(b"? [a, b]\n: c\n" for _ in range(1_000)),
    "a picture": b"\xff\xd8\xff\xe0" + bytes(200),
    "a program": b"\x7fELF" + bytes(200),
}


def house(folder: Path) -> Path:
    """Return a project with one file of each sort beside its records, and a secret beside the project."""
    project = folder / "house"
    shutil.copytree(PROJECTS / "smallest", project)
    for name in ("notes", "papers"):
        (project / name).mkdir()
    (project / "notes" / "a.md").write_text("A note.\n", encoding="utf-8")
    shutil.copy(project / "photos" / "before.jpg", project / "photos" / "a.jpg")
    Image.new("RGB", (8, 8), "red").save(project / "photos" / "a.png")
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.save(project / "papers" / "a.pdf")
    (project / "prices.yaml").write_text(
        'yard: Yard\non: 2026-03-02\nstock:\n  2x4: [{length: 8 ft, price: "3.98"}]\n', encoding="utf-8"
    )
    main, drain = loaded(project / "project.yaml"), loaded(project / "obstacles" / "01-drain.yaml")
    main["papers"] = [{"what": "Manual", "kind": "manual", "file": "a.pdf"}]
    main["book"] |= {"cover": "a.jpg", "cover shows": "A corner"}
    main["book"]["theme options"] = {"name": "Maker", "logo": "a.png", "logo shows": "A mark"}
    drain["notes"] = {"before": "a.md"}
    drain["photos"]["before"][0]["file"] = "a.jpg"
    written(main, project / "project.yaml")
    written(drain, project / "obstacles" / "01-drain.yaml")
    for ending in ("", ".jpg", ".png", ".md", ".pdf"):
        (folder / f"secret{ending}").write_text(SECRET, encoding="utf-8")
    return project


def refused(folder: Path) -> bool:
    """Say whether *folder* is refused, with a rule and a repair for each mistake; nothing read holds the secret."""
    project, problems = read(folder)
    assert all(problem.code and problem.rule and problem.repair for problem in problems)
    assert SECRET not in repr(problems)
    return project is None and bool(problems)


def test_the_house_is_good_before_it_is_spoilt(tmp_path: Path) -> None:
    """Or everything would be refused for another reason."""
    assert read(house(tmp_path))[1] == ()


def paths(project: Path, inside: str, ending: str) -> list[str]:
    """Return the names that lead out of a project, or nowhere, from its folder *inside*."""
    away = f"{project.parent / 'secret'}{ending}"
    return [
        f"../../secret{ending}", f"./../../secret{ending}", f"x/../../../secret{ending}", f"..//..//secret{ending}",
        f"a{ending}/../../../secret{ending}", away, f"/{away}", f"//localhost{away}", f"file://{away}",
        f"..\\..\\secret{ending}", f"C:\\secret{ending}", f"C:secret{ending}", f"\\\\server\\secret{ending}",
        f"%2e%2e/%2e%2e/secret{ending}", f"..%2f..%2fsecret{ending}", f"\uff0e\uff0e/\uff0e\uff0e/secret{ending}",
        f"../{inside}/../../secret{ending}", "/dev/zero", "/dev/stdin", "/proc/self/environ", "/etc/passwd",
        "..", ".", "/", f"~/secret{ending}", f"$HOME/secret{ending}", f"https://example.com/secret{ending}",
        f"{'x' * 300}{ending}", f"{'x/' * 3000}a{ending}", f"../../secret\0{ending}", f"../../secret{ending}\0{ending}",
        f"link{ending}", f"linked/secret{ending}", f"loop{ending}", f"pipe{ending}", f"folder{ending}",
        f"con{ending}", f"A\u0301{ending}", f"a{ending}:stream", f"-{ending}",
        f"*{ending}",
    ]  # fmt: skip


def test_no_name_leads_out_of_the_folder(tmp_path: Path, tally: Tally) -> None:
    """Every path in each place that names a file is refused, links, pipes and folders of that name too."""
    project = house(tmp_path)
    tried, through = 0, []
    for what, (file, way, inside, ending) in NAMED.items():
        spoil_folder(project / inside, ending)
        good = loaded(project / file)
        for path in paths(project, inside, ending):
            data = loaded(project / file)
            holder = data
            for step in way[:-1]:
                holder = holder[step]
            holder[way[-1]] = path
            written(data, project / file)
            tried += 1
            if not refused(project):
                through.append((what, path))
        written(good, project / file)
    tally("paths out of the folder, in each field that names a file", tried, through)
    assert through == []
    assert tried > 200


def spoil_folder(folder: Path, ending: str) -> None:
    """Put links, a pipe and a folder into *folder*, with the names that `paths` knows, where they are not there yet."""
    secret = folder.parents[1] / f"secret{ending}"
    for name, target in (
        (f"link{ending}", secret),
        ("linked", secret.parent),
        (f"loop{ending}", Path(f"loop{ending}")),
    ):
        if not (folder / name).is_symlink():
            (folder / name).symlink_to(target)
    if not (folder / f"pipe{ending}").exists():
        os.mkfifo(folder / f"pipe{ending}")
        (folder / f"folder{ending}").mkdir()


def _link(path: Path) -> None:
    path.symlink_to(path.resolve().parents[2] / "secret")


def _loop(path: Path) -> None:
    path.symlink_to(path.name)


def _pipe(path: Path) -> None:
    os.mkfifo(path)


def _socket(path: Path) -> None:
    here = Path.cwd()
    os.chdir(path.parent)  # the whole path may be too long for the name of a socket
    try:
        with socket.socket(socket.AF_UNIX) as opened:
            opened.bind(path.name)
    finally:
        os.chdir(here)


def _device(path: Path) -> None:
    try:
        os.mknod(path, stat.S_IFCHR | 0o666, os.makedev(1, 5))  # /dev/zero, which has no end
    except PermissionError:
        path.symlink_to("/dev/zero")  # what a person without such rights can do


def _folder(path: Path) -> None:
    path.mkdir()


def _huge(path: Path) -> None:
    with path.open("wb") as opened:
        opened.truncate(1 << 40)


SORTS: tuple[Callable[[Path], None], ...] = (_link, _loop, _pipe, _socket, _device, _folder, _huge)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="files of no ordinary sort are those of a Unix")
def test_a_file_of_no_ordinary_sort_is_never_read(tmp_path: Path, tally: Tally) -> None:
    """A link, a pipe, a socket, a device without end, a folder, a terabyte of nothing: in the place of each file."""
    project, tried, through = house(tmp_path), 0, []
    for name in FILES:
        path = project / name
        kept = path.read_bytes()
        for sort in SORTS:
            path.unlink()
            sort(path)
            tried += 1
            if not (refused(project) or _passed_over(project, name)):
                through.append((name, sort.__name__))
            path.rmdir() if path.is_dir() and not path.is_symlink() else path.unlink()
            path.write_bytes(kept)
    tally("links, pipes, sockets, devices, folders and huge files in the place of a file", tried, through)
    assert through == []
    assert tried == len(FILES) * len(SORTS)


def _passed_over(folder: Path, name: str) -> bool:
    """Say whether the file counts as one that is not there, which prices need not be."""
    project, _ = read(folder)
    return name == "prices.yaml" and isinstance(project, Project) and project.prices is None


def test_a_text_of_no_ordinary_sort_is_refused(tmp_path: Path, tally: Tally) -> None:
    """Bombs, depths, lengths, wrong encodings and unseen signs, as each record and note; a picture and a paper too."""
    project, tried, through = house(tmp_path), 0, []
    for name in FILES:
        path = project / name
        kept = path.read_bytes()
        for what, data in TEXTS.items():
            if name == "notes/a.md" and what in WORDS:
                continue
            path.write_bytes(data)
            tried += 1
            if not refused(project):
                through.append((name, what))
        path.write_bytes(kept)
    tally("bombs, depths, lengths, encodings and unseen signs as a whole file", tried, through)
    assert through == []
    assert tried > 100


# What is no worse than other words where any words may stand.
WORDS = {
    "a bomb of aliases", "lists in lists", "maps in maps", "lines in lines", "nothing", "a million lines",
    "a tag of Python", "two documents", "keys without end",
}  # fmt: skip


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("01-Drain.yaml", "01-drain.yaml"),
        ("01-DRAIN.yaml", "01-drain.yaml"),
        ("caf\u00e9.yaml", "cafe\u0301.yaml"),
        ("\u212bngstrom.yaml", "\u00c5ngstrom.yaml"),
        ("drain\u200b.yaml", "drain.yaml"),
        ("\uff44rain.yaml", "drain.yaml"),
    ],
)
def test_records_whose_names_clash_are_told_of(tmp_path: Path, one: str, other: str) -> None:
    """By case, by Unicode form, by signs that can't be seen: one file on some computers, two on others."""
    project = house(tmp_path)
    for name in (one, other):
        path = project / "obstacles" / name
        if not path.exists():
            shutil.copy(project / "obstacles" / "01-drain.yaml", path)
    assert refused(project)
