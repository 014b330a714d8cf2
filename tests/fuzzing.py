"""A project folder with slips of the pen and spoilt bytes in it, bound as far as it will go, or refused in words.

Some slips know YAML: keys dropped, doubled, swapped and moved, numbers made huge, tiny, negative or slightly other,
values taken from another place of the records. Others know nothing: bytes turned, cut out, put in, doubled or taken
from another file, in a record, a note, a photo or a paper. Each trial has its own seed, so that it can be repeated.
`python -m tests.fuzzing MINUTES FIRST FOLDER` tries for as long as one likes, and prints how many came how far.
"""

from __future__ import annotations

import copy
import random
import re
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import Any

import pikepdf

from bookgen.bind import RefusedError, bind, composed_book, write_site
from bookgen.cache import known_cache
from bookgen.model.book import Edition
from tests.hostile import CORPUS, PROJECTS, loaded, written

Holder = tuple[Any, str | int]
NUMBER = re.compile(r"\d+(?:\.\d+)?")
NUMBERS = (
    "0",
    "1",
    "-1",
    "0.001",
    "1/64",
    "1e9",
    "999999999999999999999999",
    "-7",
    "0.0000000001",
    "1/0",
    "7/3",
    "\u0663",
)
EDITIONS = tuple(Edition)
PRINTED = 10  # of so many trials one is printed too, which takes much longer than the site
SECONDS = 60  # of processor time that a trial may take, many times what any should
SCALES = (0.01, 0.5, 0.9, 0.99, 1.01, 1.1, 2, 10, 1000)
TEXTS = ("", " ", "yes", "no", "0", "[]", "north wall", "40 in to 40 in", "77 in above slab", *CORPUS[::6])


class Sample:
    """The sample house in a folder of its own, of which each trial keeps a few records and spoils some of it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        shutil.copytree(PROJECTS / "tamarack", folder)
        (folder / "papers").mkdir(exist_ok=True)
        with pikepdf.new() as pdf:
            pdf.add_blank_page()
            pdf.save(folder / "papers" / "permit.pdf")
        self.project = loaded(folder / "project.yaml")
        self.project.setdefault("papers", []).append({"what": "Permit", "kind": "permit", "file": "permit.pdf"})
        self.records = {path.name: loaded(path) for path in sorted((folder / "obstacles").iterdir())}
        for record in self.records.values():
            record.pop("chapter", None)  # names other records, which a trial may leave out
        self.values = [value for data in (self.project, *self.records.values()) for value in _values(data)]
        self.whole = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}

    def spoil(self, seed: int) -> None:
        """Write the project of trial *seed*; in every third one bytes are spoilt and in every other one values."""
        chance = random.Random(seed)
        for path, data in self.whole.items():
            if path.suffix != ".yaml" and path.read_bytes() != data:
                path.write_bytes(data)
        shutil.rmtree(self.folder / "obstacles")
        (self.folder / "obstacles").mkdir()
        names = chance.sample(sorted(self.records), chance.choice((1, 1, 2, 3)))
        data = {"project.yaml": copy.deepcopy(self.project)}
        data |= {f"obstacles/{name}": copy.deepcopy(self.records[name]) for name in names}
        if seed % 3:
            self._spoil_values(data, names, chance)
        for name, record in data.items():
            written(record, self.folder / name)
        if not seed % 3:
            self._spoil_bytes([self.folder / name for name in data], chance)

    def _spoil_values(self, data: dict[str, Any], names: list[str], chance: random.Random) -> None:
        for _ in range(chance.choice((1, 1, 1, 2, 3, 5))):
            # Most slips in the obstacles: there the work is.
            name = chance.choice([*(f"obstacles/{name}" for name in names * 3), "project.yaml"])
            chance.choice(SLIPS)(data[name], chance, self.values)

    def _spoil_bytes(self, records: list[Path], chance: random.Random) -> None:
        others = sorted(path for path in self.whole if path.suffix != ".yaml")
        for _ in range(chance.choice((1, 1, 2, 4))):
            path = chance.choice([*records * 6, *others])
            data = path.read_bytes()
            path.write_bytes(chance.choice(BYTE_SLIPS)(data, chance, self.whole[chance.choice(sorted(self.whole))]))


def _holders(data: Any) -> Iterator[Holder]:
    """Yield each place of *data*, as what holds it and its key or index there."""
    steps: Iterator[str | int] = iter(data) if isinstance(data, dict) else iter(range(len(data)))
    for step in steps:
        yield data, step
        if isinstance(data[step], (dict, list)):
            yield from _holders(data[step])


def _values(data: Any) -> Iterator[Any]:
    for holder, step in _holders(data):
        yield holder[step]


def _one(data: Any, chance: random.Random, sort: type | tuple[type, ...] = object) -> Holder | None:
    places = [(holder, step) for holder, step in _holders(data) if isinstance(holder[step], sort)]
    return chance.choice(places) if places else None


def _drop(data: Any, chance: random.Random, _: list[Any]) -> None:
    if place := _one(data, chance):
        del place[0][place[1]]


def _double(data: Any, chance: random.Random, _: list[Any]) -> None:
    if (place := _one(data, chance, list)) and (items := place[0][place[1]]):
        items.insert(chance.randrange(len(items) + 1), copy.deepcopy(chance.choice(items)))


def _swap(data: Any, chance: random.Random, _: list[Any]) -> None:
    one, other = _one(data, chance), _one(data, chance)
    if one and other:
        first, second = copy.deepcopy(one[0][one[1]]), copy.deepcopy(other[0][other[1]])
        one[0][one[1]], other[0][other[1]] = second, first


def _shuffle(data: Any, chance: random.Random, _: list[Any]) -> None:
    if place := _one(data, chance, list):
        chance.shuffle(place[0][place[1]])


def _number(data: Any, chance: random.Random, _: list[Any]) -> None:
    places = [
        (holder, step)
        for holder, step in _holders(data)
        if isinstance(holder[step], str) and NUMBER.search(holder[step])
    ]
    holder, step = chance.choice(places)
    found = chance.choice(list(NUMBER.finditer(holder[step])))
    if chance.random() < 0.3:
        new = chance.choice(NUMBERS)
    else:
        new = f"{float(found.group()) * chance.choice(SCALES):.4f}".rstrip("0").rstrip(".")
    holder[step] = holder[step][: found.start()] + new + holder[step][found.end() :]


def _text(data: Any, chance: random.Random, _: list[Any]) -> None:
    if place := _one(data, chance, str):
        place[0][place[1]] = chance.choice(TEXTS)


def _from_elsewhere(data: Any, chance: random.Random, values: list[Any]) -> None:
    if place := _one(data, chance):
        alike = [value for value in values if type(value) is type(place[0][place[1]])]
        place[0][place[1]] = copy.deepcopy(chance.choice(alike))


Slip = Callable[[Any, random.Random, list[Any]], None]
SLIPS: tuple[Slip, ...] = (_drop, _double, _swap, _shuffle, _text, _from_elsewhere, *[_number] * 6)


def _turned(data: bytes, chance: random.Random, _: bytes) -> bytes:
    """Turn some bits."""
    turned = bytearray(data)
    for _turn in range(chance.choice((1, 3, 20)) if data else 0):
        turned[chance.randrange(len(turned))] ^= 1 << chance.randrange(8)
    return bytes(turned)


def _cut(data: bytes, chance: random.Random, _: bytes) -> bytes:
    """Leave a stretch out, now and then all up to the end."""
    start = chance.randrange(len(data) + 1)
    return data[:start] + chance.choice((b"", data[start + chance.choice((1, 2, 10, 200)) :]))


def _put_in(data: bytes, chance: random.Random, _: bytes) -> bytes:
    """Put signs in that mean something to a reader of YAML, or bytes that mean nothing to anybody."""
    start = chance.randrange(len(data) + 1)
    return data[:start] + chance.choice((*SIGNS, chance.randbytes(5))) + data[start:]


def _doubled(data: bytes, chance: random.Random, _: bytes) -> bytes:
    """Say a stretch twice."""
    start = chance.randrange(len(data) + 1)
    end = start + chance.choice((1, 20, 400))
    return data[:end] + data[start:end] + data[end:]


def _patched(data: bytes, chance: random.Random, other: bytes) -> bytes:
    """Put a stretch of another file in the place of one of this."""
    start, there = chance.randrange(len(data) + 1), chance.randrange(len(other) + 1)
    length = chance.choice((1, 10, 100, 5000))
    return data[:start] + other[there : there + length] + data[start + length :]


ByteSlip = Callable[[bytes, random.Random, bytes], bytes]
BYTE_SLIPS: tuple[ByteSlip, ...] = (_turned, _cut, _put_in, _doubled, _patched)
SIGNS = (
    b"\n", b"\r", b"\r\n", b"\t", b"  ", b": ", b"- ", b"#", b"[", b"]", b"{", b"}", b'"', b"'", b"&a ", b"*a",
    b"!!x ", b"---\n", b"...\n", b"%YAML 1.2\n", b"<<: ", b"? ", b"| ", b"> ", b"\x00", b"\xff\xfe", b"\xef\xbb\xbf",
    b"\xc0\xaf", b"\xe2\x80\xae", b"\xed\xa0\x80", b"\xc2\x85", b"\xf0\x9f\x98\x80",
)  # fmt: skip


def reached(folder: Path, edition: Edition, out: Path, *, printed: bool) -> str:
    """Bind a project folder into the new folder *out*, only the site unless *printed*; say how far it came."""
    if printed:
        whole = bind(folder, edition, out, _nobody)
        return "printed" if whole.target else _refused(whole.checked.problems)
    composed, checked = composed_book(folder, edition, known_cache())
    if composed is None:
        return _refused(checked.problems)
    out.mkdir()
    try:
        write_site(composed, out, known_cache(), _nobody)
    except RefusedError as refused:
        return _refused(refused.problems)
    return "bound"


def _refused(problems: tuple[Any, ...]) -> str:
    assert problems
    assert all(problem.code and problem.rule and problem.repair for problem in problems)
    return "refused"


def _nobody(_work: str, _done: int, _of: int) -> None:
    """Tell nobody how far a bind is."""


@contextmanager
def _at_most(seconds: int) -> Iterator[None]:
    """Raise TimeoutError in the block when it takes more processor time; a machine without such alarms waits."""
    if not hasattr(signal, "SIGPROF"):
        yield
        return

    def late(_number: int, _frame: FrameType | None) -> None:
        raise TimeoutError(f"more than {seconds} seconds")

    before = signal.signal(signal.SIGPROF, late)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def tried(place: Path, seeds: Iterable[int]) -> Counter[str]:
    """Try the trials of *seeds* in the new folder *place*; fail with the numbers of all that raised, by their error."""
    place.mkdir(parents=True)
    sample, ends, raised = Sample(place / "tamarack"), Counter[str](), {}
    for seed in seeds:
        sample.spoil(seed)
        try:
            with tempfile.TemporaryDirectory(dir=place) as folder, _at_most(SECONDS):
                edition, printed = EDITIONS[seed % len(EDITIONS)], seed % PRINTED == 0
                ends[reached(sample.folder, edition, Path(folder) / "book", printed=printed)] += 1
        except Exception:  # noqa: BLE001 - what is looked for
            last = traceback.format_exc().splitlines()
            raised.setdefault("\n".join(last[-5:]), []).append(seed)
    assert not raised, "\n\n".join(f"trials {numbers}:\n{error}" for error, numbers in raised.items())
    return ends


def for_minutes(minutes: float, first: int) -> Iterator[int]:
    """Yield numbers from *first* on, for so many minutes of processor time."""
    end = time.process_time() + 60 * minutes
    while time.process_time() < end:
        yield first
        first += 1


if __name__ == "__main__":
    print(dict(tried(Path(sys.argv[3]), for_minutes(float(sys.argv[1]), int(sys.argv[2])))))  # noqa: T201
