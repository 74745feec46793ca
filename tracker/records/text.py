"""Text as people type it: cleaned at the door, folded for finding, never executed anywhere."""

import unicodedata

from tracker.records.problem import Problem

LONGEST = 20_000
_TURNING = frozenset("\u202a\u202b\u202d\u202e\u202c\u2066\u2067\u2068\u2069")
_ENDS = "\t\n" + "".join(s for s in map(chr, range(0x3001)) if unicodedata.category(s) == "Zs")
_UNSEEN = "\u00ad\u200b\u200c\u200d\u2060\ufeff"
_PLAIN_LETTERS = str.maketrans(
    {"ð": "d", "đ": "d", "ħ": "h", "ı": "i", "ł": "l", "ø": "o", "ŧ": "t", "æ": "ae", "œ": "oe", "þ": "th"}
)


def clean_text(field: str, text: str, *, lines: bool = False, longest: int = LONGEST) -> str | Problem:
    """`text` fit to be kept, or the reason why it is not.

    Every kind of line break becomes LF; blanks and signs of no width are trimmed from the ends. Control
    characters (tab and line feed apart where `lines`), lone surrogates, direction overrides and what
    Unicode calls noncharacters are refused: they reach a terminal raw, can hide or forge what is shown,
    or may stand in no paper. `longest` is in characters. Without `lines`, breaks become spaces.
    """
    for line_break in ("\r\n", "\r", "\u2028", "\u2029"):
        text = text.replace(line_break, "\n")
    if not lines:
        text = text.replace("\n", " ").replace("\t", " ")
    text = unicodedata.normalize("NFC", text).strip(_ENDS + _UNSEEN)
    if len(text) > longest:
        return Problem(
            field, f"This is {len(text):,} characters; at most {longest:,} are kept.", given=_shown(text)
        )
    for place, sign in enumerate(text, 1):
        if not _can_be_shown(sign):
            return Problem(
                field,
                f"Character {place} is one that cannot be shown (U+{ord(sign):04X}).",
                "Take it out; it often comes along when text is pasted.",
                _shown(text),
            )
    return text


def fold(text: str) -> str:
    """`text` as it is compared when finding: no case, no accents, letters and digits only, one space between.

    >>> fold("Zoë  O'Brien-Ðahl")
    'zoe obrien dahl'
    """
    plain = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", text.casefold()).casefold())
    kept = [
        sign if sign.isalnum() else ("" if sign in "'’`" else " ")
        for sign in plain.translate(_PLAIN_LETTERS)
        if not unicodedata.combining(sign)
    ]
    return " ".join("".join(kept).split())


def squeeze(text: str) -> str:
    """Letters and digits only, folded: how registrations, frame numbers and phone numbers are compared.

    >>> squeeze("0155 0199-204 / lkm 412")
    '01550199204lkm412'
    """
    return fold(text).replace(" ", "")


def _can_be_shown(sign: str) -> bool:
    if sign in "\n\t":
        return True
    code = ord(sign)
    nothing = code & 0xFFFE == 0xFFFE or 0xFDD0 <= code <= 0xFDEF
    return not nothing and sign not in _TURNING and unicodedata.category(sign) not in {"Cc", "Cs"}


def _shown(text: str) -> str:
    return "".join(sign for sign in text[:60] if _can_be_shown(sign))
