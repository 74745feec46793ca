"""Which figures of an answer are shown to a person, in which order and under which words.

The figures that the sentence above them has said already, and those that only a program wants, are left out.
"""

from tracker.electrics.alternator import BridgeSum
from tracker.electrics.ampacity import AmpacitySum
from tracker.electrics.ballast import BallastSum
from tracker.electrics.battery import BatterySum
from tracker.electrics.battery_load import LoadTestSum
from tracker.electrics.battery_use import CrankingSum, DrainSum
from tracker.electrics.bundle import BundleSum
from tracker.electrics.catalogue_charging import BalanceSum, HydrometerSum, SelfDischargeSum, WindingSum
from tracker.electrics.charge_balance import ChargeBudgetSum
from tracker.electrics.crimp import CrimpSum
from tracker.electrics.drop import DropSum
from tracker.electrics.flasher import FlasherSum
from tracker.electrics.fuse import FuseSum
from tracker.electrics.lamp import LampSum
from tracker.electrics.sizing import WireSum
from tracker.electrics.sleeve import SleeveSum
from tracker.electrics.splice import SpliceSum
from tracker.electrics.tape import TapeSum
from tracker.electrics.terminal import TerminalSum
from tracker.electrics.vin import VinSum
from tracker.records.electrics import Sum

SHOWN: dict[type[Sum], tuple[tuple[str, str], ...]] = {
    WireSum: (
        ("wire", "wire"),
        ("area_mm2", "copper"),
        ("fuse_a fuse_colour", "fuse"),
        ("current_a", "current"),
        ("drop_v drop_percent", "drop"),
        ("limit_v", "drop allowed"),
        ("carries_a", "it may carry"),
        ("decided_by", "decided by"),
    ),
    DropSum: (
        ("drop_v drop_percent", "drop"),
        ("wire_v wire_ohm", "in the wire"),
        ("joints_v joints_ohm", "in the joints"),
        ("return_v return_ohm", "in the return"),
        ("limit_v", "drop allowed"),
        ("current_a", "current"),
        ("surge_a", "for a moment, cold"),
        ("load_v load_w", "left for the load"),
    ),
    FuseSum: (
        ("fuse_a colour", "fuse"),
        ("need_a", "at least needed"),
        ("carries_a", "the wire may carry"),
    ),
    AmpacitySum: (
        ("carries_a", "it may carry"),
        ("table_a", "alone, at 30 °C"),
        ("bundling_factor", "times, for company"),
        ("ambient_factor", "times, for warm air"),
        ("insulation_c", "insulation class"),
    ),
    BundleSum: (("wires", "wires"), ("diameter_mm", "thickness"), ("closest_mm", "packed at its closest")),
    SleeveSum: (
        ("kind size", "tube"),
        ("expanded_mm", "inside, as supplied"),
        ("recovered_mm", "inside, fully shrunk"),
        ("cut_mm", "piece to cut"),
        ("also_fit", "fit as well"),
    ),
    TapeSum: (("tape_mm", "tape"), ("turns", "turns"), ("layers", "layers")),
    SpliceSum: (
        ("strip_left_mm", "strip, left"),
        ("strip_right_mm", "strip, right"),
        ("joint_mm", "length of the joint"),
        ("consumed_mm", "wire eaten"),
        ("sleeve", "connector"),
        ("barrel_awg", "barrel for AWG"),
        ("methods_fit", "joints that fit"),
    ),
    TerminalSum: (
        ("area_mm2", "copper together"),
        ("sleeve", "insulated sleeve"),
        ("barrel_awg", "barrel for AWG"),
        ("blades", "blades"),
        ("ring ring_hole_mm", "ring, its hole"),
    ),
    CrimpSum: (
        ("least_n", "least pull"),
        ("pulled_n", "sample held"),
        ("least_gap_mm", "insulation gap, least"),
        ("most_gap_mm", "insulation gap, most"),
        ("gap_mm", "insulation gap, read"),
    ),
    LampSum: (
        ("current_a", "current, one lamp"),
        ("power_w", "power, one lamp"),
        ("hot_ohm", "ohms, hot"),
        ("cold_ohm", "ohms, cold"),
        ("surge_a", "switched on, cold"),
        ("light_percent", "light, of its rating"),
    ),
    BallastSum: (
        ("ballasts", "ballasts"),
        ("part_ohm part_rating_w", "each to be"),
        ("part_lit_power_w", "heat of each, lit"),
        ("part_worth_w", "its rating is worth"),
        ("diodes", "diodes"),
        ("side_current_a", "a side draws"),
        ("hazard_current_a", "all corners draw"),
        ("side_current_without_ballast_a", "a side, no ballasts"),
    ),
    FlasherSum: (
        ("flashes_per_min", "rate"),
        ("least_per_min", "slowest allowed"),
        ("most_per_min", "fastest allowed"),
        ("cycles", "flashes counted"),
        ("load_percent", "load it sees"),
    ),
    BatterySum: (
        ("low_percent", "charge, at least"),
        ("high_percent", "charge, at most"),
        ("confidence", "how sure"),
        ("valid", "rested long enough"),
    ),
    HydrometerSum: (
        ("corrected_sg", "cells, at 80 °F"),
        ("spread_sg", "apart"),
        ("spread_limit_sg", "at most"),
        ("weakest_cell", "weakest cell"),
    ),
    SelfDischargeSum: (("gravity_after_sg", "gravity, then"), ("a_day_sg", "lost a day")),
    LoadTestSum: (("end_v", "at the end"), ("least_v", "at least"), ("load_a", "load to draw")),
    CrankingSum: (("cranking_v", "while cranking"), ("word", "verdict")),
    DrainSum: (("ah_per_day", "drained"), ("usable_ah", "that may go"), ("days", "it lasts")),
    BridgeSum: (
        ("mean_v", "mean, resistor"),
        ("less_drops_v", "mean, steady current"),
        ("ideal_v", "without drops"),
        ("peak_v", "peak of the AC"),
        ("ac_hz", "AC"),
        ("ripple_hz", "ripple"),
    ),
    WindingSum: (("alone_ohm", "without the leads"), ("then_ohm", "at the wanted °C")),
    BalanceSum: (
        ("mean_v", "mean"),
        ("span_v", "span"),
        ("mean_ohm", "mean"),
        ("span_ohm", "span"),
        ("deviation_percent", "furthest off"),
        ("worst_pair", "which pair"),
        ("word", "verdict"),
    ),
    ChargeBudgetSum: (
        ("now", "now"),
        ("break_even_rev_min", "loads met from"),
        ("after", "changed"),
        ("break_even_after_rev_min", "changed, met from"),
    ),
    VinSum: (
        ("vin", "number"),
        ("weighted_sum", "sum"),
        ("check_digit", "place 9 must be"),
        ("found_digit", "place 9 is"),
    ),
}
"""By the class of the answer: fields, one or two that go on one line, and their words."""
