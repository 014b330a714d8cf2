"""Pictures that are begun early are those that would be made in their turn, and a fault is told in its turn."""

from __future__ import annotations

from pathlib import Path
from threading import Event

import pytest
from PIL import Image

from bookgen.model.evidence import Homography, Pane
from bookgen.model.photo import Photo, PhotoFault
from bookgen.read.photos import probe
from bookgen.render import pictures
from bookgen.render.ahead import working_ahead
from bookgen.render.beside import beside
from bookgen.render.cores import CORES
from bookgen.render.pictures import make_pictures
from bookgen.render.warp import make_overlay

PANES = (Pane(Homography(((1.0, 0.0, 2.0), (0.0, 1.0, 3.0), (0.0, 0.0, 1.0)))),)

PATIENCE = 60  # seconds


def _photo(folder: Path, name: str, colour: str) -> Photo:
    Image.new("RGB", (64, 48), colour).save(folder / name)
    found = probe(folder, name)
    assert isinstance(found, Photo)
    return found


@pytest.fixture
def photos(tmp_path: Path) -> tuple[Photo, Photo]:
    """A framed photo and a finished one."""
    return _photo(tmp_path, "framed.png", "tan"), _photo(tmp_path, "finished.png", "white")


def _files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.fixture
def two_cores(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine on which something can be done beside something else."""
    monkeypatch.setenv(CORES, "2")


@pytest.mark.usefixtures("two_cores")
def test_what_is_begun_early_is_taken_from_the_store(
    tmp_path: Path, photos: tuple[Photo, Photo], monkeypatch: pytest.MonkeyPatch
) -> None:
    """To the byte what is made in its turn, and no photo is opened a second time."""
    make_pictures(photos, tmp_path / "plain", None)
    make_overlay(*photos, PANES, tmp_path / "plain", None)
    out, cache = tmp_path / "out", tmp_path / "cache"
    with working_ahead(cache) as ahead:
        assert ahead is not None
        ahead.begin(photos, [(*photos, PANES)])
        ahead.begin(photos, [])  # what is begun is not begun again
        while not all(one.done() for one in ahead._begun.values()):
            pass
        monkeypatch.setattr(pictures.pixels, "clean_image", lambda *_: pytest.fail("a photo was opened again"))
        sets, faults = make_pictures(photos, out, cache, None, ahead)
        make_overlay(*photos, PANES, out, cache, ahead)
    assert (len(sets), faults) == (2, ())
    assert _files(out) == _files(tmp_path / "plain")


@pytest.mark.usefixtures("two_cores")
def test_what_is_not_under_way_is_made_by_who_asks_for_it(tmp_path: Path, photos: tuple[Photo, Photo]) -> None:
    """The one worker is held up by something else: nobody waits for it."""
    go = Event()
    with working_ahead(tmp_path / "cache") as ahead:
        assert ahead is not None
        held = ahead.pool.submit(go.wait, PATIENCE)
        ahead.begin(photos, [(*photos, PANES)])
        sets, faults = make_pictures(photos, tmp_path / "out", tmp_path / "cache", None, ahead)
        make_overlay(*photos, PANES, tmp_path / "out", tmp_path / "cache", ahead)
        assert not held.done()
        go.set()
    assert (len(sets), faults) == (2, ())


@pytest.mark.usefixtures("two_cores")
def test_a_photo_that_breaks_early_is_told_in_its_turn(tmp_path: Path, photos: tuple[Photo, Photo]) -> None:
    """The file has gone since it was read: nothing is kept of it, and the fault is that of its turn."""
    photos[0].path.unlink()
    with working_ahead(tmp_path / "cache") as ahead:
        assert ahead is not None
        ahead.begin(photos, [(*photos, PANES)])
        _, faults = make_pictures(photos, tmp_path / "out", tmp_path / "cache", None, ahead)
        overlay = make_overlay(*photos, PANES, tmp_path / "out", tmp_path / "cache", ahead)
    assert [(photo, fault.code) for photo, fault in faults] == [(photos[0], "photo-missing")]
    assert isinstance(overlay, tuple)
    assert isinstance(overlay[1], PhotoFault)
    assert len(list((tmp_path / "cache").iterdir())) == 1


@pytest.mark.usefixtures("two_cores")
def test_what_is_not_begun_by_the_end_never_is(tmp_path: Path) -> None:
    """A record turns out to be wrong, or somebody stops the bind: only what is under way is finished."""
    go, done = Event(), []

    def slow() -> None:
        go.wait()
        done.append(1)

    with working_ahead(tmp_path / "cache") as ahead:
        assert ahead is not None
        begun = [ahead.pool.submit(slow) for _ in range(20)]
        go.set()
    assert len(done) == sum(not one.cancelled() for one in begun) < 20


def test_on_one_core_everything_has_its_turn(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is begun early, and what could be done beside the pages is done after them."""
    monkeypatch.setenv(CORES, "1")
    with working_ahead(tmp_path) as ahead:
        assert ahead is None
    order: list[str] = []
    with beside(lambda: order.append("print")):
        order.append("pages")
    assert order == ["pages", "print"]


@pytest.mark.usefixtures("two_cores")
def test_what_breaks_beside_is_raised_once_both_have_ended() -> None:
    """The work's own exception; where the block breaks too, the block's, and nothing is left running."""
    ended: list[str] = []

    def breaks() -> None:
        ended.append("work")
        raise OSError("the disk is full")

    with pytest.raises(OSError, match="disk"), beside(breaks):
        ended.append("block")
    assert sorted(ended) == ["block", "work"]
    with pytest.raises(ValueError, match="block"), beside(breaks):
        raise ValueError("block")
    assert ended.count("work") == 2
