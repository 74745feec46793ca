"""People's text on the screen: always data, never markup. The one place that builds it."""

from collections.abc import Sequence

from rich.cells import cell_len, set_cell_size
from rich.text import Text
from textual.content import Content


def shown(text: str, style: str = "") -> Content:
    """Text for a widget; brackets and backslashes stay what they are."""
    return Content.styled(text, style) if style else Content(text)


def cell(text: str, style: str = "") -> Text:
    """Text for a table's cell or a tree's label, which want rich text."""
    return Text(text, style=style)


def fitted(text: str, width: int) -> str:
    """One line of exactly `width` columns, wide signs counted as two, with a mark where it was cut."""
    line = " ".join(text.split())
    if cell_len(line) > width:
        return set_cell_size(line, max(0, width - 1)).rstrip().ljust(0) + "…" if width else ""
    return set_cell_size(line, width)


def in_columns(text: str, width: int) -> str:
    """One line of exactly `width` columns whose blanks stand as they are: a row made of columns.

    >>> in_columns("26-0001   Oona", 12), in_columns("a\\tb", 4)
    ('26-0001   O…', 'a b ')
    """
    line = "".join(" " if sign.isspace() else sign for sign in text)
    return set_cell_size(clipped(line, width), width)


def clipped(text: str, width: int) -> str:
    """At most `width` columns, the blanks in it as they are, with a mark where it was cut."""
    return text if cell_len(text) <= width else set_cell_size(text, max(0, width - 1)) + "…"


def padded(text: str, width: int) -> str:
    """One line of exactly `width` columns, its blanks as they are: a bar across the screen."""
    return set_cell_size(text.replace("\n", " "), max(0, width))


def next_words(words: str, stops: Sequence[str], width: int) -> Content:
    """The one thing that has colour: what is next, and below it what stops it."""
    lines = [Content.styled(f"next: {words}   [Space]", "bold $accent")]
    lines += [Content(f"  ! {stop}") for stop in stops[:2]]
    del width
    return Content("\n").join(lines)
