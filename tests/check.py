"""The one check command: format, lint, strict types, import contracts, then the tests.

Run it as `python -m tests.check`. Stops at the first thing that fails. Arguments go on to pytest.
"""

import subprocess
import sys

STEPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("format", ("-m", "ruff", "format", "--check", "tracker", "tests")),
    ("lint", ("-m", "ruff", "check", "tracker", "tests")),
    ("types", ("-m", "mypy")),
    ("contracts", ("-c", "from importlinter.cli import lint_imports_command as run; run()", "--no-cache")),
    ("tests", ("-m", "pytest", "-n", "2", "--dist", "worksteal")),
)


def main(extra: list[str]) -> int:
    """Run every step in order; the exit code is that of the first step that failed, else 0."""
    for name, arguments in STEPS:
        more = tuple(extra) if name == "tests" else ()
        print(f"== {name}", flush=True)
        code = subprocess.run((sys.executable, *arguments, *more), check=False).returncode
        if code:
            print(f"== {name} failed", flush=True)
            return code
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
