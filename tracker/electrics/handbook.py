"""The handbook of formulas, made from docstrings: `python -m tracker.electrics.handbook > docs/formulas.md`.

Every function of this room whose docstring has a formula, a range, a worked example and a source is in it,
chapter by chapter; a sum that has a name is shown with the command that asks for it.
"""

import ast
import importlib
import inspect
import re
import sys
from collections.abc import Callable, Iterator
from typing import Any

from tracker.electrics.catalogue import WIRE_SUMS, NamedSum
from tracker.electrics.catalogue_arguments import GIVEN_BY_THE_HOUSE
from tracker.electrics.catalogue_sums import ALSO, SUMS, find_sum
from tracker.electrics.charge_catalogue import CHARGE_SUMS

CHAPTERS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Wire", ("conductor", "drop", "sizing", "ampacity", "fuse", "colour")),
    ("Bundles, sleeves, tape", ("bundle", "sleeve", "tape")),
    ("Joints and terminals", ("splice", "splice_place", "terminal", "crimp")),
    ("Lamps and flashers", ("lamp", "ballast", "flasher")),
    ("The network of a loom", ("network",)),
    ("Battery", ("battery", "battery_acid", "battery_load", "battery_use")),
    ("Alternator and rectifier", ("alternator", "rectifier", "winding", "charge_balance")),
    ("Readings judged", ("judge", "charging", "trend")),
    ("Frame number", ("vin",)),
)
"""The chapters and the modules that each is made from."""

SECTIONS = ("Formula", "Range", "Example", "Source")
_CUT = re.compile(rf"^({'|'.join(SECTIONS)}):[ \n]?", re.MULTILINE)

HEAD = """# Formulas

Made from the docstrings by `python -m tracker.electrics.handbook > docs/formulas.md`; a test keeps it true
and another runs every example.

Units stand in the names: `_mm`, `_a`, `_v`, `_ohm`, `_w`, `_c` (°C), `_sg` (gravity). Published figures are
in `seeds/tables/*.csv`, each row with its source: “common practice” is the trade's habit without one, “from
memory” was not checked, “derived” is arithmetic on the rest. The maker's manual, local law and licensed
practice come first.
"""


def section(function: Callable[..., Any], name: str) -> str:
    """One section of a function's docstring on one line; empty where it has none.

    Formula: the text between its heading and the next.
    Range: “Formula”, “Range”, “Example”, “Source”.
    Example:
        >>> from tracker.electrics.tape import tape
        >>> section(tape, "Source")
        "[1] geometry: the tape's area is the loom's surface times the layers."

    Source: none: a way of reading.
    """
    return " ".join(sections(function).get(name, "").split())


def sections(function: Callable[..., Any]) -> dict[str, str]:
    """A docstring by its headings; what stands before the first is under “Words”.

    Formula: none.
    Range: any function.
    Example:
        >>> from tracker.electrics.tape import tape
        >>> list(sections(tape))
        ['Words', 'Formula', 'Range', 'Example', 'Source']

    Source: none: a way of reading.
    """
    parts = _CUT.split(inspect.getdoc(function) or "")
    return {"Words": parts[0].strip()} | dict(zip(parts[1::2], parts[2::2], strict=True))


def worked_example(function: Callable[..., Any]) -> dict[str, Any]:
    """The arguments of the first call of a function in its own example, without the published tables.

    Formula: none.
    Range: a function whose example calls it with plain values.
    Example:
        >>> from tracker.electrics.tape import tape
        >>> worked_example(tape)
        {'bundle_mm': 10, 'covered_mm': 1000, 'tape_width_mm': 19, 'lap_percent': 50}

    Source: none: a way of reading.
    """
    typed = [line.strip() for line in sections(function)["Example"].splitlines()]
    code = "\n".join(line[4:] for line in typed if line.startswith((">>> ", "... ")))
    for node in ast.walk(ast.parse(code)):
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == function.__name__:
            return {
                keyword.arg: ast.literal_eval(keyword.value)
                for keyword in node.keywords
                if keyword.arg is not None and keyword.arg not in GIVEN_BY_THE_HOUSE
            }
    return {}


def command_line(named: NamedSum) -> str:
    """The command that asks a sum for its worked example.

    Formula: none.
    Range: any named sum.
    Example:
        >>> command_line(SUMS[7])
        "loomcard sums crimp 'wire=AWG 18' pulled-n=95"

    Source: none: a way of writing.
    """
    words = []
    for name, value in worked_example(named.function).items():
        for one in value if isinstance(value, list | tuple) else [value]:
            said = ("no", "yes")[one] if isinstance(one, bool) else str(one)
            plain = f"{name.replace('_', '-')}={said}"
            words.append(plain if re.fullmatch(r"[\w.=+-]+", plain) else f"'{plain}'")
    return " ".join(["loomcard sums", named.name, *words])


def functions(module: str) -> Iterator[Callable[..., Any]]:
    """The public functions of a module of this room that have a formula and the four sections, as written.

    Formula: none.
    Range: names of modules.
    Example:
        >>> [function.__name__ for function in functions("tape")]
        ['tape']

    Source: none: a list.
    """
    found = importlib.import_module(f"tracker.electrics.{module}")
    for name, thing in vars(found).items():
        own = inspect.isfunction(thing) and thing.__module__ == found.__name__ and not name.startswith("_")
        if own and set(SECTIONS) <= set(sections(thing)) and not _only_words(thing):
            yield thing


def _only_words(function: Callable[..., Any]) -> bool:
    """Whether a function has no formula, or only reads and writes words."""
    return section(function, "Formula") == "none." or section(function, "Source").startswith("none: a way of")


def handbook() -> str:
    """The whole handbook as Markdown.

    Formula: none.
    Range: none.
    Example:
        >>> handbook().splitlines()[0]
        '# Formulas'

    Source: none: a way of writing.
    """
    lines = [HEAD, "| sum | what it answers |", "|---|---|"]
    lines += [f"| [{named.name}](#{named.name}) | {named.words} |" for named in (*SUMS, *ALSO)]
    for title, modules in CHAPTERS:
        lines += ["", f"## {title}"]
        for module in modules:
            for function in functions(module):
                lines += _entry(function, _asked_by_name(function))
    return "\n".join(lines) + "\n"


def _asked_by_name(function: Callable[..., Any]) -> NamedSum | None:
    """The named sum that a function is, or is reckoned by."""
    for named in (*WIRE_SUMS, *CHARGE_SUMS, *ALSO):
        if named.function is function:
            return find_sum(named.name)
    return None


def _entry(function: Callable[..., Any], named: NamedSum | None) -> list[str]:
    shown = function if named is None else named.function
    parts = sections(shown)
    lines = ["", f"### {named.name if named else f'`{shown.__name__}`'}", "", *_flat(parts["Words"])]
    if named:
        lines += ["", f"`{command_line(named)}`"]
    lines += ["", f"- **Formula**: {section(shown, 'Formula')}", f"- **Range**: {section(shown, 'Range')}"]
    lines += [f"- **Source**: {section(shown, 'Source')}", ""]
    return [*lines, "```pycon", *inspect.cleandoc("\n" + parts["Example"]).splitlines(), "```"]


def _flat(text: str) -> list[str]:
    """Paragraphs, each on one line, a blank one between."""
    paragraphs = [" ".join(part.split()) for part in text.split("\n\n")]
    return "\n\n".join(paragraphs).splitlines()


if __name__ == "__main__":
    sys.stdout.write(handbook())
