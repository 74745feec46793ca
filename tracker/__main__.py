"""`python -m tracker` and the `loomcard` command."""

import sys


def main() -> None:
    """Runs one command line and leaves with its exit code.

    A line that asks for the screens alone is not made to wait for the library that reads the others.
    """
    from tracker.cli.opening import on_a_terminal, open_screens, screens_alone

    context = screens_alone(sys.argv[1:])
    if context is not None and on_a_terminal():
        from tracker.cli.net import caught

        sys.exit(caught(lambda: open_screens(context), as_json=False))

    from tracker.cli.main import run

    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
