"""What a circuit feeds, as a person gives it: amps, ohms, watts, or a lamp."""

from tracker.electrics.arguments import Arguments, shown
from tracker.records.electrics import Load, LoadKind

MOST_A, MOST_W = 1000.0, 20_000.0


def check_load(
    arguments: Arguments,
    *,
    current_a: float | None,
    resistance_ohm: float | None,
    power_w: float | None,
    lamp_w: float | None,
    rated_v: float,
) -> Load:
    """The load that was given, once; what is wrong with it is noted, and a stand-in goes on to `settle`.

    Formula: none.
    Range: current 0 to 1000 A; 0 to 100 000 ohm; 0 to 20 000 W, each over 0; a lamp's rated volts 1 to 60 V.
    Example:
        >>> load = {"current_a": None, "resistance_ohm": None, "power_w": None}
        >>> check_load(Arguments(), **load, lamp_w=21, rated_v=13.5)
        Load(kind='filament', value=21, rated_v=13.5)

    Source: none: a check of arguments.
    """
    names = ("current_a", "resistance_ohm", "power_w", "lamp_w")
    kinds: tuple[LoadKind, ...] = ("current", "resistance", "power", "filament")
    most = (MOST_A, 100_000.0, MOST_W, MOST_W)
    units = ("A", "ohm", "W", "W")
    values = (current_a, resistance_ohm, power_w, lamp_w)
    arguments.one_of(names, values)
    load = Load("current", 1.0)
    for name, kind, high, unit, value in zip(names, kinds, most, units, values, strict=True):
        if value is not None:
            arguments.number(name, value, 0, high, unit, over=True)
            load = Load(kind, value, rated_v)
    if lamp_w is not None:
        arguments.number("rated_v", rated_v, 1, 60, "V")
    return load


def load_of(load: Load) -> str:
    """The load in words, to stand within a sentence.

    Formula: none.
    Range: any load.
    Example:
        >>> load_of(Load("filament", 21, 13.5))
        'a lamp of 21 W at 13.5 V'

    Source: none: a way of writing.
    """
    figure = shown(load.value)
    match load.kind:
        case "current":
            return f"a steady load of {figure} A"
        case "resistance":
            return f"a load of {figure} ohm"
        case "power":
            return f"a steady load of {figure} W"
        case "filament":
            return f"a lamp of {figure} W at {shown(load.rated_v)} V"
