"""Photos off a phone come in once, whole, oldest first; nothing there before is touched, whatever happens."""

import hashlib
import os
import shutil
import signal
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path
from threading import Barrier, BrokenBarrierError

import pytest
import yaml

from bookgen.desk.intake import IntakeReport, intake, report_lines
from bookgen.desk.intake_guess import Hints, Obstacle
from bookgen.model.photo import Photo, PhotoFault
from bookgen.model.records.obstacle import PhotoUse
from bookgen.read.photos import probe
from tests.desk.phone import DAY_ONE, DAY_THREE, DAY_TWO, photo_bytes, put

MINUTE = timedelta(minutes=1)
HINTS = Hints(
    started=DAY_ONE.date(),
    framed=DAY_TWO.date(),
    finished=DAY_THREE.date(),
    obstacles=(Obstacle("11-water", "Water service"), Obstacle("03-stack", "Drain stack with its cleanout")),
)


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """Return a project folder with one record and no photos."""
    put(tmp_path / "job" / "project.yaml", b"project: Job\n")
    put(tmp_path / "job" / "obstacles" / "11-water.yaml", b"obstacle: Water service\n")
    return tmp_path / "job"


@pytest.fixture
def phone(tmp_path: Path) -> Path:
    """Return a folder with five photos of three visits, one of them twice."""
    folder = tmp_path / "phone"
    put(folder / "IMG_2046.JPG", photo_bytes(40, DAY_THREE))
    put(folder / "IMG_2042.JPG", photo_bytes(50, DAY_ONE))
    put(folder / "IMG_2043.PNG", photo_bytes(60, form="PNG"), DAY_ONE + 5 * MINUTE)
    put(folder / "IMG_2044.webp", photo_bytes(70, DAY_TWO, form="WEBP"))
    put(folder / "IMG_2042 (1).JPG", photo_bytes(50, DAY_ONE))
    put(folder / "water" / "IMG_0001.JPG", photo_bytes(80, DAY_TWO + MINUTE))
    return folder


def listing(folder: Path) -> dict[str, tuple[bytes, int]]:
    """Return every file's bytes and time, by name."""
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): (path.read_bytes(), path.stat().st_mtime_ns) for path in files}


def pictures(project: Path) -> dict[str, bytes]:
    """Return the photos of a project, by name."""
    return {
        n: data for n, (data, _) in listing(project / "photos").items() if Path(n).suffix in {".jpg", ".png", ".webp"}
    }


def assert_sums_hold(project: Path, count: int) -> None:
    """See that the checksum list has one line for each photo, and that each is right."""
    lines = (project / "photos" / "SHA256SUMS").read_text().splitlines()
    pairs = dict(reversed(line.split("  ", 1)) for line in lines)
    assert len(lines) == len(pairs) == count
    assert pairs == {name: hashlib.sha256(data).hexdigest() for name, data in pictures(project).items()}


def test_photos_come_in_whole_and_oldest_first(project: Path, phone: Path) -> None:
    """Day and phone's name make the name; bytes and file times are the originals'; the originals stay as they were."""
    before = listing(phone)
    report = intake(project, [phone], probe, HINTS)
    assert [(taken.name, taken.guess.phase) for taken in report.taken] == [
        ("2026-03-09-IMG_2042.jpg", "before"),
        ("2026-03-09-IMG_2043.png", "before"),
        ("2026-04-01-IMG_2044.webp", "framed"),
        ("2026-04-01-IMG_0001.jpg", "framed"),
        ("2026-06-12-IMG_2046.jpg", "finished"),
    ]
    for taken in report.taken:
        copy = project / "photos" / taken.name
        assert copy.read_bytes() == taken.source.read_bytes()
        assert copy.stat().st_mtime_ns == taken.source.stat().st_mtime_ns
    assert listing(phone) == before
    assert_sums_hold(project, 5)


def test_the_report_says_which_clock(project: Path, phone: Path) -> None:
    """A time off the camera and a time off the file are told apart, on the screen and in the stubs."""
    report = intake(project, [phone], probe, HINTS)
    lines = report_lines(report)
    assert "  2026-03-09-IMG_2042.jpg  from IMG_2042.JPG, 2026-03-09 09:12 by the camera's clock: before?" in lines
    assert "  2026-03-09-IMG_2043.png  from IMG_2043.PNG, 2026-03-09 09:17 by the file's own time: before?" in lines
    assert any(line.endswith("framed, 11-water?") for line in lines)
    assert "  IMG_2042 (1).JPG: the same picture as IMG_2042.JPG; taken once" in lines
    assert lines[-2] == "5 photos taken in; 0 were there before."


def test_a_second_run_changes_nothing(project: Path, phone: Path) -> None:
    """The same photos again, and from another folder under other names, are known by their content."""
    intake(project, [phone], probe, HINTS)
    there = listing(project)
    shutil.copytree(phone, phone.parent / "stick")
    (phone.parent / "stick" / "IMG_2046.JPG").rename(phone.parent / "stick" / "holiday.jpg")
    for sources in ([phone], [phone.parent / "stick"], [project / "photos"], [phone, phone]):
        report = intake(project, sources, probe, HINTS)
        assert report.taken == ()
        assert report.captions is None
        assert listing(project) == there
    assert len(intake(project, [phone], probe, HINTS).already) == 6


def test_a_photo_put_there_by_hand_is_known(project: Path, phone: Path) -> None:
    """What lies in photos/ already, under whatever name and folder, is not copied again."""
    put(project / "photos" / "old" / "pit.jpg", photo_bytes(50, DAY_ONE))
    report = intake(project, [phone / "IMG_2042.JPG"], probe, HINTS)
    assert report.taken == ()
    assert report.already == ((phone / "IMG_2042.JPG", "old/pit.jpg"),)


def test_names_that_clash_are_numbered(project: Path, tmp_path: Path) -> None:
    """Two phones, one number, one day: nothing is written over, not even where only capitals differ."""
    hand = put(project / "photos" / "2026-03-09-img_2042.JPG", b"by hand")
    for shade, phone in ((1, "his"), (2, "hers")):
        put(tmp_path / phone / "IMG_2042.JPG", photo_bytes(shade, DAY_ONE + shade * MINUTE))
    report = intake(project, [tmp_path / "his", tmp_path / "hers"], probe, HINTS)
    assert [taken.name for taken in report.taken] == ["2026-03-09-IMG_2042-2.jpg", "2026-03-09-IMG_2042-3.jpg"]
    assert hand.read_bytes() == b"by hand"


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("IMG_2050 (1).JPG", "2026-03-09-IMG_2050.jpg"),
        ("IMG_2050 copy 2.jpeg", "2026-03-09-IMG_2050.jpg"),
        ("20260309_091200.jpg", "2026-03-09-091200.jpg"),
        ("2026-03-09 09.12.00.jpg", "2026-03-09-09-12-00.jpg"),
        ("Küche & Bad: Süd.jpg", "2026-03-09-Kuche-Bad-Sud.jpg"),
        ("(1).jpg", "2026-03-09-photo.jpg"),
        ("20260309.jpg", "2026-03-09-photo.jpg"),
        ("202603091.jpg", "2026-03-09-202603091.jpg"),
    ],
)
def test_names_can_be_read_and_typed(project: Path, tmp_path: Path, name: str, wanted: str) -> None:
    """Plain letters, digits and dashes; the mark of a copy goes; the day stands there once."""
    source = put(tmp_path / "phone" / name, photo_bytes(9, DAY_ONE))
    assert [taken.name for taken in intake(project, [source], probe).taken] == [wanted]


def test_a_heic_stays_a_heic(project: Path) -> None:
    """A phone's own form comes in as it is, under a small-letter suffix."""
    source = Path(__file__).parents[1] / "render" / "data" / "phone-sideways.heic"
    (taken,) = intake(project, [source], probe).taken
    assert taken.name == f"{taken.photo.taken:%Y-%m-%d}-phone-sideways.heic"
    assert (project / "photos" / taken.name).read_bytes() == source.read_bytes()


def test_a_photo_without_any_time_comes_last(project: Path, tmp_path: Path) -> None:
    """An unset clock is no time: the name says undated."""
    put(tmp_path / "phone" / "a.jpg", photo_bytes(1), datetime(1980, 1, 1))
    put(tmp_path / "phone" / "b.jpg", photo_bytes(2, DAY_ONE))
    report = intake(project, [tmp_path / "phone"], probe)
    assert [taken.name for taken in report.taken] == ["2026-03-09-b.jpg", "undated-a.jpg"]
    assert "no time known" in report_lines(report)[1]


def test_what_is_no_photo_is_told(project: Path, tmp_path: Path) -> None:
    """A film, an empty file, a wrong suffix, a link, a hidden file, a name that isn't there: each is named."""
    folder = tmp_path / "phone"
    film = put(folder / "IMG_1.MOV", b"\0\0\0\x14ftypqt  \0\0\0\0qt  " + b"\0" * 40)
    empty = put(folder / "IMG_2.JPG", b"")
    wrong = put(folder / "IMG_3.JPG", photo_bytes(3, form="PNG"))
    hidden = put(folder / "._IMG_4.JPG", photo_bytes(4))
    link = folder / "IMG_5.JPG"
    link.symlink_to(put(tmp_path / "elsewhere.jpg", photo_bytes(5)))
    report = intake(project, [folder, tmp_path / "nowhere"], probe)
    assert report.taken == ()
    assert [path for path, _ in report.refused] == [film, empty, wrong, tmp_path / "nowhere"]
    assert report.refused[2][1].repair == "rename it to end as it should, and run the intake again"
    assert set(report.passed_over) == {hidden, link}
    text = "\n".join(report_lines(report))
    assert all(str(path) in text for path in (film, empty, wrong, hidden, link))
    assert not (project / "photos" / "SHA256SUMS").exists()


def test_stubs_are_ready_to_paste(project: Path, phone: Path) -> None:
    """The stubs are YAML by obstacle and phase; each, its words filled in, is a photo of a record."""
    report = intake(project, [phone], probe, HINTS)
    assert report.captions == project / "photos" / "captions-to-fill-in.yaml"
    stubs = yaml.load(report.captions.read_text(encoding="utf-8"), yaml.BaseLoader)  # noqa: S506  # text only
    assert list(stubs) == ["11-water", "not placed"]
    assert [use["file"] for use in stubs["11-water"]["framed"]] == [
        "2026-04-01-IMG_2044.webp",
        "2026-04-01-IMG_0001.jpg",
    ]
    assert list(stubs["not placed"]) == ["before", "finished"]
    uses = [use for phases in stubs.values() for photos in phases.values() for use in photos]
    assert sorted(use["file"] for use in uses) == sorted(pictures(project))
    for use in uses:
        assert use["shows"] == ""
        assert PhotoUse.model_validate({**use, "shows": "A wall."}).file == use["file"]
    assert [use.get("on") for use in uses if use["file"].endswith(".png")] == ["2026-03-09"]


def test_stubs_are_never_written_over_and_only_for_what_is_not_placed(project: Path, phone: Path) -> None:
    """A second batch gets a second file; what a record or the first file names is not asked for again."""
    first = intake(project, [phone / "IMG_2042.JPG"], probe, HINTS).captions
    assert first is not None
    first.write_text("mine: now\n")
    record = project / "obstacles" / "11-water.yaml"
    record.write_text("photos: {before: [{file: 2026-03-09-IMG_2042.jpg, shows: It.}]}\n")
    second = intake(project, [phone], probe, HINTS).captions
    assert second == project / "photos" / "captions-to-fill-in-2.yaml"
    assert first.read_text() == "mine: now\n"
    assert "IMG_2042" not in second.read_text()
    assert second.read_text().count("- file:") == 4
    assert intake(project, [phone], probe, HINTS).captions is None


def test_a_run_that_is_stopped_is_repeated(project: Path, phone: Path) -> None:
    """After Ctrl-C at any photo, the same command gives what an undisturbed run gives, each photo once."""
    for stop_after in (1, 3, 5):

        def stop(done: int, total: int, at: int = stop_after) -> None:
            assert total >= done
            if done == at:
                raise KeyboardInterrupt

        job = shutil.copytree(project, project.parent / f"job{stop_after}")
        with pytest.raises(KeyboardInterrupt):
            intake(job, [phone], probe, HINTS, stop)
        assert len(pictures(job)) == stop_after
        assert_sums_hold(job, stop_after)
        report = intake(job, [phone], probe, HINTS)
        assert len(report.taken) == 5 - stop_after
        assert_sums_hold(job, 5)
        assert report.captions is not None
        assert report.captions.read_text().count("- file:") == 5
        assert report.unfinished == ()


KILLED = """
import os, signal, sys
from pathlib import Path
from bookgen.desk.intake import intake
from bookgen.read.photos import probe
where, count = sys.argv[3], int(sys.argv[4])
real = getattr(os, where)
def dies(*given, **named):
    global count
    count -= 1
    if not count:
        os.kill(os.getpid(), signal.SIGKILL)
    return real(*given, **named)
setattr(os, where, dies)
intake(Path(sys.argv[1]), [Path(sys.argv[2])], probe)
"""


@pytest.mark.parametrize(
    ("where", "count"), [("fsync", 1), ("fsync", 3), ("link", 2), ("write", 1), ("write", 2), ("unlink", 2)]
)
def test_a_run_that_is_killed_is_repeated(project: Path, phone: Path, where: str, count: int) -> None:
    """Killed while it writes, names or lists a photo: no half photo under a name, and the next run sets all right."""
    command = [sys.executable, "-c", KILLED, str(project), str(phone), where, str(count)]
    assert subprocess.run(command, check=False).returncode == -signal.SIGKILL  # noqa: S603  # our own script
    whole = {path.read_bytes() for path in phone.rglob("*") if path.is_file()}
    assert set(pictures(project).values()) <= whole
    report = intake(project, [phone], probe, HINTS)
    assert set(pictures(project).values()) == whole
    assert_sums_hold(project, 5)
    assert all(name.startswith(".intake-") for name in report.unfinished)
    assert len(report.unfinished) == (1 if where != "write" else 0)
    if report.unfinished:
        assert f"  photos/{report.unfinished[0]}: left by a run that was cut off; you can delete it" in report_lines(
            report
        )


def test_a_full_disk_leaves_no_half_photo(project: Path, phone: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The error goes to the caller; the folder holds what was whole before."""

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        intake(project, [phone], probe, HINTS)
    assert listing(project / "photos") == {}


def test_a_stick_without_links_serves_too(project: Path, phone: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the file system has no hard links, photos still come in whole, and over nothing."""

    def no_links(*_: object) -> None:
        raise OSError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    hand = put(project / "photos" / "2026-03-09-IMG_2042.jpg", b"by hand")
    report = intake(project, [phone], probe, HINTS)
    assert report.taken[0].name == "2026-03-09-IMG_2042-2.jpg"
    assert hand.read_bytes() == b"by hand"
    assert {(project / "photos" / t.name).read_bytes() for t in report.taken} == {
        t.source.read_bytes() for t in report.taken
    }
    assert report.unfinished == ()


@pytest.mark.parametrize("links", [True, False])
def test_a_file_that_appears_meanwhile_is_not_written_over(
    project: Path, phone: Path, monkeypatch: pytest.MonkeyPatch, links: bool
) -> None:
    """Another program takes the name between the look and the copy: the photo gets the next name, links or not."""
    photos, real = project / "photos", os.link

    def late(part: Path, name: Path) -> None:
        if not (photos / "2026-03-09-IMG_2042.jpg").exists():
            (photos / "2026-03-09-IMG_2042.jpg").write_bytes(b"quicker")
        if not links:
            raise OSError(1, "Operation not permitted")
        real(part, name)

    monkeypatch.setattr(os, "link", late)
    report = intake(project, [phone / "IMG_2042.JPG"], probe)
    assert [taken.name for taken in report.taken] == ["2026-03-09-IMG_2042-2.jpg"]
    assert (photos / "2026-03-09-IMG_2042.jpg").read_bytes() == b"quicker"


def test_a_photo_that_changes_while_it_is_copied_is_refused(project: Path, phone: Path) -> None:
    """What was looked at and what was read must be the same bytes."""

    def unsteady(folder: Path, name: str) -> object:
        found = probe(folder, name)
        if name == "IMG_2042.JPG":
            (folder / name).write_bytes(photo_bytes(51, DAY_ONE))
        return found

    report = intake(project, [phone / "IMG_2042.JPG"], unsteady)  # type: ignore[arg-type]
    assert report.taken == ()
    assert report.refused[0][1].says == "the file changed while it was being copied"
    assert pictures(project) == {}


def test_a_photo_changed_since_is_told(project: Path, phone: Path) -> None:
    """The checksum list finds a photo that was edited or has rotted."""
    intake(project, [phone], probe, HINTS)
    put(project / "photos" / "2026-06-12-IMG_2046.jpg", photo_bytes(41, DAY_THREE))
    report = intake(project, [phone / "water"], probe, HINTS)
    assert report.altered == ("2026-06-12-IMG_2046.jpg",)
    assert (
        "  photos/2026-06-12-IMG_2046.jpg: no longer what SHA256SUMS says; it was changed or damaged"
        in report_lines(report)
    )


def test_a_torn_checksum_list_is_mended_by_a_line_of_its_own(project: Path, phone: Path) -> None:
    """A list whose last line has no end keeps that line, and the new one stands on the next."""
    sums = put(project / "photos" / "SHA256SUMS", b"abc  torn.jpg")
    intake(project, [phone / "IMG_2042.JPG"], probe)
    assert sums.read_text().splitlines()[0] == "abc  torn.jpg"
    assert sums.read_text().splitlines()[1].endswith("  2026-03-09-IMG_2042.jpg")


@pytest.mark.skipif(not shutil.which("sha256sum"), reason="there is no sha256sum here")
def test_the_checksum_list_is_read_by_the_usual_tool(project: Path, phone: Path) -> None:
    """`sha256sum --check` (GNU coreutils) finds every photo and every sum right."""
    intake(project, [phone], probe, HINTS)
    command = ["sha256sum", "--check", "--strict", "--quiet", "SHA256SUMS"]
    assert subprocess.run(command, cwd=project / "photos", check=False).returncode == 0  # noqa: S603


def test_two_intakes_at_once_take_turns(project: Path, phone: Path) -> None:
    """Two people empty one phone into one project: whoever comes second finds the photos there, and none is doubled."""
    both = Barrier(2)

    def meeting(folder: Path, name: str) -> Photo | PhotoFault:
        with suppress(BrokenBarrierError):
            both.wait(0.2)  # without turns both would look before either has copied anything
        return probe(folder, name)

    with ThreadPoolExecutor(2) as pool:
        reports = list(pool.map(lambda _: intake(project, [phone], meeting, HINTS), range(2)))

    assert len(pictures(project)) == 5
    assert sorted(len(report.taken) for report in reports) == [0, 5]


def test_an_empty_folder_is_no_fault(project: Path, tmp_path: Path) -> None:
    """Nothing in, nothing written."""
    (tmp_path / "empty").mkdir()
    report = intake(project, [tmp_path / "empty"], probe)
    assert report == IntakeReport()
    assert report_lines(report) == ("0 photos taken in; 0 were there before.",)
