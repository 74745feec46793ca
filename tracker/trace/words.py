"""What a person reads: a suspect, a check in one sentence, what to expect of it, and what to mind."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from tracker.loom.where import place_words, words_of
from tracker.records.loom import Device, End
from tracker.records.loom_made import Loom
from tracker.records.trace import TraceFault
from tracker.trace.bench import Bench, Theory
from tracker.trace.check import LOOKED, Check
from tracker.trace.expect import numbers, outcomes
from tracker.trace.parts import Single
from tracker.trace.shown import words
from tracker.trace.suspects import Suspect

FAULT_WORDS: Final[dict[TraceFault, str]] = {
    "open": "open",
    "weak": "poor joint",
    "bulb": "bulb blown",
    "blown": "blown",
    "stuck open": "does not close",
    "stuck closed": "does not open",
    "shorted": "shorted",
    "to frame": "chafed through to the frame",
    "flat": "flat or worn out",
    "gives too much": "gives too much",
    "leaks": "lets current back while it stands",
    "other lamps": "LEDs where it expects bulbs",
    "as built": "nothing broken: it is made so",
}

SIDES: Final = {"in": "incoming side", "out": "outgoing side"}

RUNNING: Final = "Engine running: outdoors or extracted, hands clear of chain and fan."
BACK_PROBE: Final = "The plug stays together: probe from the back, pierce nothing."
NO_VOLTS: Final = "Pulses: a meter's volts cannot tell there; go by what works."

ENGINE_ON: Final = frozenset({"idle", "riding"})


@dataclass(frozen=True, slots=True)
class Expected:
    """One outcome of a check: as it is read or seen, how likely it is, and the suspects it leaves."""

    outcome: str
    share: float
    suspects: tuple[Suspect, ...]


def single_words(loom: Loom, single: Single) -> str:
    """“rear plug, tail: poor joint”; a load that is open is dead itself."""
    what, id_ = single.part
    said = FAULT_WORDS[single.fault]
    device = loom.devices.get(id_) if what == "device" else None
    if single.fault == "open" and device is not None and device.is_load:
        said = "dead itself"
    return f"{words_of(loom, what, id_)}: {said}"


def theory_words(loom: Loom, theory: Theory) -> str:
    """All its faults."""
    return "; and ".join(single_words(loom, one) for one in theory)


def expected(bench: Bench, check: Check, suspects: Sequence[Suspect]) -> tuple[Expected, ...]:
    """What a check will give and what each answer leaves, the likeliest answer first."""
    rows = tuple(one.row for one in suspects)
    if not rows:
        return ()
    groups: dict[int, list[int]] = {}
    for number, outcome in enumerate(outcomes(bench, check, rows)):
        groups.setdefault(outcome, []).append(number)
    values = numbers(bench, check, rows).tolist() if check.metered else []
    said = [] if check.metered else words(bench, check, rows)
    total = sum(one.share for one in suspects) or 1.0
    found = [
        Expected(
            _number_words(bench, check, [values[n] for n in some]) if values else said[some[0]],
            sum(suspects[n].share for n in some) / total,
            tuple(suspects[n] for n in some),
        )
        for some in groups.values()
    ]
    return tuple(sorted(found, key=lambda one: -one.share))


def sentence(bench: Bench, check: Check, opened: frozenset[str] = frozenset()) -> str:
    """What is done, in one sentence: what comes off, how it stands, where the probes go, who helps."""
    loom = bench.loom
    off = [loom.known.accesses[name] for name in loom.known.accesses if name in check.needs - opened]
    first = f"{_listed([access.words for access in off])} off" if off else ""
    stands = "" if check.kind in LOOKED else bench.states[check.state].words
    done = _doing(loom, check)
    helper = "somebody else holds it" if check.hands > 1 else ""
    parts = [part for part in (first, stands, done, helper) if part]
    text = "; ".join(parts)
    return f"{text[0].upper()}{text[1:]}."


def cautions(bench: Bench, check: Check) -> tuple[str, ...]:
    """What to mind at this check: the parts' own cautions, the state's, the meter's."""
    return tuple(dict.fromkeys(_cautions(bench, check)))


def _cautions(bench: Bench, check: Check) -> Iterator[str]:
    loom, known = bench.loom, bench.loom.known.cautions
    engine = "stopped" if check.kind in LOOKED else bench.states[check.state].at.get("engine", "stopped")
    if engine == "cranking" and "crank-short" in known:
        yield known["crank-short"]
    elif engine in ENGINE_ON:
        yield RUNNING
    place = loom.places.get(check.part)
    device = loom.devices.get(check.part)
    body = loom.bodies.get(place.body if place else device.body if device else check.part)
    if check.kind in {"volts", "volts at the foot", "drop", "AC volts"} and place and place.kind == "way":
        yield BACK_PROBE
    names = [*(body.cautions if body else ()), *(device.cautions if device else ())]
    if body is not None and any(d.kind in {"module", "sensor"} for d in _inside(loom, body.id)):
        names.append("no-test-lamp")
    if check.kind in {"look at a fuse", "lamp for the fuse", "drop across a fuse"}:
        names.append("fuse-never-up")
    if check.kind == "bridge a switch":
        names.append("interlock-back")
    for access in check.needs:
        names += loom.known.accesses[access].cautions
    yield from (known[name] for name in names if name in known)
    load = loom.devices.get(check.load)
    if load is not None and load.pulses and check.metered:
        yield NO_VOLTS


def _inside(loom: Loom, body: str) -> list[Device]:
    return [device for device in loom.devices.values() if device.body == body]


def _doing(loom: Loom, check: Check) -> str:
    part, load = _part(loom, check.part), _part(loom, check.load) if check.load else ""
    match check.kind:
        case "see":
            return f"look at the {part}"
        case "click":
            return f"listen for the {part}"
        case "look at a fuse":
            return f"take out the {part} and look through it"
        case "look at a bulb":
            return f"take the bulb of the {part} out and look at its filament"
        case "look at a plug":
            return f"part the {part} and look into it"
        case "battery volts":
            return "meter across the battery's posts"
        case "volts":
            return f"red probe on {_end(loom, check.place)}, black on the battery's earthed post"
        case "volts at the foot":
            return f"one probe behind the {load} on {_end(loom, check.place)}, black on the earthed post"
        case "AC volts":
            return f"meter on AC between {_end(loom, check.place)} and {_end(loom, check.against)}"
        case "drop":
            return f"one probe on {_end(loom, check.place)}, the other on {_end(loom, check.against)}"
        case "swap a bulb":
            return f"put a good bulb into the {part}"
        case "swap a relay":
            return f"put a good {part} in"
        case "bridge a switch":
            return f"a short fused lead across the {part}, and look at the {load}"
        case "unplug" if check.load in loom.devices and loom.devices[check.load].kind == "fuse":
            return f"a 21 W lamp in the place of the {load}, part the {part}, and look at that lamp"
        case "unplug":
            return f"part the {part} and look at the {load}"
        case "earth the lead":
            return f"a lead from {_end(loom, check.place)} to the frame, and look at the {load}"
        case "lamp for the fuse":
            return f"a 21 W lamp in the place of the {part}, and look how bright it burns"
        case "drop across a fuse":
            return f"millivolts across the {part}, left in its place"
        case "wiggle":
            zone = loom.known.zones.get(check.part)
            return f"move the loom and plugs at the {zone.words if zone else part} while it is on"


def _part(loom: Loom, id_: str) -> str:
    for what in ("device", "body", "place", "wire"):
        if id_ in loom.table(what):
            return words_of(loom, what, id_)
    return id_


def _end(loom: Loom, text: str) -> str:
    end = End.of(text)
    side = SIDES[end.side]
    place = loom.places.get(end.place)
    plain = place is not None and place.kind in {"metal", "post"}
    return place_words(loom, end.place) if plain else f"{place_words(loom, end.place)} ({side})"


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _number_words(bench: Bench, check: Check, values: Sequence[float]) -> str:
    low, high = min(values), max(values)
    unit = "mV" if check.kind == "drop across a fuse" else "V AC" if check.kind == "AC volts" else "V"
    if high - low > 0.3 and unit != "mV":
        text = f"{low:.1f} to {high:.1f} {unit}"
    else:
        text = f"about {abs(high) if abs(high) < 0.05 else high:.1f} {unit}"
    battery = bench.loom.volts * 1.05
    if check.kind == "volts" and 0.7 * battery < abs(high) < battery + 2 and high - low <= 0.3:
        net = bench.net(check.state)
        source = next((d for d in bench.loom.devices.values() if d.source == "battery"), None)
        if source is not None:
            less = abs(net.solution.volts.get(net.node(source.b), 0.0)) - abs(high)
            text += f" (battery less {max(0.0, less):.1f})"
    return text
