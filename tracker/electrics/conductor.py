"""Copper wire: the sizes by name, the gauge formula, and resistance at a temperature."""

import math
import re
from collections.abc import Iterable, Sequence

from tracker.records.electrics import Conductor
from tracker.records.problem import Problem

COPPER_OHM_MM2_PER_KM = 17.241
"""Resistivity of annealed copper at 20 °C: 1/58 ohm mm2/m (IEC 60028)."""

COPPER_PER_K = 0.00393
"""Rise of copper's resistance per kelvin, from 20 °C (IEC 60028)."""

SMALLEST_AWG, LARGEST_AWG = 40, -3

HINT = "Written like “0.75 mm2 thin wall”, “AWG 18”, “JIS 0.85” or “AVSS 0.5”."

UNNAMED = ("thin wall", "thin wall A", "thick wall", "JIS", "IEC")
"""Where a size is looked for when only mm2 are given, best first."""

_WORDS = {
    "thin wall": (
        "iso 6722 flry-b",
        "flry-b",
        "flryb",
        "flry",
        "iso 6722",
        "iso",
        "thin wall",
        "thinwall",
        "thin",
    ),
    "thin wall A": ("iso 6722 flry-a", "flry-a", "flrya", "thin wall a"),
    "thick wall": ("iso 6722 fly", "fly", "thick wall", "thickwall", "thick"),
    "AVSSH": ("jaso d611 avssh", "avssh"),
    "AVSS": ("jaso d611 avss", "avss"),
    "AVS": ("jaso d611 avs", "avs", "jaso d611", "jaso"),
    "JIS": ("jis c 3406 av", "jis c 3406", "jis av", "jis", "av"),
    "IEC": ("iec 60228 class 5", "iec 60228", "iec class 5", "iec", "class 5"),
}
_FAMILY = {word: family for family, words in _WORDS.items() for word in words}
_AWG = re.compile(r"(?:awg|no\.?|#)\s*(\d+(?:/0)?)|(\d+(?:/0)?)\s*(?:awg|ga|gauge)")
_SIZE = re.compile(r"(\d+(?:\.\d+)?)(f?)\s*(mm2|sqmm|sq|mm)?")


def awg_diameter_mm(awg: int) -> float:
    """Diameter of the solid round wire of a gauge; 1/0 is 0, 4/0 is -3.

    Formula: d = 0.127 x 92^((36 - n) / 39) mm.
    Range: n -3 (4/0) to 40.
    Example:
        >>> round(awg_diameter_mm(14) / 25.4, 4)
        0.0641

    Source: [1] ASTM B258, the definition of the gauge.
    """
    return 0.127 * float(92 ** ((36 - awg) / 39))


def awg_area_mm2(awg: int) -> float:
    """Copper area of a gauge, solid round wire.

    Formula: A = pi d^2 / 4 mm2.
    Range: n -3 (4/0) to 40.
    Example:
        >>> round(awg_area_mm2(18), 3)
        0.823

    Source: [1] ASTM B258, the definition of the gauge.
    """
    return math.pi / 4 * awg_diameter_mm(awg) ** 2


def awg_conductor(awg: int) -> Conductor:
    """A wire of any gauge, by the formula: stranded wire sold under it differs by a few per cent.

    Formula: resistance r = 17.241 / A ohm/km at 20 °C, A in mm2 from the gauge.
    Range: n -3 (4/0) to 40.
    Example:
        >>> round(awg_conductor(12).ohm_per_km, 2)
        5.21

    Source: [1] ASTM B258. [2] IEC 60028 (58 MS/m at 20 °C).
    """
    area = awg_area_mm2(awg)
    size = str(awg) if awg > 0 else f"{1 - awg}/0"
    return Conductor(
        name=f"AWG {size}",
        family="AWG",
        size=size,
        standard="ASTM B258 solid round wire",
        area_mm2=area,
        fit_mm2=area,
        ohm_per_km=COPPER_OHM_MM2_PER_KM / area,
        status="computed",
        source="ASTM B258 diameter formula; 17.241 ohm mm2/km at 20 °C (IEC 60028)",
    )


def temperature_factor(temperature_c: float) -> float:
    """How many times its 20 °C resistance copper has at a temperature.

    Formula: 1 + 0.00393 (T - 20).
    Range: -40 to 200 °C.
    Example:
        >>> round(temperature_factor(60), 4)
        1.1572

    Source: [1] IEC 60028. [2] AC 43.13-1B p. 11-22 writes the same as (234.5 + T) / 254.5.
    """
    return 1 + COPPER_PER_K * (temperature_c - 20)


def wire_ohm(conductor: Conductor, length_mm: float, temperature_c: float = 20) -> float:
    """Resistance of a length of wire at a temperature, in ohms.

    Formula: R = r20 x (1 + 0.00393 (T - 20)) x L.
    Range: L 0 to 200 000 mm; T -40 to 200 °C.
    Example:
        >>> round(wire_ohm(awg_conductor(18), 3000), 5)
        0.06284

    Source: [1] IEC 60028. [2] the size's own table: most allowed for ISO, JIS and IEC wire, nominal for AWG.
    """
    return conductor.ohm_per_km * temperature_factor(temperature_c) * length_mm / 1e6


def conductor_diameter_mm(conductor: Conductor) -> float:
    """Diameter of the bare strands together, in mm.

    Formula: 1.155 x sqrt(4 A / pi).
    Range: stranded wire of any size; a solid wire is thinner.
    Example:
        >>> round(conductor_diameter_mm(awg_conductor(18)), 2)
        1.18

    Source: [1] common practice: 1.155 sqrt(n) strand diameters for n strands twisted together.
    """
    return 1.155 * math.sqrt(4 * conductor.area_mm2 / math.pi)


def find_conductor(text: str, conductors: Sequence[Conductor], field: str = "wire") -> Conductor | Problem:
    """The wire that a size written as the trade writes it means, or what is wrong with it.

    A bare figure or mm2 is ISO thin wall where such a size exists. An outside diameter (“3 mm”) is refused.

    Formula: looked up in the tables; any gauge from AWG 40 to 4/0 by its formula.
    Range: the sizes of ISO 6722, JASO D611, JIS C 3406, IEC 60228 class 5 and AWG.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> wires = electric_tables().conductors
        >>> [getattr(find_conductor(name, wires), "area_mm2", None) for name in ("0.5 mm2", "JIS 0.5")]
        [0.503, 0.563]
        >>> print(find_conductor("3 mm", wires).sentence)
        “3 mm” is an outside diameter, not a size of wire.

    Source: [1] the standards named above, each row with its own.
    """
    plain = " ".join(text.casefold().replace(",", ".").replace("²", "2").split())
    gauge = _AWG.fullmatch(plain)
    if gauge:
        return _by_gauge(text, gauge[1] or gauge[2], conductors, field)
    family, rest = _family_of(plain)
    size = _SIZE.fullmatch(rest)
    if size is None:
        return Problem(field, f"“{text}” is not a size of wire.", HINT, text)
    if size[3] == "mm":
        return Problem(
            field,
            f"“{text}” is an outside diameter, not a size of wire.",
            "Retail “3 mm” cable has about 1.13 mm2 of copper: read the mm2 or the gauge off the reel.",
            text,
        )
    for wanted in (family,) if family else UNNAMED:
        row = _pick(conductors, wanted, float(size[1]), size[2])
        if row is not None:
            return row
    listed = [row.size for row in conductors if row.family == (family or "thin wall")]
    return Problem(
        field,
        f"There is no {family or 'wire of'} {size[1]}{size[2]}{'' if family else ' mm2'}.",
        f"Sizes of {family or 'thin wall'}: {', '.join(listed)}.",
        text,
    )


def solid_words(conductor: Conductor) -> tuple[str, ...]:
    """The caution that a gauge's resistance is a solid wire's.

    Formula: none.
    Range: any wire; empty unless it is AWG.
    Example:
        >>> solid_words(awg_conductor(18))
        ('AWG ohms are those of solid wire: stranded wire has a few per cent more.',)

    Source: [1] ASTM B258 defines the gauge by a solid wire's diameter.
    """
    if conductor.family != "AWG":
        return ()
    return ("AWG ohms are those of solid wire: stranded wire has a few per cent more.",)


def families(conductors: Iterable[Conductor]) -> tuple[str, ...]:
    """The kinds of wire there are sizes of, in the order of the tables.

    Formula: none.
    Range: any tables.
    Example:
        >>> families([awg_conductor(18), awg_conductor(16)])
        ('AWG',)

    Source: none: a list.
    """
    return tuple(dict.fromkeys(row.family for row in conductors))


def _by_gauge(text: str, gauge: str, conductors: Sequence[Conductor], field: str) -> Conductor | Problem:
    number = 1 - int(gauge[:-2]) if gauge.endswith("/0") else int(gauge)
    if not LARGEST_AWG <= number <= SMALLEST_AWG:
        return Problem(
            field, f"“{text}” is no gauge that is made.", "Gauges run from AWG 40 to AWG 4/0.", text
        )
    wanted = awg_conductor(number)
    return next((row for row in conductors if row.name == wanted.name), wanted)


def _family_of(plain: str) -> tuple[str, str]:
    """Which kind the words before or after the figure name, and what is left."""
    for word in sorted(_FAMILY, key=len, reverse=True):
        if plain.startswith(f"{word} "):
            return _FAMILY[word], plain[len(word) :].strip()
        if plain.endswith(f" {word}"):
            return _FAMILY[word], plain[: -len(word)].strip()
    return "", plain


def _pick(conductors: Sequence[Conductor], family: str, figure: float, fine: str) -> Conductor | None:
    """The row of that figure; where a size is only made with fine strands, that one."""
    rows = {row.size: row for row in conductors if row.family == family}
    plain = f"{figure:g}"
    return rows.get(plain + fine) or (None if fine else rows.get(f"{plain}f"))
