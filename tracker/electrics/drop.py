"""Volts lost on the way: of a wire, and of a whole circuit from its source through its load and back."""

import math
from dataclasses import dataclass

from tracker.electrics.arguments import Arguments, cited, sentence, shown
from tracker.electrics.conductor import solid_words, temperature_factor, wire_ohm
from tracker.electrics.lamp import FILAMENT_SOURCE, filament_current_a
from tracker.electrics.load import check_load, load_of
from tracker.records.electrics import Conductor, Load, Sum, Tables
from tracker.records.network import FILAMENT_COLD_RATIO

RETURNS = ("frame", "wire")

LONGEST_MM = 200_000
HIGHEST_V = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DropSum(Sum):
    """A circuit with its load on: amps, ohms and volts of each part, and what the load is left with.

    `surge_a` is a cold lamp's first moment, None for other loads. `within` is None where no limit was given.
    """

    wire: str
    current_a: float
    wire_ohm: float
    joints_ohm: float
    return_ohm: float
    wire_v: float
    joints_v: float
    return_v: float
    drop_v: float
    drop_percent: float
    load_v: float
    load_w: float
    surge_a: float | None
    limit_v: float | None
    within: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """How current goes out and back: `length_mm` one way, return by frame or by a wire of the same size.

    A return wire is as long as the way out unless `return_length_mm` says; `joint_ohm` is each joint's.
    """

    length_mm: float
    supply_v: float
    returns: str = "frame"
    return_length_mm: float | None = None
    frame_ohm: float = 0.0
    joints: int = 0
    joint_ohm: float = 0.0

    def ohms(self, conductor: Conductor, temperature_c: float) -> tuple[float, float, float]:
        """Ohms of the wire out, of the joints and of the return."""
        back_mm = self.length_mm if self.return_length_mm is None else self.return_length_mm
        back = wire_ohm(conductor, back_mm, temperature_c) if self.returns == "wire" else self.frame_ohm
        return wire_ohm(conductor, self.length_mm, temperature_c), self.joints * self.joint_ohm, back


def operating_current_a(load: Load, supply_v: float, series_ohm: float) -> float | None:
    """The current that settles in a circuit, in A; None where the load cannot have its watts through it.

    Formula: current I; resistance V / (R + r); power the lesser root of r I^2 - V I + P = 0;
        lamp the I at which V - I r is left for it and it draws Ir (U / Ur)^0.55.
    Range: supply 0 to 60 V; series 0 ohm or more.
    Example:
        >>> round(operating_current_a(Load("resistance", 8.678571), 12.8, 0.0741), 6)
        1.462411
        >>> operating_current_a(Load("power", 500), 12.0, 0.1) is None
        True

    Source: [1] Ohm's law. [2] the lamp's law as in `filament_current_a`.
    """
    match load.kind:
        case "current":
            return load.value if load.value * series_ohm < supply_v else None
        case "resistance":
            return supply_v / (load.value + series_ohm)
        case "power":
            root = supply_v**2 - 4 * series_ohm * load.value
            return None if root < 0 else 2 * load.value / (supply_v + math.sqrt(root))
        case "filament":
            low, high = 0.0, supply_v
            for _ in range(80):
                middle = (low + high) / 2
                drawn = filament_current_a(load.value, load.rated_v, middle)
                low, high = (low, middle) if middle + drawn * series_ohm > supply_v else (middle, high)
            return filament_current_a(load.value, load.rated_v, low)


def longest_mm(conductor: Conductor, current_a: float, limit_v: float, temperature_c: float = 20) -> float:
    """The longest run of a wire, out and back together, that keeps within a drop; in mm.

    Formula: L = V / (I x r(T)); so L2 = L1 x 254.5 / (234.5 + T) against a length found at 20 °C.
    Range: current over 0 A; drop over 0 V; -40 to 200 °C.
    Example:
        >>> from tracker.electrics.conductor import awg_conductor
        >>> round(longest_mm(awg_conductor(10), 20, 1.0) / 1000, 2)
        15.26

    Source: [1] AC 43.13-1B p. 11-22. [2] IEC 60028.
    """
    return limit_v / (current_a * conductor.ohm_per_km * temperature_factor(temperature_c)) * 1e6


def drop(
    *,
    wire: str,
    length_mm: float,
    tables: Tables,
    current_a: float | None = None,
    resistance_ohm: float | None = None,
    power_w: float | None = None,
    lamp_w: float | None = None,
    rated_v: float = 12.0,
    supply_v: float = 12.8,
    returns: str = "frame",
    return_length_mm: float | None = None,
    frame_ohm: float = 0.0,
    joints: int = 0,
    joint_ohm: float | None = None,
    temperature_c: float = 20,
    limit_v: float | None = None,
) -> DropSum:
    """The drop of a whole circuit: wire out, joints, return by the frame or by a wire of the same size.

    The load is given once: `current_a`, `resistance_ohm`, `power_w`, or a lamp of `lamp_w` at `rated_v`.
    `length_mm` is one way; a return wire is as long unless `return_length_mm` says. `joint_ohm` is each
    joint's.

    Formula: drop = I x (r(T) L + n x joint + return), I as the load settles at what is left.
    Range: length over 0 to 200 000 mm; supply 1 to 60 V; wire -40 to 200 °C; 0 to 50 joints of 0 to 10 ohm.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> answer = drop(wire="AWG 18", length_mm=3000, lamp_w=21, rated_v=13.5, tables=electric_tables())
        >>> round(answer.drop_v, 3), round(answer.load_v, 2)
        (0.095, 12.71)

    Source: [1] Ohm's law. [2] IEC 60028. [3] the wire's own table.
    """
    arguments = Arguments()
    conductor = arguments.wire("wire", wire, tables.conductors)
    load = check_load(
        arguments,
        current_a=current_a,
        resistance_ohm=resistance_ohm,
        power_w=power_w,
        lamp_w=lamp_w,
        rated_v=rated_v,
    )
    way = Way(
        length_mm=length_mm,
        supply_v=supply_v,
        returns=returns,
        return_length_mm=return_length_mm,
        frame_ohm=frame_ohm,
        joints=joints,
        joint_ohm=tables.practice("joint-ohm").high if joint_ohm is None else joint_ohm,
    )
    check_way(arguments, way)
    arguments.number("temperature_c", temperature_c, -40, 200, "°C")
    if limit_v is not None:
        arguments.number("limit_v", limit_v, 0, HIGHEST_V, "V", over=True)
    arguments.settle()
    ohms = way.ohms(conductor, temperature_c)
    current = operating_current_a(load, supply_v, sum(ohms))
    if current is None:
        arguments.wrong(
            "length_mm",
            shown(length_mm),
            f"{sentence(load_of(load))} cannot be had at {shown(supply_v)} V through {sum(ohms):.3g} ohm.",
            "A thicker or shorter wire, or a smaller load.",
        )
        arguments.settle()
    assert current is not None
    wire_v, joints_v, return_v = (current * ohm for ohm in ohms)
    total = wire_v + joints_v + return_v
    surge = None
    if load.kind == "filament":
        surge = supply_v / (load.rated_v**2 / load.value * FILAMENT_COLD_RATIO + sum(ohms))
    within = None if limit_v is None else total <= limit_v
    why = [
        f"{sentence(load_of(load))} at the end of {conductor.name}: {current:.3g} A.",
        f"Wire out {wire_v:.3f} V, joints {joints_v:.3f} V, return {return_v:.3f} V.",
        f"Together {total:.3f} V, {100 * total / supply_v:.1f} % of {shown(supply_v)} V.",
        f"The load is left {supply_v - total:.2f} V.",
    ]
    if temperature_c != 20:
        factor = temperature_factor(temperature_c)
        why.append(f"Copper at {shown(temperature_c)} °C has {factor:.3f} times its ohms at 20 °C.")
    if joints:
        why.append(f"{joints} joint{'s' if joints > 1 else ''} of {shown(way.joint_ohm)} ohm.")
    if surge is not None:
        why.append(f"Cold, the lamp takes about {surge:.2g} A for a moment.")
    if limit_v is not None:
        why.append(f"That is {'within' if within else 'over'} the limit of {shown(limit_v)} V.")
    return DropSum(
        wire=conductor.name,
        current_a=current,
        wire_ohm=ohms[0],
        joints_ohm=ohms[1],
        return_ohm=ohms[2],
        wire_v=wire_v,
        joints_v=joints_v,
        return_v=return_v,
        drop_v=total,
        drop_percent=100 * total / supply_v,
        load_v=supply_v - total,
        load_w=current * (supply_v - total),
        surge_a=surge,
        limit_v=limit_v,
        within=within,
        why=(*why, *solid_words(conductor)),
        source=(
            *cited(conductor),
            *(("copper 0.00393 per K (IEC 60028)",) if temperature_c != 20 else ()),
            *(cited(tables.practice("joint-ohm")) if joints and joint_ohm is None else ()),
            *((FILAMENT_SOURCE,) if load.kind == "filament" else ()),
        ),
    )


def check_way(arguments: Arguments, way: Way) -> None:
    """Notes what is wrong with the way out and back.

    Formula: none.
    Range: length over 0 to 200 000 mm; supply 1 to 60 V; frame 0 to 10 ohm; 0 to 50 joints of 0 to 10 ohm.
    Example:
        >>> arguments = Arguments()
        >>> check_way(arguments, Way(length_mm=-1, supply_v=12, returns="sea"))
        >>> [problem.field for problem in arguments.problems]
        ['length_mm', 'returns']

    Source: none: a check of arguments.
    """
    arguments.number("length_mm", way.length_mm, 0, LONGEST_MM, "mm", over=True)
    arguments.number("supply_v", way.supply_v, 1, HIGHEST_V, "V")
    arguments.choice("returns", way.returns, RETURNS)
    if way.return_length_mm is not None:
        arguments.number("return_length_mm", way.return_length_mm, 0, LONGEST_MM, "mm")
    arguments.number("frame_ohm", way.frame_ohm, 0, 10, "ohm")
    arguments.whole("joints", way.joints, 0, 50)
    arguments.number("joint_ohm", way.joint_ohm, 0, 10, "ohm")
