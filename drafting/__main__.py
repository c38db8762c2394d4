"""`python -m drafting`, and where `ellwand` starts."""

import sys


def main() -> int:
    """Runs the command line; Ctrl-C while it is still being loaded ends it with a word, too."""
    try:
        from .command.line import main as run

        return run()
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return 2


if __name__ == "__main__":
    sys.exit(main())
