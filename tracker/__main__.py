"""`python -m tracker` and the `loomcard` command."""

import sys


def main() -> None:
    """Runs one command line and leaves with its exit code."""
    from tracker.cli.main import run

    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
