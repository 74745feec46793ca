"""The screens' speed, as ratios in one run: `python -m tests.bench.screens`.

Each program runs in a pseudo-terminal of its own. First paint is set against a bare Textual app of the same
widgets with the same text; a key on a list against a bare windowed list over the same file. Peak memory is
the kernel's (VmHWM). Goals: first paint at most 1.15, key to paint at most 1.2 times the bare one.
"""

import os
import select
import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from pathlib import Path

from tests.screens.terminal import Terminal
from tracker.desk.replay import write
from tracker.seedfiles.script import load_script

ROUNDS = 9
KEYS = 60
QUIET_S = 0.06
CARDS = 200_000
DOWN, UP = "\x1b[B", "\x1b[A"

BARE = """
import sys
from textual.app import App
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

class Bare(App):
    CSS = '''
    #foot { dock: bottom; height: auto; } #head, #keybar { height: 1; text-style: reverse; }
    #top, #next, #said { height: auto; } OptionList { height: 1fr; border: none; }
    '''
    def compose(self):
        yield Static(Content("Copperleaf   Mon 02 Mar 2026   Ines"), id="head")
        yield Static(Content("LOOK 4  PRICE 2  FIX 6   owed 310.00 EUR"), id="top")
        yield OptionList(*(Option(Content(f"26-{n:04} Somebody        Halden 650 twin    flat {n}"))
                           for n in range(30)), id="list")
        with Vertical(id="foot"):
            yield Static(Content("next: ask for leave to look"), id="next")
            yield Static(id="said")
            yield Static(Content("Space next  Enter open  b book in  ? keys"), id="keybar")
    def on_mount(self):
        self.query_one("#list").focus()

Bare().run()
"""

BARE_LIST = """
import sqlite3, sys
from rich.segment import Segment
from rich.style import Style
from textual.app import App
from textual.geometry import Region, Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

class Rows(ScrollView, can_focus=True):
    def on_mount(self):
        self.base = sqlite3.connect(sys.argv[2])
        [(self.count,)] = self.base.execute("SELECT count(*) FROM card")
        self.pages, self.at = {}, 0
        self.virtual_size = Size(80, self.count)
    def row(self, n):
        page, within = divmod(n, 100)
        if page not in self.pages:
            self.pages[page] = self.base.execute(
                "SELECT number, complaint FROM card ORDER BY id DESC LIMIT 100 OFFSET ?", (page * 100,)
            ).fetchall()
        return self.pages[page][within]
    def render_line(self, y):
        n = self.scroll_offset.y + y
        if n >= self.count:
            return Strip.blank(80)
        words = "  ".join(self.row(n))
        return Strip([Segment(words.ljust(80)[:80], Style(reverse=n == self.at))], 80)
    def action_scroll_down(self):
        self.step(1)
    def action_scroll_up(self):
        self.step(-1)
    def step(self, step):
        before, self.at = self.at, max(0, min(self.count - 1, self.at + step))
        if self.at >= self.scroll_offset.y + self.size.height:
            self.scroll_to(y=self.at - self.size.height + 1, animate=False, immediate=True)
        for n in (before, self.at):
            self.refresh(Region(0, n - self.scroll_offset.y, 80, 1))

class Bare(App):
    def compose(self):
        yield Rows()
    def on_mount(self):
        self.query_one(Rows).focus()

Bare().run()
"""

FRAMED_LIST = BARE_LIST.replace(
    "        yield Rows()\n",
    """        yield Static("Cards, the newest first")
        yield Static("card      came       who")
        yield Rows()
        with Vertical(id="foot"):
            yield Static("next")
            yield Static("said")
            yield Static("Enter open  / find  ? keys")
""",
).replace(
    "class Bare(App):\n",
    """from textual.containers import Vertical
from textual.widgets import Static

class Bare(App):
    CSS = "#foot { dock: bottom; height: auto; } Static { height: 1; } Rows { height: 1fr; }"
""",
)
"""The bare list between the head and the bars that every screen has."""


def big_file(path: Path) -> None:
    """The demo's walk among two hundred thousand cards that are over."""
    write(path, load_script("walk"), date(2026, 3, 2))
    base = sqlite3.connect(path)
    first = base.execute("SELECT max(id) FROM card").fetchone()[0] + 1
    columns = [row[1] for row in base.execute("PRAGMA table_info(card)")]
    model = dict(zip(columns, base.execute("SELECT * FROM card LIMIT 1").fetchone(), strict=True))
    model |= {"kind": "unit", "bike": None, "unit": "clock", "comeback_of": None, "call_out": 0}
    came = model["came_at"]
    numbers = range(first, first + CARDS)
    cards = (
        {**model, "id": n, "token": f"t{n}", "number": f"25-{n:06}", "complaint": f"dead {n}"}
        for n in numbers
    )
    _many(base, "card", columns, (tuple(card.values()) for card in cards))
    ends = ["token", "card", "kind", "words", "told_unsafe", "by", "at"]
    _many(base, "ending", ends, ((f"e{n}", n, "declined", "", 0, "", came) for n in numbers))
    gone = ["token", "card", "to_whom", "override", "by", "at"]
    _many(base, "collection", gone, ((f"c{n}", n, "", "", "", came) for n in numbers))
    base.commit()
    base.close()


def _many(base: sqlite3.Connection, table: str, names: list[str], rows: Iterable[tuple[object, ...]]) -> None:
    marks = ", ".join("?" for _ in names)
    base.executemany(f"INSERT INTO {table} ({', '.join(names)}) VALUES ({marks})", rows)


def painted(terminal: Terminal, words: str) -> float:
    """Seconds until words stand on the screen."""
    begun = time.perf_counter()
    terminal.wait_for(words)
    return time.perf_counter() - begun


def key_to_paint(terminal: Terminal, keys: Iterable[str]) -> float:
    """The median of seconds from a key to the last byte of what it paints.

    To the last: a list that first moves its cursor and scrolls a frame later has not shown yet where it is.
    """
    taken = []
    for key in keys:
        terminal.read()
        begun = last = time.perf_counter()
        terminal.type(key)
        while select.select([terminal.master], [], [], QUIET_S)[0]:
            os.read(terminal.master, 65536)
            last = time.perf_counter()
        taken.append(last - begun)
    return statistics.median(taken)


def in_sight(terminal: Terminal) -> float:
    """Keys that move the cursor between rows in sight."""
    return key_to_paint(terminal, (DOWN, UP) * (KEYS // 2))


def scrolling(terminal: Terminal) -> float:
    """Keys that move the rows."""
    terminal.type(DOWN * 30)
    time.sleep(0.5)
    return key_to_paint(terminal, (DOWN,) * KEYS)


def peak_mb(terminal: Terminal) -> float:
    """Peak resident memory of the program in MB."""
    status = Path(f"/proc/{terminal.process.pid}/status").read_text()
    return next(int(line.split()[1]) for line in status.splitlines() if line.startswith("VmHWM")) / 1024


def main() -> None:
    """Prints medians and ratios."""
    with tempfile.TemporaryDirectory() as folder:
        home, path, big = Path(folder), Path(folder) / "shop.loomcard", Path(folder) / "big.loomcard"
        write(path, load_script("workshop"), date(2026, 3, 2))
        big_file(big)

        first: dict[str, list[float]] = {"bare": [], "day sheet": [], "day sheet, 200,000 cards": []}
        for _ in range(ROUNDS):
            with Terminal(path, home, BARE) as terminal:
                first["bare"].append(painted(terminal, "keys"))
            with Terminal(path, home) as terminal:
                first["day sheet"].append(painted(terminal, "keys"))
            with Terminal(big, home) as terminal:
                first["day sheet, 200,000 cards"].append(painted(terminal, "keys"))
        bare = statistics.median(first["bare"])
        print("first paint")
        for name, taken in first.items():
            middle = statistics.median(taken)
            print(f"  {name:<28} {middle * 1000:6.0f} ms  {middle / bare:5.2f} x bare")

        print("key to paint")
        with Terminal(path, home, BARE) as terminal:
            painted(terminal, "keys")
            base = report("bare list of 30", terminal, (in_sight,))
        with Terminal(path, home) as terminal:
            painted(terminal, "keys")
            report("day sheet", terminal, (in_sight,), base)
        both = (in_sight, scrolling)
        with Terminal(big, home, BARE_LIST) as terminal:
            painted(terminal, "dead")
            base = report("bare windowed list, 200,000", terminal, both)
        with Terminal(big, home, FRAMED_LIST) as terminal:
            painted(terminal, "dead")
            report("the same between bars", terminal, both, base)
        with Terminal(big, home) as terminal:
            painted(terminal, "keys")
            time.sleep(1.0)
            terminal.type("n")
            print(f"  {'list of 200,000 cards':<28} opens in {painted(terminal, 'newest') * 1000:.0f} ms")
            report("list of 200,000 cards", terminal, both, base)


def report(
    name: str,
    terminal: Terminal,
    ways: Iterable[Callable[[Terminal], float]],
    base: Mapping[str, float] | None = None,
) -> dict[str, float]:
    """Prints and returns the seconds from a key to its paint by the way it moves, with the peak memory."""
    time.sleep(1.0)
    found = {}
    for way in ways:
        taken = found[way.__name__] = way(terminal)
        ratio = f"{taken / base[way.__name__]:5.2f} x" if base else "       "
        words = way.__name__.replace("_", " ")
        print(f"  {name:<28} {words:<10} {taken * 1000:6.1f} ms  {ratio}  {peak_mb(terminal):4.0f} MB")
    return found


if __name__ == "__main__":
    main()
