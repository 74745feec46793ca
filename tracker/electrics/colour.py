"""Wire colours: kept as words, written in the letters of a code set."""

from collections.abc import Sequence

from tracker.electrics.arguments import Arguments
from tracker.records.electrics import Tables

SAME_COLOUR = {"purple": "violet", "slate": "grey", "gray": "grey", "green-yellow": "green-and-yellow"}


def colour_letters(colours: Sequence[str], tables: Tables, code: str = "IEC 60757") -> str:
    """One wire's colours in the letters of a code set, main colour first.

    IEC 60757 joins them in the order of its table and so cannot say which is the tracer; the others write
    main/tracer.

    Formula: letters by table; IEC joined in table order, others by a stroke in the order given.
    Range: 1 to 3 colours; code sets IEC 60757, Japanese, British, German.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> colour_letters(["blue", "red"], electric_tables())
        'RDBU'
        >>> colour_letters(["green", "red"], electric_tables(), "Japanese")
        'G/R'

    Source: [1] IEC 60757 as in GOST 28763-90. [2] the other sets from memory.
    """
    arguments = Arguments()
    rows = [row for row in tables.colours if row.code == code]
    arguments.choice("code", code, dict.fromkeys(row.code for row in tables.colours))
    arguments.whole("colours", len(colours), 1, 3)
    letters = {row.colour: row.letters for row in rows}
    words = [SAME_COLOUR.get(word.strip().casefold(), word.strip().casefold()) for word in colours]
    for word in words if rows else ():
        arguments.choice("colours", word, letters)
    arguments.settle()
    if code == "IEC 60757":
        order = list(letters)
        return "".join(letters[word] for word in sorted(words, key=order.index))
    return "/".join(letters[word] for word in words)
