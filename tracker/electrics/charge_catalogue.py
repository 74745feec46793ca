"""The sums on batteries and alternators, by the names that people call them by."""

from tracker.electrics.alternator import bridge
from tracker.electrics.battery import battery
from tracker.electrics.battery_acid import hydrometer, self_discharge
from tracker.electrics.battery_load import load_test
from tracker.electrics.battery_use import cranking, drain
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.charge_balance import charge_budget
from tracker.electrics.winding import balance, winding

CHARGE_SUMS: tuple[NamedSum, ...] = (
    NamedSum("battery", "state of charge from standing volts", battery),
    NamedSum("hydrometer", "acid gravity, corrected, cell against cell", hydrometer),
    NamedSum("self-discharge", "what standing costs a flooded battery", self_discharge),
    NamedSum("load-test", "the 15 s load test at the battery's temperature", load_test),
    NamedSum("cranking", "volts while cranking judged", cranking),
    NamedSum("drain", "standing drain to days", drain),
    NamedSum("bridge", "DC volts behind a rectifier, and its frequencies", bridge),
    NamedSum("winding", "winding ohms, leads off, at a temperature", winding),
    NamedSum("balance", "three pairs of a stator against each other", balance),
    NamedSum("charge-budget", "the alternator against the loads that are on", charge_budget),
)
"""In the order they are listed. They take `limits`, but for `bridge`, `winding` and `charge-budget`."""
