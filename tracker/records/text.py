"""Text as people type it: cleaned at the door, folded for finding, never executed anywhere."""

import unicodedata

from tracker.records.problem import Problem

LONGEST = 20_000
_BIDI_OVERRIDES = frozenset("\u202a\u202b\u202d\u202e\u202c\u2066\u2067\u2068\u2069")


def clean_text(field: str, text: str, *, lines: bool = False, longest: int = LONGEST) -> str | Problem:
    """`text` fit to be kept, or the reason why it is not.

    CR LF becomes LF and the ends are trimmed. Control characters (tab and line feed apart where
    `lines`), lone surrogates and direction overrides are refused: they reach a terminal raw and can
    hide or forge what is shown. `longest` is in characters. Without `lines`, breaks become spaces.
    """
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if not lines:
        text = " ".join(text.split("\n")).replace("\t", " ")
    text = text.strip()
    if len(text) > longest:
        return Problem(
            field, f"This is {len(text):,} characters; at most {longest:,} are kept.", given=text[:60]
        )
    for place, sign in enumerate(text, 1):
        kind = unicodedata.category(sign)
        if sign in "\n\t":
            continue
        if kind in {"Cc", "Cs"} or sign in _BIDI_OVERRIDES:
            return Problem(
                field,
                f"Character {place} is one that cannot be shown (U+{ord(sign):04X}).",
                "Take it out; it often comes along when text is pasted.",
                "".join(
                    s
                    for s in text[:60]
                    if unicodedata.category(s) not in {"Cc", "Cs"} and s not in _BIDI_OVERRIDES
                ),
            )
    return unicodedata.normalize("NFC", text)


def fold(text: str) -> str:
    """`text` as it is compared when finding: no case, no accents, letters and digits only, one space between.

    >>> fold("Zoë  O'Brien-Ðahl")
    'zoe obrien dahl'
    """
    plain = (
        unicodedata.normalize("NFKD", text.casefold()).replace("ð", "d").replace("ø", "o").replace("ł", "l")
    )
    kept = [
        sign if sign.isalnum() else ("" if sign in "'’`" else " ")
        for sign in plain
        if not unicodedata.combining(sign)
    ]
    return " ".join("".join(kept).split())


def squeeze(text: str) -> str:
    """Letters and digits only, folded: how registrations, frame numbers and phone numbers are compared.

    >>> squeeze("0155 0199-204 / lkm 412")
    '01550199204lkm412'
    """
    return fold(text).replace(" ", "")
