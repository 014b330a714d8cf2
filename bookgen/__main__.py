"""Arguments in, exit code out: `bookgen` and `python -m bookgen`; it can be interrupted even while it loads."""

from __future__ import annotations

import gc
import signal
import sys

from bookgen import STOPPED

MACHINE = 3  # the exit code, as in bookgen.telling, which is not loaded yet
# After how many new values Python looks for rings of them that nobody holds any more. A command makes nouns by the
# hundred thousand, none of them in rings; by the usual setting a tenth of its time goes into looking.
SELDOM = (50_000, 20, 100)


def main() -> None:
    """Load the program and run a command; interrupted at any moment, it says so in a line and ends by its exit code."""
    gc.set_threshold(*SELDOM)
    try:
        try:
            from bookgen import cli

            cli.main()
        finally:
            # Whatever is left to do is a moment's work: an interruption now would end the program by the signal.
            signal.signal(signal.SIGINT, signal.SIG_IGN)
    except KeyboardInterrupt:
        sys.stderr.write(f"{STOPPED}\n")
        sys.exit(MACHINE)


if __name__ == "__main__":
    main()
