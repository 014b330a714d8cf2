"""`python -m bookgen` is the same program as `bookgen`."""

from bookgen.cli import main

main()
