"""People's text on the screen: always data, never markup. The one place that builds it."""

from rich.text import Text
from textual.content import Content


def shown(text: str, style: str = "") -> Content:
    """Text for a widget; brackets and backslashes stay what they are."""
    return Content.styled(text, style) if style else Content(text)


def cell(text: str, style: str = "") -> Text:
    """Text for a table's cell or a tree's label, which want rich text."""
    return Text(text, style=style)
