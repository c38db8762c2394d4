"""`python -m drafting`."""

import sys

from .command.line import main

if __name__ == "__main__":
    sys.exit(main())
