"""A sheet of paper's measures in millimetres, and how wide text is at most in the fonts it may be set in."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Final, Literal, TypeAlias

from tracker.loom.layout_metrics import Metrics
from tracker.records.width import width_of

Font: TypeAlias = Literal["sans", "serif"]

_ADVANCES: Final[Mapping[Font, tuple[tuple[str, float], ...]]] = {
    "sans": (
        (" !'(),./:;I[]\\`fijlrt|-", 0.42),
        ('"*JTLFZcksvxyz^_{}?', 0.64),
        ("ABCEKPRSUVXYabdeghnopqu$0123456789", 0.72),
        ("&+<=>~#DGHNOQ", 0.84),
        ("MWmw%@", 1.0),
    ),
    "serif": (
        (" !'(),.:;I\\ijl{|}", 0.31),
        ('"*-/J[]`frt', 0.40),
        ("#$0123456789?FS_aceksz~g", 0.52),
        ("+<=>BELPY^bdhnopquvxy", 0.60),
        ("ACKTUVXZR%", 0.70),
        ("&DGHNOQw", 0.76),
        ("@MWm", 0.96),
    ),
}
"""Upper bounds in em of the advance of ASCII signs. “sans”: the sans serif fonts that are usual on screens,
from the widest of them, DejaVu Sans; “serif”: Libertinus Serif, in which papers are set.
"""
_EM: Final[Mapping[Font, Mapping[str, float]]] = {
    font: {sign: em for signs, em in advances for sign in signs} for font, advances in _ADVANCES.items()
}
_OTHER_EM: Final = (0.0, 1.0, 1.3)
"""Of other signs, by the columns they take in a terminal."""
_BOLD: Final[Mapping[Font, float]] = {"sans": 1.12, "serif": 1.2}
"""How much wider the same is in bold, a few letters together."""


def ems(text: str, font: Font) -> float:
    """The width of a text in em, at most."""
    known = _EM[font]
    return sum(known[sign] if sign in known else _OTHER_EM[min(2, width_of(sign))] for sign in text)


@lru_cache(maxsize=8)
def millimetres(text_mm: float = 2.5, font: Font = "sans") -> Metrics:
    """The measures of a sheet whose text has this size (the font's, in mm)."""

    @lru_cache(maxsize=4096)
    def measure(text: str) -> float:
        return text_mm * ems(text, font)

    return Metrics(
        unit="mm",
        measure=measure,
        line=1.36 * text_mm,
        middle=0.68 * text_mm,
        inset=0.4 * text_mm,
        to_mark=0.8 * text_mm,
        to_text=1.4 * text_mm,
        to_name=1.05 * text_mm,
        nest=1.1 * text_mm,
        beside=0.55 * text_mm,
        gap=0.8 * text_mm,
        bay=10.5 * text_mm,
        room=6 * text_mm,
        bold=_BOLD[font],
    )
