"""What to do, in one sentence: the answer that stands first, above its figures and its reasons."""

from tracker.electrics.ampacity import AmpacitySum
from tracker.electrics.ballast import BallastSum
from tracker.electrics.bundle import BundleSum
from tracker.electrics.catalogue_figures import of, rounded
from tracker.electrics.catalogue_verdict import verdict_headline
from tracker.electrics.crimp import CrimpSum
from tracker.electrics.drop import DropSum
from tracker.electrics.fuse import FuseSum
from tracker.electrics.lamp import LampSum
from tracker.electrics.sizing import WireSum
from tracker.electrics.sleeve import SleeveSum
from tracker.electrics.splice import SpliceSum
from tracker.electrics.tape import TapeSum
from tracker.electrics.terminal import TerminalSum
from tracker.records.electrics import Sum

NEWTON_PER_KG = 9.80665


def headline(answer: Sum) -> str:
    """The one sentence to act on.

    Formula: none.
    Range: the answer of any named sum.
    Example:
        >>> from tracker.electrics.sizing import size_wire
        >>> from tracker.seedfiles.tables import electric_tables
        >>> headline(size_wire(current_a=8, length_mm=1800, tables=electric_tables()))
        'Fit 1 mm2 thin wall wire and a 10 A fuse, red.'

    Source: none: a way of writing.
    """
    match answer:
        case WireSum():
            return f"Fit {answer.wire} wire and a {rounded(answer.fuse_a, 'A')} A fuse, {answer.fuse_colour}."
        case DropSum():
            return _drop(answer)
        case FuseSum():
            if answer.fuse_a is None:
                return "No fuse fits: a thicker wire, or less load on it."
            return f"Fit a {rounded(answer.fuse_a, 'A')} A {answer.family} fuse, {answer.colour}."
        case AmpacitySum():
            return f"It may carry {rounded(answer.carries_a, 'A')} A here."
        case BundleSum():
            about = "" if answer.exact else "about "
            return f"The bundle is {about}{answer.diameter_mm:.1f} mm thick."
        case SleeveSum():
            return f"Cut {answer.cut_mm} mm of {answer.kind} heat shrink, size {answer.size}."
        case TapeSum():
            return f"Take {answer.tape_mm / 1000:.2f} m of tape, and some for the ends."
        case SpliceSum():
            return _splice(answer)
        case TerminalSum():
            return _terminal(answer)
        case CrimpSum():
            return _crimp(answer)
        case LampSum():
            many = f"{answer.count} of them draw" if answer.count > 1 else "It draws"
            return (
                f"{many} {rounded(answer.total_current_a, 'A')} A, {rounded(answer.total_power_w, 'W')} W,"
                f" at {rounded(answer.volts_v, 'V')} V."
            )
        case BallastSum():
            return _ballast(answer)
        case _:
            return verdict_headline(answer)


def _drop(answer: DropSum) -> str:
    lost = f"{rounded(answer.drop_v, 'V')} V are lost, {rounded(answer.drop_percent, '%')} %"
    left = f"the load gets {rounded(answer.load_v, 'V')} V"
    if answer.within is None or answer.limit_v is None:
        return f"{lost}: {left}."
    allowed = f"{rounded(answer.limit_v, 'V')} V allowed"
    if answer.within:
        return f"{lost}, within the {allowed}: {left}."
    return f"{lost}, more than the {allowed}: a thicker or shorter wire, or better joints."


def _splice(answer: SpliceSum) -> str:
    if not answer.fits:
        if not answer.methods_fit:
            return "None of the joints listed takes these wires: join fewer of them at one place."
        return f"Not with a {answer.method}: take {of(_one(name) for name in answer.methods_fit)}."
    sides = [rounded(round(mm), "mm") for mm in (answer.strip_left_mm, answer.strip_right_mm)]
    strip = (
        f"{sides[0]} mm on both sides" if sides[0] == sides[1] else f"{sides[0]} mm left, {sides[1]} mm right"
    )
    return f"Strip {strip}; the joint eats {answer.consumed_mm:.0f} mm of wire."


def _one(name: str) -> str:
    return f"an {name}" if name[0] in "aeiou" else f"a {name}"


def _terminal(answer: TerminalSum) -> str:
    kinds = [f"an insulated terminal with a {answer.sleeve} sleeve"] if answer.sleeve else []
    kinds += [f"a barrel for AWG {answer.barrel_awg}"] if answer.barrel_awg else []
    ring = f"; a ring for {answer.ring}" if answer.ring else ""
    return f"Take {of(kinds)}{ring}." if kinds else f"No barrel listed takes so much copper{ring}."


def _crimp(answer: CrimpSum) -> str:
    least = f"{answer.least_n:.0f} N ({answer.least_n / NEWTON_PER_KG:.1f} kg on a spring balance)"
    close = answer.gap_mm is not None and answer.gap_mm < answer.least_gap_mm
    gap = (
        ""
        if answer.gap_sound is not False
        else f" The insulation ends too {'close' if close else 'far back'}."
    )
    if answer.holds is None:
        return f"A sample of this crimp must hold {least}.{gap}"
    if answer.holds:
        return f"The sample passes: it had to hold {least}.{gap}"
    return (
        f"The sample fails: it had to hold {least}. Another die, terminal or strip length; pull again.{gap}"
    )


def _ballast(answer: BallastSum) -> str:
    if answer.part_rating_w is None:
        return "Fit a fixed-rate flasher: no ballast that is sold stands this heat."
    diodes = f", and {answer.diodes} diodes at the turn warning lamp" if answer.diodes else ""
    part = f"{rounded(answer.part_ohm, 'ohm')} ohm {rounded(answer.part_rating_w, 'W')} W"
    words = f"Fit {answer.ballasts} ballasts of {part}, one across each LED lamp{diodes}."
    return f"{words} The fuse is too small for that." if answer.fuse_fits is False else words
