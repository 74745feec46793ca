"""LED indicators in place of filament lamps: the ballast that keeps the flash rate, or a flasher instead."""

import math
from dataclasses import dataclass

from tracker.electrics.arguments import Arguments, cited, doubts, shown
from tracker.electrics.fuse import NEVER_UPRATE
from tracker.records.electrics import BallastValue, Practice, Sum, Tables

HEAT = "A ballast burns skin and melts plastic: on metal, in the air, away from fuel, loom and fairing."
ROAD_LEGAL = "An LED in a lamp holder made for a filament may not be road legal: see local law."


@dataclass(frozen=True, slots=True, kw_only=True)
class BallastSum(Sum):
    """One ballast for each lamp, in parallel with it, and what the whole set draws at `lit_v`.

    `part_rating_w` is None where no housed resistor sold is enough, `fuse_fits` where no fuse was given.
    """

    ballast_ohm: float
    lit_power_w: float
    part_ohm: float
    part_lit_power_w: float
    part_rating_w: float | None
    part_worth_w: float | None
    ballasts: int
    diodes: int
    side_current_a: float
    hazard_current_a: float
    side_current_without_ballast_a: float
    fuse_a: float | None
    fuse_fits: bool | None


def ballast_ohm(lamp_w: float, led_w: float, rated_v: float = 12.0) -> float:
    """The resistor in parallel with an LED that makes up the watts of the filament lamp it replaces.

    Formula: R = V^2 / (P_lamp - P_led).
    Range: led under lamp; volts over 0.
    Example:
        >>> round(ballast_ohm(21, 2), 2)
        7.58

    Source: [1] Ohm's law.
    """
    return rated_v**2 / (lamp_w - led_w)


def worth(ambient_c: float, derate: Practice) -> float:
    """The part of its rating that a housed resistor has left in air of a temperature.

    Formula: 1 to 25 °C, then in a straight line to 0 at 200 °C.
    Range: any temperature; on a metal plate as its maker asks.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> worth(60, electric_tables().practice("ballast-derate"))
        0.8

    Source: [1] two resistor makers' sheets for a 50 W housed part.
    """
    return min(1.0, max(0.0, (derate.high - ambient_c) / (derate.high - derate.low)))


def part_ohm(wanted_ohm: float, values: tuple[BallastValue, ...]) -> float:
    """The value sold that is next below, so that the flasher sees at least the old load.

    Formula: largest E24 value x 10^n not above R.
    Range: over 0 ohm.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> part_ohm(7.58, electric_tables().ballasts), part_ohm(42, electric_tables().ballasts)
        (7.5, 39.0)

    Source: [1] IEC 60063 series E24, from memory.
    """
    decade = 10.0 ** math.floor(math.log10(wanted_ohm) + 1e-12)
    figures = [row.value for row in values if row.what == "ohm"]
    below = [value for value in figures if value * decade <= wanted_ohm * (1 + 1e-9)]
    return round(max(below) * decade, 6) if below else round(max(figures) * decade / 10, 6)


def ballast(
    *,
    led_w: float,
    tables: Tables,
    lamp_w: float = 21,
    rated_v: float = 12,
    lamps_per_side: int = 2,
    warning_lamps: int = 2,
    ambient_c: float = 25,
    lit_v: float | None = None,
    fuse_a: float | None = None,
    fuse_other_a: float = 0,
) -> BallastSum:
    """An LED swap with ballasts: value, watts while lit, the part to pick, diodes, and the fuse checked.

    `warning_lamps` is 1 where one turn warning lamp serves both sides; `fuse_other_a` its fuse's other load.

    Formula: R = V^2 / (P_lamp - P_led); watts lit V14.4^2 / R; part rated >= 1.5 x watts / worth at ambient;
        fuse >= current of all lamps lit (hazard), and >= 1.25 x (that / sqrt 2, lit half the time, + other).
    Range: lamp over LED; 0.1 to 200 W; 6 to 24 V; 1 to 4 lamps a side; ambient -40 to 190 °C; lit 6 to 32 V.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> answer = ballast(led_w=2, warning_lamps=1, tables=electric_tables())
        >>> round(answer.ballast_ohm, 2), round(answer.lit_power_w, 1), answer.part_rating_w, answer.diodes
        (7.58, 27.4, 50.0, 2)

    Source: [1] Ohm's law. [2] two resistor makers' sheets (derating). [3] common practice: 1.5 to 2 times the
        watts, 14.4 V lit. [4] IEC 60063 E24 values from memory.
    """
    lit = tables.practice("ballast-lit").high * rated_v / 12 if lit_v is None else lit_v
    arguments = Arguments()
    arguments.number("lamp_w", lamp_w, 0.5, 200, "W")
    arguments.number("led_w", led_w, 0.1, 200, "W")
    if not arguments.problems and led_w >= lamp_w:
        words = f"“led_w” is {shown(led_w)} W; it must be less than the lamp's {shown(lamp_w)} W."
        arguments.wrong(
            "led_w", shown(led_w), words, "An LED that draws as much as the lamp needs no ballast."
        )
    arguments.number("rated_v", rated_v, 6, 24, "V")
    arguments.number("lit_v", lit, 6, 32, "V")
    arguments.whole("lamps_per_side", lamps_per_side, 1, 4)
    arguments.whole("warning_lamps", warning_lamps, 1, 2)
    arguments.number("ambient_c", ambient_c, -40, 190, "°C")
    arguments.number("fuse_other_a", fuse_other_a, 0, 100, "A")
    if fuse_a is not None:
        arguments.number("fuse_a", fuse_a, 0, 100, "A", over=True)
    arguments.settle()
    margin, derate = tables.practice("ballast-margin"), tables.practice("ballast-derate")
    need, left = ballast_ohm(lamp_w, led_w, rated_v), worth(ambient_c, derate)
    part = part_ohm(need, tables.ballasts)
    lit_w, part_lit_w = lit**2 / need, lit**2 / part
    ratings = sorted(row.value for row in tables.ballasts if row.what == "watt")
    rating = next((watt for watt in ratings if watt * left >= margin.low * part_lit_w), None)
    each_a = lit / part + led_w / rated_v
    side, hazard = lamps_per_side * each_a, 2 * lamps_per_side * each_a
    fuse_margin = tables.practice("fuse-margin")
    heating = hazard / math.sqrt(2) + fuse_other_a
    enough = max(hazard + fuse_other_a, fuse_margin.low * heating)
    fits = None if fuse_a is None else fuse_a >= enough
    bare = lamps_per_side * led_w / rated_v
    ohm_row = next(row for row in tables.ballasts if row.what == "ohm")
    return BallastSum(
        ballast_ohm=need,
        lit_power_w=lit_w,
        part_ohm=part,
        part_lit_power_w=part_lit_w,
        part_rating_w=rating,
        part_worth_w=None if rating is None else rating * left,
        ballasts=2 * lamps_per_side,
        diodes=2 if warning_lamps == 1 else 0,
        side_current_a=side,
        hazard_current_a=hazard,
        side_current_without_ballast_a=bare,
        fuse_a=fuse_a,
        fuse_fits=fits,
        why=(
            f"{shown(lamp_w)} W less {shown(led_w)} W at {shown(rated_v)} V: {need:.2f} ohm beside each LED.",
            f"At {lit:.1f} V it turns {lit_w:.1f} W into heat while lit.",
            f"Next value below as sold: {shown(part)} ohm, {part_lit_w:.1f} W while lit.",
            *_part_words(rating, left, part_lit_w, ambient_c, margin),
            f"One for each lamp, {2 * lamps_per_side} in all: in parallel with the LED, never in series.",
            *_warning_words(warning_lamps),
            f"A side draws {side:.2g} A lit, all four corners {hazard:.2g} A.",
            *_fuse_words(fits, fuse_a, hazard + fuse_other_a, enough),
            f"Or no ballast: a fixed-rate flasher flashes rightly at any load; a side draws {bare:.2g} A.",
            *doubts(("Values as sold", ohm_row)),
        ),
        source=cited("R = V^2 / (P_lamp - P_led)", derate, margin, tables.practice("ballast-lit"), ohm_row),
        cautions=(HEAT, ROAD_LEGAL, NEVER_UPRATE),
    )


def _part_words(
    rating_w: float | None, left: float, lit_w: float, ambient_c: float, margin: Practice
) -> tuple[str, ...]:
    need = f"{shown(margin.low)} to {shown(margin.high)} times its watts"
    if rating_w is None:
        return (
            f"No housed resistor is worth {need} in air of {shown(ambient_c)} °C: fit a fixed-rate flasher.",
        )
    words = f"Pick {shown(rating_w)} W, {need} ({rating_w / lit_w:.1f} times), in a housing on bare metal."
    if left < 1:
        return (words, f"In air of {shown(ambient_c)} °C it is worth {100 * left:.0f} % of that.")
    return (words,)


def _warning_words(warning_lamps: int) -> tuple[str, ...]:
    if warning_lamps == 2:
        return ("Each side has its own turn warning lamp: no diodes.",)
    return (
        "One turn warning lamp between the sides feeds the other side, and LEDs light on that.",
        "Two diodes, one from each side to the lamp, and the lamp's other end to earth.",
    )


def _fuse_words(
    fits: bool | None, fuse_a: float | None, current_a: float, enough_a: float
) -> tuple[str, ...]:
    if fuse_a is None:
        return ()
    verdict = "is enough" if fits else "is too small, and must not be made bigger than its wire carries"
    return (
        f"With all lit {current_a:.2g} A pass the fuse half of the time: {enough_a:.2g} A or more.",
        f"A fuse of {shown(fuse_a)} A {verdict}.",
    )
