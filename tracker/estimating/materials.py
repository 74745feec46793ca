"""Wire, parts, sleeves and tape of one repair, from its rule and answers."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import ROUND_CEILING, Decimal, InvalidOperation

from tracker.estimating.counting import counting, counts, multiplier
from tracker.estimating.sizing import Chosen, Sizes
from tracker.estimating.words import counted, filled, plain
from tracker.records.estimating import PartNeed, WireNeed
from tracker.records.repair_rule import Answers, PartFigure, Rule, SleeveFigure, TapeFigure

MM = "mm"
_WHOLE = {"piece", MM}


def wire_of(rule: Rule, answers: Answers) -> tuple[WireNeed, ...]:
    """The wire a repair takes, by size and colour, rounded up to whole mm."""
    found = counts(rule, answers)
    mm: dict[tuple[Decimal, str], Decimal] = {}
    why: dict[tuple[Decimal, str], list[str]] = {}
    for figure in counting(rule.wire, answers):
        length = figure.mm * multiplier(figure, found)
        if length:
            key = Decimal(filled(figure.size, answers)), filled(figure.colour, answers)
            mm[key] = mm.get(key, Decimal(0)) + length
            why.setdefault(key, []).append(
                f"{filled(figure.words, answers)}: {plain(figure.mm)} mm, {counted(figure, found)}"
                f" = {plain(length)} mm"
            )
    return tuple(
        WireNeed(size_mm2=size, colour=colour, mm=_up(length), why="; ".join(why[size, colour]))
        for (size, colour), length in mm.items()
    )


def parts_of(rule: Rule, answers: Answers, sizes: Sizes) -> tuple[tuple[PartNeed, ...], tuple[str, ...]]:
    """Parts, sleeves and tape a repair takes; and a note for each size that could not be chosen."""
    found = counts(rule, answers)
    needs: list[PartNeed] = []
    notes: list[str] = []
    figures: tuple[PartFigure | SleeveFigure | TapeFigure, ...] = (*rule.parts, *rule.sleeves, *rule.tapes)
    for figure in counting(figures, answers):
        times = multiplier(figure, found)
        match figure:
            case PartFigure():
                need, note = _part(figure, answers, sizes, figure.qty * times)
            case SleeveFigure():
                need, note = _sleeve(figure, answers, sizes, figure.length_mm * times)
            case TapeFigure():
                need, note = _tape(figure, answers, sizes, figure.length_mm * times)
        if need.qty:
            needs.append(replace(need, why=f"{need.why}; {counted(figure, found)}".lstrip("; ")))
            notes.extend([note] if note else [])
    return merged_parts(needs), tuple(notes)


def merged_parts(needs: Iterable[PartNeed]) -> tuple[PartNeed, ...]:
    """The same part asked for in several places is one need; the order of first mention stays."""
    rows: dict[tuple[str, ...], PartNeed] = {}
    for need in needs:
        key = part_key(need)
        had = rows.get(key)
        # The same code may go by several words: which it is must not hang on who asked first.
        rows[key] = (
            need
            if had is None
            else replace(
                had, words=min(had.words, need.words), qty=had.qty + need.qty, why=_both(had.why, need.why)
            )
        )
    return tuple(rows.values())


def merged_wire(needs: Iterable[WireNeed]) -> tuple[WireNeed, ...]:
    """Wire of one size and colour is one need, in order of size and colour."""
    rows: dict[tuple[Decimal, str], WireNeed] = {}
    for need in needs:
        key = wire_key(need)
        had = rows.get(key)
        rows[key] = need if had is None else replace(had, mm=had.mm + need.mm, why=_both(had.why, need.why))
    return tuple(rows[key] for key in sorted(rows))


def part_key(need: PartNeed) -> tuple[str, ...]:
    """What two needs must share to be one."""
    return need.kind, need.size, need.unit, need.code or need.words


def wire_key(need: WireNeed) -> tuple[Decimal, str]:
    """What two lengths must share to be one wire."""
    return need.size_mm2, need.colour


def _part(figure: PartFigure, answers: Answers, sizes: Sizes, qty: Decimal) -> tuple[PartNeed, str]:
    chosen = Chosen(filled(figure.size, answers), "")
    note = ""
    if figure.fits:
        chosen = sizes.terminal(figure.fits, _decimal(figure.fits_mm2, answers))
        note = _unchosen(figure.kind, chosen)
    need = PartNeed(
        kind=figure.kind, size=chosen.size, unit=figure.unit, words=figure.words, code=figure.code,
        consumable=figure.consumable, qty=Decimal(_up(qty)) if figure.unit in _WHOLE else qty, why=chosen.why,
    )  # fmt: skip
    return _worded(need, answers), note


def _sleeve(figure: SleeveFigure, answers: Answers, sizes: Sizes, mm: Decimal) -> tuple[PartNeed, str]:
    over = int(_decimal(figure.wires, answers))
    grips = int(_decimal(figure.grips, answers)) if figure.grips else over
    chosen = sizes.sleeve(figure.kind, _decimal(figure.size, answers), over, grips, figure.adds_mm)
    need = PartNeed(
        kind=f"{figure.kind} sleeve", size=chosen.size, unit=MM, words=figure.words, code=figure.code,
        qty=Decimal(_up(mm)), why=chosen.why,
    )  # fmt: skip
    return _worded(need, answers), _unchosen(need.kind, chosen)


def _tape(figure: TapeFigure, answers: Answers, sizes: Sizes, mm: Decimal) -> tuple[PartNeed, str]:
    size, wires = _decimal(figure.size, answers), int(_decimal(figure.wires, answers))
    length, why = sizes.tape_mm(size, wires, mm, figure.width_mm, figure.lap) if mm else (mm, "")
    need = PartNeed(
        kind="tape", size=f"{plain(figure.width_mm)} mm", unit=MM, words=figure.words, code=figure.code,
        qty=Decimal(_up(length)), why=why,
    )  # fmt: skip
    return _worded(need, answers), ""


def _worded(need: PartNeed, answers: Answers) -> PartNeed:
    """With the answers in its words and its code; no code where it waits for a size nobody chose."""
    fit = {"fit": need.size}
    code = "" if "{fit}" in need.code and not need.size else filled(need.code, answers, fit)
    words = filled(need.words, answers, fit) or f"{need.kind} {need.size}".strip()
    return replace(need, words=words, code=code)


def _unchosen(kind: str, chosen: Chosen) -> str:
    return "" if chosen.size else f"No size of {kind} was chosen: {chosen.why}."


def _decimal(text: str, answers: Answers) -> Decimal:
    """A figure given or answered; 1 where an optional answer is missing."""
    try:
        return Decimal(filled(text, answers))
    except InvalidOperation:
        return Decimal(1)


def _both(one: str, other: str) -> str:
    return one if one == other else f"{one}; {other}"


def _up(value: Decimal) -> int:
    return int(value.to_integral_value(ROUND_CEILING))
