"""Running ngspice in batch mode on a circuit of ours, written out by other hands than the solver's.

ngspice is a circuit simulator of its own (Debian package `ngspice`). Without it these checks say so and skip;
with CI=true in the environment they fail, so that nobody takes an unrun check for a passed one.
"""

import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path

import pytest

from tracker.records.network import (
    Circuit,
    CurrentLoad,
    Diode,
    Element,
    Filament,
    Node,
    VoltageSource,
)

Models = Mapping[str, str]
"""ngspice's own diode model line by the name of the diode it stands for."""

_VALUE = re.compile(r"^(v\(\w+\)|@?\w[\w#\[\]]*)\s*=\s*([-+0-9.eE]+)\s*$", re.MULTILINE)


def need_ngspice() -> str:
    """The path of ngspice; where there is none the test is skipped, or failed with CI=true."""
    found = shutil.which("ngspice")
    if found is None:
        words = (
            "ngspice is not installed (Debian package “ngspice”): the network is not checked from outside."
        )
        if os.environ.get("CI") == "true":
            pytest.fail(words)
        pytest.skip(words)
    return found


TIGHT = "reltol=1e-8 abstol=1e-12 vntol=1e-10 gmin=1e-14 itl1=500"


def run(lines: Iterable[str], control: Iterable[str], options: str = TIGHT) -> dict[str, float]:
    """What ngspice prints for the netlist `lines` after the commands `control`, by name."""
    program = need_ngspice()
    deck = [
        "* a loom",
        *lines,
        f".options {options}",
        ".control",
        "set numdgt=10",
        *control,
        "quit 0",
        ".endc",
        ".end",
    ]
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / "loom.cir"
        place.write_text("\n".join(deck) + "\n", "ascii")
        done = subprocess.run(
            (program, "-b", str(place)), check=False, capture_output=True, text=True, timeout=60, cwd=folder
        )
    text = done.stdout + done.stderr
    assert "Error" not in text, text
    assert "aborted" not in text, text
    return {name: float(value) for name, value in _VALUE.findall(done.stdout)}


def operating_point(circuit: Circuit, models: Models | None = None) -> dict[Node, float]:
    """Volts at every node of `circuit` as ngspice finds them."""
    nodes = dict.fromkeys(end for part in circuit.elements for end in (part.a, part.b))
    number = {node: f"n{place}" for place, node in enumerate(nodes, 1)} | {circuit.reference: "0"}
    lines = [
        line
        for place, part in enumerate(circuit.elements)
        for line in _lines(f"{place}", part, number[part.a], number[part.b], models or {})
    ]
    wanted = [name for name in number.values() if name != "0"]
    values = run(lines, ["op", *(f"print v({name})" for name in wanted)])
    return {node: 0.0 if name == "0" else values[f"v({name})"] for node, name in number.items()}


def _lines(name: str, part: Element, a: str, b: str, models: Models) -> list[str]:
    match part:
        case VoltageSource():
            return [f"v{name} {a} inner{name} {part.volts!r}", f"r{name} inner{name} {b} {part.inner_ohm!r}"]
        case Filament():
            volts = f"v({a},{b})"
            cold = part.cold_ratio * part.rated_v**2 / part.rated_w
            knee = part.rated_v * part.cold_ratio ** (1 / (1 - part.exponent))
            rated_a = part.rated_w / part.rated_v
            hot = f"sgn({volts})*{rated_a!r}*pow(abs({volts})/{part.rated_v!r},{part.exponent!r})"
            return [f"b{name} {a} {b} i = abs({volts}) > {knee!r} ? {hot} : {volts}/{cold!r}"]
        case Diode():
            return [f"d{name} {a} {b} m{name}", f".model m{name} d({models[part.name]})"]
        case CurrentLoad():
            return [f"i{name} {a} {b} {part.current_a!r}"]
        case _:
            return [f"r{name} {a} {b} {part.ohm!r}"]
