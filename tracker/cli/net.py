"""The last net under a command: every failure a sentence, a hint and an exit code."""

import sys
from collections.abc import Callable

from tracker.errors import LoomcardError


def caught(work: Callable[[], int], *, as_json: bool) -> int:
    """Runs a command's work; the exit code is 0 done, 1 nothing found, 2 a mistake, 3 the store refused."""
    try:
        return work()
    except LoomcardError as error:
        return _said(error, as_json=as_json)
    except KeyboardInterrupt:
        sys.stderr.write("Stopped; what was acknowledged is kept.\n")
        return 130
    except BrokenPipeError:
        return 0
    except Exception as error:  # said plainly, logged without anybody's data
        from tracker.cli.failure import log_failure

        where = log_failure(error)
        sentence = "Something went wrong that should not have."
        hint = f"What was acknowledged is kept. It is noted in {where}."
        return _said(LoomcardError(sentence, hint), as_json=as_json)


def _said(error: LoomcardError, *, as_json: bool) -> int:
    from tracker.cli.output import say_error

    say_error(error, as_json=as_json)
    return error.exit_code
