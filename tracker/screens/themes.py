"""Two quiet themes of our own, and which one suits a terminal."""

from collections.abc import Mapping

from textual.theme import Theme

DARK = Theme(
    name="loomcard-dark",
    primary="#c8ccd0",
    secondary="#9aa3ab",
    accent="#e0a458",
    warning="#e0a458",
    error="#e58b7b",
    success="#c8ccd0",
    foreground="#d8dbde",
    background="#15181b",
    surface="#15181b",
    panel="#22272b",
    dark=True,
)
LIGHT = Theme(
    name="loomcard-light",
    primary="#2b3136",
    secondary="#59626a",
    accent="#8a4b00",
    warning="#8a4b00",
    error="#9c1f10",
    success="#2b3136",
    foreground="#1b1f22",
    background="#f6f5f2",
    surface="#f6f5f2",
    panel="#e6e4df",
    dark=False,
)
OWN = (DARK, LIGHT)

PLAIN = "ansi-dark"
"""The terminal's own colours, for sixteen of them."""


def theme_for(wanted: str, known: Mapping[str, Theme], colours: str | None, env: Mapping[str, str]) -> str:
    """The theme to begin with: the person's where it is one, else what the terminal can show.

    `colours` is the terminal's colour system (None, standard, 256, truecolor, windows).

    >>> theme_for("", {}, "truecolor", {}), theme_for("", {}, "standard", {})
    ('loomcard-dark', 'ansi-dark')
    """
    if env.get("NO_COLOR"):  # in greys: the terminal's own colours would be black on black without colour
        grey = LIGHT.name if wanted.endswith("light") else DARK.name
        return grey if wanted.startswith("ansi") or wanted not in known else wanted
    if wanted in known:
        return wanted
    if colours in ("standard", "windows"):
        return PLAIN
    return DARK.name
