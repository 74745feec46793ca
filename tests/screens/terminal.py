"""The program in a real pseudo-terminal, for what a pilot hides: keys without a pause, signals, its end."""

import contextlib
import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path

PATIENCE_S = 90.0

IN_ITS_OWN_WINDOW = """
import fcntl, runpy, termios
fcntl.ioctl(0, termios.TIOCSCTTY, 0)
runpy.run_module("tracker", run_name="__main__", alter_sys=True)
"""
"""The program with the terminal as its own, so that closing it hangs up on the program."""


class Terminal:
    """Loomcard on a file in a terminal of 80x24."""

    def __init__(
        self,
        path: Path,
        home: Path,
        code: str = IN_ITS_OWN_WINDOW,
        words: tuple[str, ...] = (),
        **env: str,
    ) -> None:
        self.master, slave = pty.openpty()
        os.set_blocking(self.master, False)
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        self.process = subprocess.Popen(
            [sys.executable, "-c", code, "--file", str(path), "--who", "Ines", *words],
            stdin=slave, stdout=slave, stderr=slave, start_new_session=True,
            env={**os.environ, "TERM": "xterm-256color", "HOME": str(home), **env},
        )  # fmt: skip
        os.close(slave)
        self.seen = ""

    def read(self) -> None:
        """Takes what the program has painted."""
        while select.select([self.master], [], [], 0.02)[0]:
            try:
                data = os.read(self.master, 65536)
            except OSError:  # the program has gone
                return
            if not data:
                return
            self.seen += data.decode("utf-8", "replace")

    def wait_for(self, words: str) -> None:
        """Waits until words have been painted since the last wait."""
        until = time.monotonic() + PATIENCE_S
        while words not in self.seen:
            if time.monotonic() > until:
                raise AssertionError(f"“{words}” never came; the last was {self.seen[-2000:]!r}")
            self.read()
        self.seen = ""

    def type(self, keys: str) -> None:
        """Sends keys, all at once."""
        os.write(self.master, keys.encode())

    def end(self, sign: int | None = None) -> int:
        """Sends a signal if one is named, waits for the end, and returns the exit code."""
        if sign is not None:
            self.process.send_signal(sign)
        until = time.monotonic() + PATIENCE_S
        while self.process.poll() is None:
            if time.monotonic() > until:
                self.process.kill()
                raise AssertionError("the program does not end")
            self.read()
        self.close_window()
        return self.process.returncode

    def close_window(self) -> None:
        """The window is closed under the program."""
        with contextlib.suppress(OSError):
            os.close(self.master)

    def __enter__(self) -> "Terminal":
        return self

    def __exit__(self, *_: object) -> None:
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()
        self.close_window()
