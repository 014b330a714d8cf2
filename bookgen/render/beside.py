"""Work that lets go of the interpreter in, the same begun beside what follows out, where there is a second core."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager

from bookgen.render.cores import cores


@contextmanager
def beside(work: Callable[[], None]) -> Iterator[None]:
    """Do *work* in a thread while the block does something else, and wait for it; on one core, do it after the block.

    Raises what either of them raises, the block's own first: then *work* has ended, or was never begun.
    """
    if cores() == 1:
        yield
        work()
        return
    with ThreadPoolExecutor(1) as thread:
        begun = thread.submit(work)
        yield
        begun.result()
