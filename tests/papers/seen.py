"""Whether a person's text stands in a paper's text: whole, or broken over lines of one column."""

import re

from tracker.records.width import width_of, wrap


def is_seen(wanted: str, text: str) -> bool:
    """`wanted` on one line, or as some width breaks it on lines that follow each other."""
    if wanted in text:
        return True
    lines = text.split("\n")
    tried = set()
    for width in range(2, max(map(len, lines)) + 1):
        parts = tuple(part.strip(" ") for part in wrap(wanted, width))
        if parts in tried or len(parts) == 1:
            continue
        tried.add(parts)
        for at, line in enumerate(lines):
            if (
                parts[0] in line
                and all(
                    part in other for part, other in zip(parts, lines[at : at + len(parts)], strict=False)
                )
                and at + len(parts) <= len(lines)
            ):
                return True
    return False


def headings(text: str, width: int = 80) -> list[str]:
    """The titles that a reader takes for the paper's own: at the margin, with a rule up to the edge."""
    found = [line for line in text.split("\n") if re.fullmatch(r"\S+( \S+)* ─+", line)]
    return [line for line in found if width_of(line) == width]
