"""Arguments in, exit code out: `bookgen` and `python -m bookgen`; it can be interrupted even while it loads."""

from __future__ import annotations

import sys

from bookgen import STOPPED

MACHINE = 3  # the exit code, as in bookgen.telling, which is not loaded yet


def main() -> None:
    """Load the program and run a command."""
    try:
        from bookgen import cli
    except KeyboardInterrupt:
        sys.stderr.write(f"{STOPPED}\n")
        sys.exit(MACHINE)
    cli.main()


if __name__ == "__main__":
    main()
