"""Every single fault traced to its end: `python -m tests.bench.trace_faults [BIKE ...] [--some N]`.

Symptoms and readings come from the network with the fault in it. Printed for each bike: how many faults show
a symptom at all, how many traces end on the fault or on what no offered check tells from it, minutes and
checks on average, and the CPU time of a check. Then what was promised at the first check against what it
took, each suspect of some symptom sets followed in each way it may show and weighed by its share.
`--misread P` reads wrongly at random; `--some N` takes N of each by lot (always the same ones).
"""

import argparse
import random
from itertools import islice
from time import process_time

from tests.loom.making import BIKES, bike
from tests.trace.following import Followed, followed, noticed
from tests.trace.making import dead, tables, weak, works
from tracker.records.trace import Mark
from tracker.trace.bench import Bench
from tracker.trace.deciding import LEAST_SHARE, left_of
from tracker.trace.trace import begin

STATES = (
    "key-on", "position", "head-low", "head-high", "front-brake", "rear-brake", "turn-left", "turn-right",
    "hazard", "horn", "start-neutral", "start-clutch", "idle", "riding", "hot", "clutch-in",
)  # fmt: skip

SETS: dict[str, list[Mark]] = {
    "tail lamp dead, brake and plate lamps work": [*dead("tail-light"), *works("brake-light", "plate-light")],
    "low beam weak, high beam works": [*weak("low-beam"), *works("high-beam")],
    "horn dead, brake lamp works": [*dead("horn-winding"), *works("brake-light")],
    "starter dead, neutral lamp works": [*dead("starter"), *works("neutral-lamp")],
}


def every_fault(name: str, some: int, misread: float) -> None:
    """Prints how the faults of one bike are found."""
    bench = Bench(bike(name))
    states = tuple(one for one in STATES if one in bench.states)
    faults = list(bench.every)
    dice = random.Random(name)
    dice.shuffle(faults)
    shown = ((one, noticed(bench, one, states)) for one in faults)
    start, ended, silent = process_time(), list[Followed](), 0
    for one, marks in shown if some <= 0 else islice(shown, some):
        if marks:
            ended.append(followed(bench, tables(), one, marks, dice=dice, misreads=misread))
        else:
            silent += 1
    took = process_time() - start
    count, steps = max(1, len(ended)), max(1, sum(one.steps for one in ended))
    right = sum(one.right for one in ended)
    minutes, sure = sum(one.minutes for one in ended), sum(one.sure_minutes for one in ended)
    print(
        f"{name}: {len(ended)} faults with a symptom, {silent} without; {right} found ({right / count:.1%});"
        f" {minutes / count:.1f} min, {sure / count:.1f} more to make sure, {steps / count:.1f} checks each;"
        f" {1000 * took / steps:.0f} ms a check"
    )
    for lost in ended:
        if not lost.right:
            print(f"    not found: {lost.truth.id}; ended on {', '.join(lost.found[:3]) or 'nothing'}")


def promises(name: str, some: int) -> None:
    """Prints promised and mean minutes of some symptom sets, every suspect followed and weighed."""
    bench = Bench(bike(name))
    for words, marks in SETS.items():
        if any(mark.load not in bench.loom.devices for mark in marks):
            continue
        trace = begin(bench.whole, tables(), bench=bench).marked(*marks)
        suspects = [one for one in left_of(trace.now.suspects) if len(one.theory) == 1]
        ways = [(one.theory[0], row, share) for one in suspects for row, share in one.tried]
        total = sum(share for _, _, share in ways)
        ways = [one for one in ways if one[2] >= LEAST_SHARE * total]
        dice = random.Random(words)
        drawn = 0 < some < len(ways)
        if drawn:
            ways = dice.choices(ways, [share for _, _, share in ways], k=some)
            parts = [1 / some] * some
        else:
            parts = [share / sum(each for _, _, each in ways) for _, _, share in ways]
        ended = [followed(bench, tables(), one, marks, row=row) for one, row, _ in ways]
        mean = sum(part * one.minutes for part, one in zip(parts, ended, strict=True))
        sure = sum(part * one.sure_minutes for part, one in zip(parts, ended, strict=True))
        strays = sum(part * (one.minutes - mean) ** 2 for part, one in zip(parts, ended, strict=True))
        error = f", standard error {(strays / some) ** 0.5:.1f}" if drawn else ""
        now = trace.now
        print(
            f"  {name}, {words}: promised {now.expected_minutes:.1f} min, at least"
            f" {now.lower_bound_minutes:.1f}; took {mean:.1f}{error}; to make sure"
            f" {now.sure_minutes:.1f} more, took {sure:.1f}; {len(ways)} ways of {len(suspects)} suspects"
        )


def main() -> None:
    """The bikes named, or all of them."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("bikes", nargs="*", choices=[*BIKES, []])
    asked.add_argument("--some", type=int, default=0)
    asked.add_argument("--misread", type=float, default=0.0)
    given = asked.parse_args()
    for name in given.bikes or BIKES:
        every_fault(name, given.some, given.misread)
    if not given.misread:
        for name in given.bikes or BIKES:
            promises(name, some=given.some)


if __name__ == "__main__":
    main()
