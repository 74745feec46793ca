"""Bikes to try a loom on: answers to the pattern's questions, and small looms written for one purpose."""

from functools import cache

from tracker.loom.pattern import build
from tracker.loom.settle import Settled, settle
from tracker.loom.states import powered
from tracker.records.loom_made import Loom
from tracker.records.loom_pattern import Pattern
from tracker.seedfiles.door import Seeds
from tracker.seedfiles.loom import load_pattern

TWIN = {
    "fuel": "carburettor",
    "abs": "no",
    "electric-start": "yes",
    "kick-start": "no",
    "fuel-gauge": "none",
    "cooling": "air",
    "indicators": "filament",
    "turn-warning": "shared",
    "flasher": "two-pin",
    "hazard": "yes",
    "stand-switch": "yes",
    "start-interlock": "yes",
    "neutral-lamp": "yes",
    "oil-lamp": "yes",
    "alternator": "three-phase",
    "sense": "yes",
    "battery": "agm",
    "earth": "negative",
    "volts": "12",
    "ignition": "transistor",
    "coils": "2",
    "kill": "feed",
    "horn": "earth-switched",
    "headlamp": "twin-filament",
    "light-switch": "yes",
    "position-lamp": "yes",
    "key-park": "yes",
    "pass": "yes",
    "tail-lamp": "filament",
    "plate-lamp": "yes",
    "front-brake-switch": "yes",
    "instrument-lights": "yes",
    "main-beam-lamp": "yes",
    "fuses": "box",
    "engine-mount": "solid",
    "fairing": "none",
    "injectors": "1",
    "injection-relay": "no",
    "tip-over": "none",
    "oxygen-sensor": "yes",
    "idle-valve": "no",
    "gear-sensor": "no",
    "fan-control": "thermo",
    "exhaust-valve": "no",
    "quickshifter": "no",
    "immobiliser": "no",
    "speed-sensor": "no",
    "display": "no",
    "throttle-sensor": "no",
    "regulation": "unit",
    "coil-ballast": "no",
    "auto-choke": "no",
    "carb-heater": "no",
    "socket": "no",
    "heated-grips": "no",
    "extra-lamps": "no",
    "alarm": "no",
    "keyless": "no",
    "headlamp-relay": "no",
    "body-module": "no",
}
"""A twin with carburettors and all that a bike of its age has."""

FOUR = TWIN | {
    "fuel": "injection",
    "ignition": "ecu",
    "coils": "4",
    "abs": "yes",
    "cooling": "liquid",
    "fuel-gauge": "gauge",
    "indicators": "led",
    "flasher": "three-pin",
    "turn-warning": "separate",
    "horn": "feed-switched",
    "light-switch": "no",
    "key-park": "no",
    "fairing": "full",
    "engine-mount": "rubber",
    "injectors": "4",
    "injection-relay": "yes",
    "tip-over": "relay",
    "idle-valve": "yes",
    "gear-sensor": "yes",
    "exhaust-valve": "yes",
    "quickshifter": "yes",
    "immobiliser": "yes",
    "speed-sensor": "yes",
    "display": "yes",
}
"""An injected four with ABS."""

TRAIL = TWIN | {
    "electric-start": "no",
    "kick-start": "yes",
    "battery": "none",
    "alternator": "lighting-coil",
    "ignition": "cdi-ac",
    "kill": "earth",
    "indicators": "none",
    "turn-warning": "none",
    "start-interlock": "no",
    "stand-switch": "no",
    "coils": "1",
    "oil-lamp": "no",
    "neutral-lamp": "no",
    "instrument-lights": "no",
    "fuses": "one",
    "hazard": "no",
    "key-park": "no",
    "main-beam-lamp": "no",
    "sense": "no",
}
"""A trail single without a battery: AC lights, a stop switch to earth."""

OLD_SIX = TWIN | {
    "electric-start": "no",
    "kick-start": "yes",
    "volts": "6",
    "earth": "positive",
    "alternator": "dynamo",
    "battery": "flooded",
    "ignition": "points",
    "fuses": "one",
    "hazard": "no",
    "start-interlock": "no",
    "stand-switch": "no",
    "sense": "no",
    "pass": "no",
    "front-brake-switch": "no",
}
"""A 6 V twin with a dynamo, its battery's positive side on the frame."""

SINGLE = TWIN | {
    "coils": "1",
    "ignition": "cdi-dc",
    "alternator": "half-wave",
    "turn-warning": "separate",
    "stand-switch": "no",
    "hazard": "no",
    "battery": "flooded",
}
"""A single whose stator has one end on the case."""

SCOOTER = TWIN | {
    "kick-start": "yes",
    "alternator": "single-phase",
    "ignition": "cdi-dc",
    "coils": "1",
    "start-interlock": "no",
    "neutral-lamp": "no",
    "oil-lamp": "no",
    "fuel-gauge": "lamp",
    "fuses": "one",
    "horn": "feed-switched",
    "hazard": "no",
    "key-park": "no",
    "engine-mount": "rubber",
    "auto-choke": "yes",
}

BIKES = {
    "twin": TWIN, "four": FOUR, "trail": TRAIL, "old six": OLD_SIX, "single": SINGLE, "scooter": SCOOTER,
}  # fmt: skip


@cache
def bike(name: str = "twin") -> Loom:
    """One of the bikes above, as the pattern has it."""
    return build(load_pattern(), dict(BIKES[name]))


def state(loom: Loom, name: str) -> Settled:
    """The loom in a standard state."""
    return settle(loom, powered(loom, loom.known.states[name]))


PART_FILES = (
    "added", "bars", "carburettor", "charging", "ignition", "injection", "instruments", "lighting", "sensors",
    "signals", "spark", "starting", "supply",
)  # fmt: skip

BATTERY = """
[place.frame]
words = "frame"
zone = "under-tank"
kind = "metal"

[body.battery]
words = "battery"
zone = "battery"
kind = "battery"
joint = "post"
ways = { live = "live post", earthed = "earthed post" }

[device.battery-cells]
words = "battery"
kind = "source"
source = "battery"
from = "battery:earthed"
to = "battery:live"
volts = 12.6
inner_ohm = 0.02

[wire]
earth-lead = { from = "frame", to = "battery:earthed", mm = 400, mm2 = 4, main = "black" }
"""
"""A battery, a frame, and the lead between."""


def small_pattern(*texts: str) -> Pattern:
    """A pattern of nothing but these texts, with the shipped questions, states and figures."""
    own = {f"loom/{name}.toml": "" for name in PART_FILES}
    own |= {f"loom/own-{number}.toml": text for number, text in enumerate(texts)}
    return load_pattern(Seeds(own))


def small_loom(*texts: str, **answers: str) -> Loom:
    """The loom of a small pattern; 12 V and negative earth unless said otherwise."""
    return build(small_pattern(*texts), {"earth": "negative", "volts": "12", **answers})
