"""A live copy on this machine: served to nobody else, bound again at a save; and points matched on two photos."""

from __future__ import annotations

import http.client
import shutil
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path
from queue import Queue
from threading import Event, Thread
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

import cv2
import numpy as np
import pikepdf
import pytest
from numpy.typing import NDArray

from bookgen.proof import Told, prove
from bookgen.read import read

if TYPE_CHECKING:
    from playwright.sync_api import Browser

SMALLEST = Path(__file__).parents[1] / "projects" / "smallest"
PATIENCE = 120  # seconds
FRAMED = "  framed:\n    - file: before.jpg\n      shows: The corner before its board.\n"


class Proof:
    """A proof that is running, and what it has told."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.rounds: Queue[Told] = Queue()
        self.printed: Queue[Told] = Queue()
        self.stop = Event()
        self.thread = Thread(target=prove, args=(folder, 0, self.told, self.stop))
        self.thread.start()
        self.address = self.rounds.get(timeout=PATIENCE).address

    def told(self, told: Told) -> None:
        """Take what became of a round, and by itself that it has been printed."""
        (self.printed if told.printed else self.rounds).put(told)

    def get(self, path: str, host: str | None = None) -> tuple[int, bytes]:
        """Ask for a path as it stands, under the right name or another one."""
        place = urlsplit(self.address).netloc
        line = http.client.HTTPConnection(place, timeout=PATIENCE)
        line.request("GET", path, headers={"Host": host or place})
        answer = line.getresponse()
        body = answer.read()
        line.close()
        return answer.status, body


@pytest.fixture(scope="module")
def proof(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Proof]:
    """The proof of a project whose record has a framed and a finished photo."""
    folder = Path(shutil.copytree(SMALLEST, tmp_path_factory.mktemp("proof") / "smallest"))
    drain = folder / "obstacles" / "01-drain.yaml"
    drain.write_text(drain.read_text("utf-8") + FRAMED, encoding="utf-8")
    running = Proof(folder)
    yield running
    running.stop.set()
    running.thread.join(PATIENCE)
    assert not running.thread.is_alive()


def test_it_answers_this_machine_only_and_out_of_the_book_only(proof: Proof) -> None:
    """Pages come with the proof's script; a strange host name and a path that leads out get nothing."""
    status, body = proof.get("/")
    assert (status, b"/_proof/proof.js" in body) == (200, True)
    assert proof.get("/", host="elsewhere.example")[0] == 403  # a page elsewhere that has its name lead to this machine
    for path in (
        "/../../etc/passwd",
        "/%2e%2e/%2e%2e/etc/passwd",
        "//etc/passwd",
        "/%00",
        "/assets",
    ):
        assert proof.get(path)[0] == 404, path


def test_a_save_binds_again_and_a_mistake_keeps_the_last_good_book(proof: Proof) -> None:
    """The stamp counts up at each save; problems are told, and go when they are mended."""
    drain = proof.folder / "obstacles" / "01-drain.yaml"
    good = drain.read_text("utf-8")
    drain.write_text(good.replace("Drain along the north wall", "Drain of the north wall", 1), encoding="utf-8")
    assert proof.rounds.get(timeout=PATIENCE).problems == ()
    first = proof.get("/_proof/stamp.js")[1]
    assert b"Drain of the north wall" in proof.get("/index.html")[1]

    drain.write_text(good.replace("off the block: 7 in", "off the block: 7", 1), encoding="utf-8")
    assert [one.code for one in proof.rounds.get(timeout=PATIENCE).problems] == ["bare-number"]
    assert b"Drain of the north wall" in proof.get("/index.html")[1]
    assert b"1 problem" in proof.get("/_proof/stamp.js")[1]
    assert b"bare-number" in proof.get("/_proof/problems")[1]

    drain.write_text(good, encoding="utf-8")
    assert proof.rounds.get(timeout=PATIENCE).problems == ()
    assert proof.get("/_proof/stamp.js")[1] not in {first, b""}
    assert b"Drain along the north wall" in proof.get("/index.html")[1]


def test_what_is_printed_follows_the_pages(proof: Proof) -> None:
    """The address of the print book holds a whole one at any moment, and soon the newest; so with what goes with it."""

    def printed() -> list[str]:
        with pikepdf.open(BytesIO(proof.get("/book.pdf")[1])) as book, book.open_outline() as outline:
            return [one.title for one in outline.root]

    drain = proof.folder / "obstacles" / "01-drain.yaml"
    good = drain.read_text("utf-8")
    proof.printed.get(timeout=PATIENCE)
    for name in ("Drain of the north wall", "Drain along the north wall"):
        drain.write_text(good.replace("Drain along the north wall", name, 1), encoding="utf-8")
        assert proof.rounds.get(timeout=PATIENCE).problems == ()
        assert 'href="book.pdf"' in proof.get("/index.html")[1].decode()
        while name not in printed():
            proof.printed.get(timeout=PATIENCE)
        assert proof.get("/tags.pdf")[0] == proof.get("/upkeep.ics")[0] == 200


def test_points_clicked_on_two_photos_become_lines_of_the_record(proof: Proof, browser: Browser) -> None:
    """Five pairs are clicked, one is nudged by keyboard; the lines that come out are read without a problem."""
    page = browser.new_page(viewport={"width": 1200, "height": 900})
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(f"{proof.address}_proof/points")
    page.wait_for_function("document.querySelectorAll('.photo img').length === 4")
    page.wait_for_function("[...document.images].every(image => image.complete && image.naturalWidth)")
    spots = [(0.1, 0.15), (0.9, 0.1), (0.85, 0.9), (0.12, 0.88), (0.5, 0.55)]
    for across, down in spots:
        for side in ("framed", "finished"):
            box = page.locator(f"#{side}").bounding_box()
            assert box is not None
            page.mouse.click(box["x"] + across * box["width"], box["y"] + down * box["height"])
    assert "fit to 0.0 px" in page.inner_text("#verdict")
    before = page.input_value("#lines")
    page.keyboard.press("Shift+ArrowRight")
    moved = page.input_value("#lines")
    page.keyboard.press("Shift+ArrowLeft")

    assert moved != before
    assert page.input_value("#lines") == before
    assert "fit to 0.0 px" in page.inner_text("#verdict")
    assert said == []
    page.close()
    copy = Path(shutil.copytree(proof.folder, proof.folder.parent / "pasted"))
    record = copy / "obstacles" / "01-drain.yaml"
    record.write_text(f"{record.read_text('utf-8')}  see through:\n{before}", encoding="utf-8")
    project, problems = read(copy)
    assert problems == ()
    assert project is not None
    pairs = project.obstacles[0].record.photos.see_through[0].pairs
    width = project.photos["before.jpg"].width
    assert [round(pair.framed[0] / width, 2) for pair in pairs] == [round(across, 2) for across, _ in spots]


def test_the_page_lays_photos_as_a_computer_vision_library_does(proof: Proof, browser: Browser) -> None:
    """Exact pairs give OpenCV's homography; pairs with 1 px of noise give one within a pixel of it over the photo."""
    page = browser.new_page()
    page.goto(f"{proof.address}_proof/points")
    page.wait_for_function("typeof window.proofHomography === 'function'")
    random = np.random.default_rng(7)
    for noise, allowed in ((0.0, 1e-2), (1.0, 1.0)):
        for _ in range(5):
            truth = np.array([[1, 0.1, 30], [-0.08, 1.1, 20], [4e-5, -6e-5, 1]]) + random.normal(0, 1e-5, (3, 3))
            start = random.uniform(0, 1600, (8, 2))
            end = cv2.perspectiveTransform(start[None], truth)[0] + random.normal(0, noise, (8, 2))
            theirs, _ = cv2.findHomography(start, end, 0)
            ours = np.array(page.evaluate("([a, b]) => proofHomography(a, b)", [start.tolist(), end.tolist()]))
            assert _apart(ours, theirs) < allowed
    line = [[10.0 * n, 20.0 * n] for n in range(6)]
    assert page.evaluate("([a, b]) => proofHomography(a, b)", [line, line]) is None
    page.close()


def test_an_open_page_loads_itself_again_after_a_save(proof: Proof, browser: Browser) -> None:
    """Nobody touches the browser: the title that has been saved comes up in it."""
    drain = proof.folder / "obstacles" / "01-drain.yaml"
    page = browser.new_page()
    page.goto(f"{proof.address}index.html")
    page.wait_for_selector("#proof-note")  # it has asked once, so that it knows which book it shows
    drain.write_text(drain.read_text("utf-8").replace("Drain along", "Drain saved again along", 1), encoding="utf-8")
    page.wait_for_selector("text=Drain saved again along the north wall", timeout=PATIENCE * 1000)
    page.close()

    assert proof.rounds.get(timeout=PATIENCE).problems == ()


def _apart(one: NDArray[np.float64], other: NDArray[np.float64]) -> float:
    """Return how far two homographies lay the corners of a photo from one another, at most, in pixels."""
    corners = np.array([[[0.0, 0], [1600, 0], [1600, 1200], [0, 1200]]])
    onto: Callable[..., NDArray[np.float64]] = cv2.perspectiveTransform
    return float(np.abs(onto(corners, one) - onto(corners, other)).max())
