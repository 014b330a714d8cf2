"""Jobs of binding in, what became of each out: told at once where its book stands as it would be bound, else bound.

One project is one task that shares nothing with another but the store, so several are bound in processes of their own.
"""

from __future__ import annotations

import hashlib
import json
import os
import signal
import sys
import threading
from _thread import interrupt_main
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from multiprocessing import active_children
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING

from bookgen.cache import known_cache
from bookgen.model.problem import Finding, Problem, Severity
from bookgen.render.cores import CORES, cores
from bookgen.render.kept import keep_bytes, kept_bytes
from bookgen.render.publish import MANIFEST, TargetRefusedError, refuse_foreign, tidy, whole_book
from bookgen.report import finding_from, plain_finding
from bookgen.telling import DONE, MACHINE, PROBLEMS, WRONG_USE, machine_words
from bookgen.trade.tongue import ENGLISH
from bookgen.unchanged import Stamp, digest_of, stamp_of

if TYPE_CHECKING:
    from sys import UnraisableHookArgs

KEPT = "bound"
ENGINE_CORES = "RAYON_NUM_THREADS"  # of the print engine
A_MOMENT = 0.05  # seconds
Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True)
class Job:
    """One edition of one project, the folder that it is bound into, and the choices."""

    project: Path
    edition: str
    target: Path
    single_file: bool = False
    prices: bool = False


@dataclass(frozen=True, slots=True)
class Done:
    """What became of a job: its exit code, and what there is to tell.

    *stops* are the findings that say stop. *wrong* says what kept a book from being bound, where that is no problem of
    the records. *unchanged* where nothing had to be done. *language* is what the findings are in.
    """

    code: int
    problems: tuple[Problem, ...] = ()
    stops: tuple[Finding, ...] = ()
    wrong: str = ""
    unchanged: bool = False
    language: str = ENGLISH


STOPPED = Done(MACHINE, wrong="stopped")


def quiet(_work: str, _done: int, _of: int) -> None:
    """Tell nobody how far a bind is."""


def bind_job(job: Job, progress: Progress = quiet) -> Done:
    """Bind what *job* says, unless that stands already, as it would be; nothing that a person can do is raised."""
    try:
        before = _key(job)
        stands = _standing(job, before) if before else None
        if stands:
            tidy(job.target)
            return stands
        refuse_foreign(job.target)
        done = _bound(job, progress)
        if before and done.code == DONE and _key(job) == before:  # nobody has saved a record in the meantime
            _remember(job, before, done, _untouched(job.target))
    except TargetRefusedError as error:
        return Done(WRONG_USE, wrong=str(error))
    except OSError as error:
        return Done(MACHINE, wrong=machine_words(error))
    return done


def _key(job: Job) -> str | None:
    """Return a digest of all that a bound book depends on; None where there is none to trust."""
    digest = digest_of(job.project)
    said = (job.edition, str(job.single_file), str(job.prices), os.environ.get("SOURCE_DATE_EPOCH", ""))
    return known_cache().key(digest, job.project.resolve().name, *said) if digest else None


def _standing(job: Job, key: str) -> Done | None:
    """Return what was told when the very book was bound that stands at the target, to the byte; None for any other.

    Where no file was written since it was found whole, none is read; where one was, all are.
    """
    kept = kept_bytes(known_cache().sort(KEPT) / key)
    told = json.loads(kept) if kept else None
    if told is None or os.path.ismount(job.target):
        return None
    done = Done(
        DONE, stops=tuple(finding_from(one) for one in told["stops"]), unchanged=True, language=told["language"]
    )
    stamp = stamp_of(job.target)
    if stamp and stamp.digest == told["stamp"]:
        return done
    refuse_foreign(job.target)
    if told["manifest"] != _digest_of_manifest(job.target) or not whole_book(job.target):
        return None
    if stamp == stamp_of(job.target):  # nobody has written there while it was read
        _remember(job, key, done, stamp)
    return done


def _untouched(target: Path) -> Stamp | None:
    """Return the stamp of a book that was just bound; None where somebody may have written there since."""
    stamp = stamp_of(target)
    return stamp if stamp and stamp.latest <= (target / MANIFEST).stat().st_ctime_ns else None


def _remember(job: Job, key: str, done: Done, stamp: Stamp | None) -> None:
    told = {
        "manifest": _digest_of_manifest(job.target),
        "stamp": stamp.digest if stamp else "",
        "stops": [plain_finding(one) for one in done.stops],
        "language": done.language,
    }
    with suppress(OSError):  # the book stands; without a cache it is bound again the next time
        keep_bytes(known_cache().sort(KEPT) / key, json.dumps(told).encode())


def _digest_of_manifest(target: Path) -> str:
    try:
        return hashlib.sha256((target / MANIFEST).read_bytes()).hexdigest()
    except OSError:
        return ""


def _bound(job: Job, progress: Progress) -> Done:
    # What reads, solves and draws loads only when there is something to do; the engine is at work meanwhile.
    from bookgen.early import engine_for

    engine = engine_for(job.project, job.edition, prices=job.prices)
    from bookgen.bind import bind
    from bookgen.model.book import Edition

    bound = bind(
        job.project,
        Edition(job.edition),
        job.target,
        progress,
        single_file=job.single_file,
        prices=job.prices,
        engine=engine,
    )
    if bound.target is None:
        return Done(PROBLEMS, bound.checked.problems)
    stops = tuple(one for one in bound.checked.findings if one.severity is Severity.STOP)
    solved = bound.checked.solved
    return Done(DONE, stops=stops, language=solved.project.record.language if solved else ENGLISH)


def bind_all(jobs: Sequence[Job], progress: Callable[[str], Progress]) -> Iterator[Done]:
    """Bind each of *jobs*, as many at once as there are cores, and yield what became of each, in their order.

    *progress* gives what is told how far a project is, by its name. After an interruption what is under way ends its
    bind as it would by itself: the old book or the new one, whole. Raises what is our own bug when all others are done.
    """
    at_once = min(len(jobs), cores())
    if at_once <= 1:
        yield from (bind_job(job, progress("")) for job in jobs)
        return
    share = max(1, cores() // at_once)
    with ProcessPoolExecutor(at_once, initializer=_settle_in, initargs=(share,)) as pool, _stopping(pool):
        futures = [pool.submit(_in_a_process, job, progress) for job in jobs]
        bugs: list[Exception] = []
        for future in futures:
            try:
                yield _result(future)
            except Exception as error:  # noqa: BLE001 - one project's bug must not keep the others from being bound
                bugs.append(error)
                yield Done(MACHINE, wrong=f"the program failed ({type(error).__name__}); see the end")
    for bug in bugs:
        raise bug


def _result(future: Future[Done]) -> Done:
    try:
        return future.result()
    except BrokenProcessPool:
        return Done(MACHINE, wrong="the machine ended its process, perhaps for want of memory; bind it by itself")


@contextmanager
def _stopping(pool: ProcessPoolExecutor) -> Iterator[None]:
    """Stop what is under way when the block is interrupted, and begin nothing more."""
    try:
        yield
    except BaseException:
        for child in active_children():
            if child.pid is not None and os.name != "nt":  # there the console has told them itself
                os.kill(child.pid, signal.SIGINT)
        pool.shutdown(wait=True, cancel_futures=True)
        raise


def _settle_in(share: int) -> None:
    """Make this process one of several that use their *share* of the cores."""
    os.environ[CORES] = os.environ[ENGINE_CORES] = str(share)
    signal.signal(signal.SIGINT, _while_waiting)
    sys.unraisablehook = _told_again


def _in_a_process(job: Job, progress: Callable[[str], Progress]) -> Done:
    if signal.getsignal(signal.SIGINT) is _when_over:
        return STOPPED
    signal.signal(signal.SIGINT, _while_working)
    try:
        return bind_job(job, progress(job.project.name))
    except KeyboardInterrupt:
        return STOPPED
    finally:
        if signal.getsignal(signal.SIGINT) is _while_working:
            signal.signal(signal.SIGINT, _while_waiting)


# What an interruption does to one of several processes. The first one is enough, and tells it to begin nothing more; a
# second one, as a terminal and the program itself may both send it, must not disturb the tidying up.


def _while_waiting(_number: int, _frame: FrameType | None) -> None:
    signal.signal(signal.SIGINT, _when_over)


def _while_working(_number: int, _frame: FrameType | None) -> None:
    signal.signal(signal.SIGINT, _when_over)
    raise KeyboardInterrupt


def _when_over(_number: int, _frame: FrameType | None) -> None:
    """Do nothing more."""


def _told_again(lost: UnraisableHookArgs) -> None:
    """Interrupt once more, a moment later, where Python drops what is raised, as in the call of a weak reference."""
    if lost.exc_type is KeyboardInterrupt:
        signal.signal(signal.SIGINT, _while_working)
        threading.Timer(A_MOMENT, _interrupt_main).start()
    else:
        sys.__unraisablehook__(lost)


def _interrupt_main() -> None:
    """Interrupt the main thread, out of what it waits for too, where a signal can be sent to one thread."""
    if os.name == "nt":
        interrupt_main()
    else:
        signal.pthread_kill(threading.main_thread().ident or 0, signal.SIGINT)
