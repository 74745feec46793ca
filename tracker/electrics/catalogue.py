"""The sums by the names that people call them by, each one function of named arguments."""

from collections.abc import Callable
from dataclasses import dataclass

from tracker.electrics.ballast import ballast
from tracker.electrics.bundle import bundle
from tracker.electrics.crimp import crimp
from tracker.electrics.drop import drop
from tracker.electrics.flasher import flasher
from tracker.electrics.fuse import fuse
from tracker.electrics.lamp import lamp
from tracker.electrics.sizing import size_wire
from tracker.electrics.sleeve import sleeve
from tracker.electrics.splice import splice
from tracker.electrics.tape import tape
from tracker.electrics.vin import vin
from tracker.records.electrics import Sum


@dataclass(frozen=True, slots=True)
class NamedSum:
    """One sum: its name, what it answers, and its function, which takes `tables` (not `vin` and `tape`)."""

    name: str
    words: str
    function: Callable[..., Sum]


WIRE_SUMS: tuple[NamedSum, ...] = (
    NamedSum("wire", "the wire and fuse for a new circuit", size_wire),
    NamedSum("drop", "the voltage drop of a circuit with its load on", drop),
    NamedSum("fuse", "the fuse for a current in a wire", fuse),
    NamedSum("bundle", "how thick a bundle of wires is", bundle),
    NamedSum("sleeve", "heat shrink for a joint: size and cut length", sleeve),
    NamedSum("tape", "loom tape for a length of loom", tape),
    NamedSum("splice", "how to join wires, and what the joint eats", splice),
    NamedSum("crimp", "the pull that a crimp must hold", crimp),
    NamedSum("lamp", "a filament lamp at the volts it really gets", lamp),
    NamedSum("ballast", "LED indicators: ballast, diodes, fuse", ballast),
    NamedSum("flasher", "a flash rate judged", flasher),
    NamedSum("vin", "the check digit of a VIN", vin),
)
"""Wires, joints, lamps and the frame number, in the order they are listed."""
