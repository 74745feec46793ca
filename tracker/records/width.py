"""How wide text stands in a terminal or a mail, and how it is broken there. Widths are in columns.

Where programs differ (joined emoji, soft hyphens) the wider count is taken: a line may come out short, never
too long.
"""

import re
import unicodedata
from collections.abc import Iterator

TAB = "    "
_WORD = re.compile(r"( *)([^ ]*)")
_JOINER, _EMOJI_STYLE, _SOFT_HYPHEN = "\u200d", "\ufe0f", "\u00ad"
_FIRST_FLAG, _LAST_FLAG = "\U0001f1e6", "\U0001f1ff"
_FIRST_TONE, _LAST_TONE = "\U0001f3fb", "\U0001f3ff"
_RIGHT_TO_LEFT = frozenset({"R", "AL", "AN"})
_LEFT_MARK = "\u200e"
_SHOWN_FORMATS = frozenset({_SOFT_HYPHEN, *map(chr, range(0x600, 0x606)), "\u06dd", "\u070f", "\u08e2"})


def width_of(text: str) -> int:
    """The columns that one line of text takes: 2 for a wide sign, 0 for a mark on another, else 1.

    >>> width_of("Zoë"), width_of("配線"), width_of("e\u0301")
    (3, 4, 1)
    """
    if text.isascii():
        return len(text)
    before = 0
    whole = 0
    for sign in text:
        own = _sign_width(sign, before)
        whole += own
        before = 0 if sign == " " else own or before
    return whole


def _sign_width(sign: str, before: int) -> int:
    if sign.isascii():
        return 1
    if sign == _EMOJI_STYLE:
        return 1 if before == 1 else 0
    if unicodedata.east_asian_width(sign) in {"W", "F"}:
        return 2
    if "\u1160" <= sign <= "\u11ff" or "\ud7b0" <= sign <= "\ud7ff":  # vowels and finals of a Hangul syllable
        return 0
    category = unicodedata.category(sign)
    if category == "Cf":
        return 1 if sign in _SHOWN_FORMATS else 0
    return 0 if category in {"Mn", "Me"} else 1


def clusters(text: str) -> Iterator[str]:
    """Text in pieces that must not be torn: a sign with its marks, a joined emoji, a flag's two letters."""
    piece = ""
    for sign in text:
        if piece and not _hangs_on(piece, sign):
            yield piece
            piece = ""
        piece += sign
    if piece:
        yield piece


def _hangs_on(piece: str, sign: str) -> bool:
    if piece[-1] == _JOINER or sign == _JOINER or _FIRST_TONE <= sign <= _LAST_TONE:
        return True
    if _FIRST_FLAG <= sign <= _LAST_FLAG:
        return len(piece) == 1 and _FIRST_FLAG <= piece <= _LAST_FLAG
    if sign.isascii():
        return False
    return _sign_width(sign, 2) == 0 or unicodedata.category(sign) == "Mc"


def wrap(text: str, width: int) -> list[str]:
    """Text in lines of at most `width` columns (2 or more): broken at blanks, and inside words only that
    are longer than a line. Line breaks stay, a tab becomes four blanks, only blanks at a break go. What goes
    on in a new line stands under its beginning, however far that is indented (up to half the width).

    >>> wrap("regulator plug burnt", 12)
    ['regulator', 'plug burnt']
    """
    if width < 2:
        raise ValueError("a line holds two columns at least, since a sign may take two")
    return [part for line in text.replace("\t", TAB).split("\n") for part in _wrapped(line, width)]


def _wrapped(line: str, width: int) -> list[str]:
    if width_of(line) <= width:
        return [line]
    indent = len(line) - len(line.lstrip(" "))
    if indent and 2 * indent <= width and width - indent >= 2:  # a wide sign must still fit beside it
        return [" " * indent + part for part in _wrapped(line[indent:], width - indent)]
    lines: list[str] = []
    now, used = "", 0
    for gap, word in _WORD.findall(line):
        wide = width_of(word)
        if used + len(gap) + wide <= width:
            now, used = now + gap + word, used + len(gap) + wide
            continue
        if now.strip(" "):
            lines.append(now)
        rest = word
        while rest and wide > width:
            piece = _fitting(rest, width)
            lines.append(piece)
            rest = rest[len(piece) :]
            wide -= width_of(piece)
        now, used = rest, wide
    return [*lines, now] if now else lines


def _fitting(word: str, width: int) -> str:
    """As much of a word's beginning as fits, at least one sign; a piece wider than the line is torn."""
    taken, used = "", 0
    for piece in clusters(word):
        wide = width_of(piece)
        if used + wide > width:
            break
        taken, used = taken + piece, used + wide
    if taken:
        return taken
    before = 0
    for sign in word:
        wide = _sign_width(sign, before)
        if taken and used + wide > width:
            break
        taken, used, before = taken + sign, used + wide, wide or before
    return taken


def left(text: str, width: int) -> str:
    """Text filled up to `width`. Where it runs from right to left, a mark keeps what follows in its place."""
    mark = _LEFT_MARK if any(unicodedata.bidirectional(sign) in _RIGHT_TO_LEFT for sign in text) else ""
    return text + mark + " " * (width - width_of(text))


def right(text: str, width: int) -> str:
    """Text pushed to the right of `width`."""
    return " " * (width - width_of(text)) + text
