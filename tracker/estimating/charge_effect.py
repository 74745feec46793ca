"""What a new load, or another in the place of one, does to a bike's charging balance."""

from tracker.electrics.charge_balance import ChargeBudgetSum, OnLoad, Output, Spare, Standing, charge_budget
from tracker.loom.riding_loads import load_of, riding_loads
from tracker.records.loom_made import Loom
from tracker.records.new_circuit import NewLoad

NOBODY_SAID = (
    "Nobody has said what this bike’s alternator gives, so nobody knows whether it can feed this:"
    " --alternator-w 280, --gives “6 A at 1200”, or loomcard bike figure N alternator_watts."
)


def balance_with(loom: Loom, load: NewLoad, output: Output) -> ChargeBudgetSum | None:
    """The alternator against the loads of a bike while riding, and again with a new one on or in their place.

    None where nothing that is known of the loom changes.
    """
    now = riding_loads(loom)
    on = {one.name for one in now}
    if load.lays_circuit:
        what_if: tuple[OnLoad, ...] = (OnLoad(load.words, load.load, load.share),)
    else:
        off = [name for name in load.instead if name not in on and name in loom.devices]
        now = (*now, *(OnLoad(name, load_of(loom, loom.devices[name]), load.share) for name in off))
        what_if = tuple(OnLoad(one.name, load.load, one.share) for one in now if one.name in load.instead)
    return charge_budget(loads=now, output=output, what_if=what_if) if now and what_if else None


def balance_words(
    load: NewLoad, balance: ChargeBudgetSum | None, *, known: bool
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What it does to the charging balance; and why the alternator cannot carry it, if it cannot.

    `known` says whether anybody said what the alternator gives.
    """
    if not known:
        return (NOBODY_SAID,), ()
    if balance is None:
        return ("Nothing that is known to be on while riding changes.",), ()
    said = [_at(before, after) for before, after in zip(balance.now, balance.after, strict=True)]
    idle, cruise = balance.after
    before_idle, before_cruise = balance.now
    against: list[str] = []
    if cruise.word is Spare.SHORT and cruise.spare_a < before_cruise.spare_a:
        against.append(
            f"The alternator cannot carry {load.words}: at {cruise.rev_min:g} rev/min {cruise.takes_a:.1f} A"
            f" would be taken of {cruise.gives_a:.1f} A, and the battery would go flat while riding."
        )
    elif idle.word is Spare.SHORT and idle.spare_a < before_idle.spare_a:
        even = balance.break_even_after_rev_min
        from_ = f" Even from {even:.0f} rev/min." if even is not None else ""
        said.append(f"At idle the battery gives {-idle.spare_a:.1f} A: switch it off in traffic.{from_}")
    return tuple(said), tuple(against)


def _at(before: Standing, after: Standing) -> str:
    return (
        f"At {before.at}, {before.rev_min:g} rev/min, {before.gives_a:.1f} A are given:"
        f" {before.takes_a:.1f} A taken before ({before.spare_a:+.1f}),"
        f" {after.takes_a:.1f} A with it ({after.spare_a:+.1f})."
    )
