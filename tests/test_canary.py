"""Forty private strings in every place that can hold one; not one of them is in any byte of a sample edition."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pikepdf
from PIL import Image

from bookgen.bind import bind, composed_book, inside_print
from bookgen.model.book import Edition
from tests.test_bind import _bytes_of
from tests.tried import Tally

SMALLEST = Path(__file__).parents[1] / "projects" / "smallest"
OPTIONS = "  theme options: {name: kanariemaker, logo: kanarielogo.png, logo shows: kanarieshows}"
PROJECT = """
  - {role: Plumber, name: kanarieperson, phone: kanariephone, licence: kanarielicence}
  - {role: Builder, name: Shown Builders (demo), licence: kanariesharedlicence, share: yes}
"""
REST = """
marks:
  kanariemarkkey: {what: kanariemark, at: [4.6 in, 283.4 in]}
upkeep:
  - {do: kanariejob, every: 1 year, how: kanariehow, part: kanariepart}
materials:
  - {what: kanariematerial, buy: kanariebuy, where: kanarieplace}
papers:
  - {what: kanariepaper, number: kanarienumber, where: kanariedrawer, kind: permit, contact: kanariecontact,
     file: kanariefile.pdf, for trades: yes}
hazards that remain:
  - kanariehazard
"""
OBSTACLE = """
share: yes
facts: [kanariefact]
questions: [kanariequestion]
notes: {before: kanarienote.md}
materials:
  - {what: kanarieown, buy: kanariebought}
upkeep:
  - {do: kanarietask, every: 1 year, how: kanariedoing, tag: 07}
access:
  - tag: 07
    what: kanarieaccess
    trade word: kanarietrade
    where: kanariewhere
    system: water
    at: {east: 40 in, north: 283 in, above slab: 30 in}
    cover: {kind: lift-out panel, size: 12 x 14 in, opens: kanarieopens}
    steps: [kanariestep]
    keep clear: kanarieclear
    ties: [{from: kanariemarkkey, is: 3 ft}]
    shutoff:
      of: water
      stops: kanariestops
      turn: kanarieturn
      tool: kanarietool
      get there: [kanarieway]
      never: [kanarienever]
      first: yes
    known: {how: measured, on: 2026-03-10}
"""


def planted(folder: Path) -> Path:
    """Return a project with a secret in every field and file that a sample may not tell."""
    project = folder / "kanariefolder"
    shutil.copytree(SMALLEST, project)
    main = (project / "project.yaml").read_text("utf-8")
    for before, after in (
        ("project: Plover Street", "project: kanarieproject"),
        ("  title: Plover Street", "  title: kanarietitle\n  sample title: A row house\n  web address: https://kanarieweb.test"),
        ("  date: 2026-07-01", f"{OPTIONS}\n  date: 2026-07-01"),
        ("  built: 1991", "  built: 1991\n  note: kanariehousenote"),
        ("Marguerite Oduya", "kanarieowner"),
        ("3 Plover Street, Saltmarsh", "kanarieaddress\n  phone: kanarieownphone\n  security: [kanariekey]"),
        ("people:  # the trades on the job\n", f"people:{PROJECT.rstrip()}\n"),
        ("Saltmarsh building department", "kanarieauthority"),
    ):  # fmt: skip
        assert before in main, before
        main = main.replace(before, after, 1)
    (project / "project.yaml").write_text(main + REST, "utf-8")
    record = (project / "obstacles" / "01-drain.yaml").read_text("utf-8")
    assert "    - file: before.jpg" in record
    record = record.replace(
        "    - file: before.jpg\n", "    - file: kanariebefore.jpg\n      caption: kanariecaption\n", 1
    )
    record = record.replace("        A bare basement corner.", "        kanariealt A bare basement corner.", 1)
    record = record.replace("    - file: finished.jpg\n", "    - file: kanariefinished.jpg\n      share: yes\n", 1)
    (project / "obstacles" / "01-drain.yaml").write_text(record + OBSTACLE, "utf-8")
    (project / "notes").mkdir()
    (project / "notes" / "kanarienote.md").write_text("The kanarienotetext stands here.\n", "utf-8")
    _photos(project / "photos")
    _paper(project / "papers")
    return project


def _photos(folder: Path) -> None:
    """Name the photos after secrets, and put secrets into what a phone writes beside the pixels."""
    for name in ("before", "finished"):
        with Image.open(folder / f"{name}.jpg") as image:
            exif = image.getexif()
            exif[0x013B], exif[0x010E] = "kanarieartist", "kanariedescription"
            image.save(folder / f"kanarie{name}.jpg", exif=exif, comment=b"kanariecomment", xmp=b"<x>kanariexmp</x>")
        (folder / f"{name}.jpg").unlink()
    Image.new("RGB", (8, 8), "red").save(folder / "kanarielogo.png")


def _paper(folder: Path) -> None:
    folder.mkdir()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.docinfo["/Title"] = "kanariepdftitle"
        pdf.pages[0].Contents = pdf.make_stream(b"% kanariepdfcontent")
        pdf.save(folder / "kanariefile.pdf")


def _words(project: Path) -> set[str]:
    """Return every secret that is planted, from the bytes and the names of the project itself."""
    held = b" ".join(path.read_bytes() + str(path).encode() for path in project.rglob("*") if path.is_file())
    with pikepdf.open(project / "papers" / "kanariefile.pdf") as pdf:
        held += pdf.pages[0].Contents.read_bytes() + str(pdf.docinfo["/Title"]).encode()
    return {found.decode() for found in re.findall(rb"kanarie[a-z]+", held)}


def test_no_secret_is_in_a_sample(tmp_path: Path, tally: Tally) -> None:
    """Forty and more, in records, notes, captions, names of files, photo data and PDFs; the owner's book tells them."""
    project = planted(tmp_path)
    secrets = _words(project)
    assert len(secrets) >= 40
    bound = bind(project, Edition.SAMPLE, tmp_path / "sample", lambda *_: None, single_file=True)
    assert bound.target is not None, bound.checked.problems
    names = " ".join(path.relative_to(bound.target).as_posix() for path in bound.target.rglob("*"))
    held = (_bytes_of(bound.target) + names.encode()).lower()
    told = [word for word in sorted(secrets) if word.encode() in held]
    tally("secrets planted in records, names, photos and papers, in a sample edition", len(secrets), told)
    assert told == []
    owner, _ = composed_book(project, Edition.OWNER)
    assert owner is not None
    said = repr(owner.book) + repr(inside_print(owner.project))
    assert sum(word in said for word in secrets) >= 40  # or the sample would say nothing for another reason
