"""Seven estimates worked out with pencil and pocket calculator, every figure shown.

A line’s mean is (least + 4 likely + most) / 6 and its deviation (most - least) / 6; its half-widths are those
of the log-normal with these, v = ln(1 + (sd / mean)²), mean x exp(-v / 2 ± 1.2816 √v); lines go together
as √(0.7 Σw² + 0.3 (Σw)²). What comes off takes 0.8 to 2 times its table minutes.
"""

from decimal import Decimal

from tests.estimating.making import BIKE, PARTS, SIZES, asked, card
from tracker.estimating.card_total import CardAsked, estimate_card
from tracker.estimating.pricing import price
from tracker.records.estimating import EstimateResult, Minutes, Travel
from tracker.records.money import Money
from tracker.records.shop import Shop


def wire(result: EstimateResult) -> dict[tuple[str, str], int]:
    """mm by size and colour."""
    return {(str(need.size_mm2), need.colour): need.mm for need in result.wire}


def parts(result: EstimateResult) -> dict[str, int]:
    """Pieces or mm by kind and size."""
    return {f"{need.kind} {need.size}".strip(): int(need.qty) for need in result.parts}


def minutes(result: EstimateResult) -> dict[str, Minutes]:
    """Minutes by line."""
    return {line.words: line.minutes for line in result.lines}


def test_one_butt_joint_under_the_tank() -> None:
    result = card(asked("splice-butt", "under-tank", joints="1", size_mm2="0.75", colour="green/black"))
    # Open and close the loom 2-4-8, one joint 4-6-10: 6-10-18, mean (6 + 40 + 18) / 6 = 10.67.
    # Seat 3: 2.4-3-6, mean 3.4. Tank 20: 16-20-40, mean 22.67.
    assert minutes(result) == {
        "seat": Minutes(2, 3, 6, 3),
        "tank": Minutes(16, 20, 40, 23),
        "Splice with a butt connector": Minutes(6, 10, 18, 11),
    }
    # 2 + 16 + 6, 3 + 20 + 10, 6 + 40 + 18, 3 + 23 + 11.
    assert result.minutes == Minutes(24, 33, 64, 37)
    # Mean 36.73; half-widths 0.725 4.832 2.405 below, 0.791 5.272 2.637 above.
    # Below: squares 29.66, sum 7.962: √(20.76 + 19.02) = 6.31. Above √(24.76 + 22.71) = 6.89.
    assert (result.band.low, result.band.high) == (30, 44)  # 30.43 and 43.62, outward
    assert wire(result) == {("0.75", "green/black"): 10}
    # Over one wire of 1.9 mm and 1.5 mm of barrel: 3.4 x 1.2 = 4.08 mm, so 4.8/1.5.
    assert parts(result) == {"butt connector red": 1, "3:1 adhesive sleeve 4.8/1.5": 45}
    assert result.proves == ("loaded_drop", "function")


def test_two_soldered_joints_and_an_earth_share_the_tank() -> None:
    result = card(
        asked("splice-soldered", "under-tank", joints="2", size_mm2="1.5", colour="brown", gap_mm="300"),
        asked("earth", "under-tank", joints="1", stud="M6", new_ring="yes", size_mm2="2.5"),
    )
    # Soldered: 4-6-11, two joints 12-18-30, 0.3 m let in 1.2-1.8-3.6: 17.2-25.8-44.6, mean 27.5, rounded 28.
    # Earth: 2-3-6, 5-8-18, new ring 3-5-9: 10-16-33, mean 17.83.
    assert minutes(result) == {
        "seat": Minutes(2, 3, 6, 3),
        "tank": Minutes(16, 20, 40, 23),
        "Splice, soldered lap": Minutes(17, 26, 45, 28),
        "Earth or ring terminal cleaned": Minutes(10, 16, 33, 18),
    }
    assert result.minutes == Minutes(45, 65, 124, 72)
    # Mean 71.4. Below 0.725 4.832 5.534 4.555: squares 75.26, sum 15.647: √(52.68 + 73.45) = 11.23.
    # Above 0.791 5.272 6.006 5.060: squares 90.09, sum 17.128: √(63.06 + 88.01) = 12.29.
    assert (result.band.low, result.band.high) == (60, 84)  # 60.17 and 83.69
    assert wire(result) == {("1.5", "brown"): 300 + 2 * 20}
    # Solder 2 x 60. Sleeve on the joints 2 x 50 over 2.4 + 1.5 = 3.9 x 1.2 = 4.68: 4.8/1.5.
    # On the ring's barrel over 3.0 + 1.5 = 4.5 x 1.2 = 5.4: 6/2.
    assert parts(result) == {
        "solder 1 mm": 120,
        "3:1 adhesive sleeve 4.8/1.5": 100,
        "ring terminal M6": 1,
        "contact grease": 1,
        "3:1 adhesive sleeve 6/2": 35,
    }


def test_a_sealed_connector_of_six_ways_on_other_numbers() -> None:
    result = card(asked("connector", "headlamp", ways="6", keeps_ways="no", sealed="yes", tail_mm="100"))
    # Once 6-9-16; six ways in one half 18-24-42, in the other 18-24-42; finding out 6-12-30;
    # six tails of 0.1 m 6 x 0.1 x (3-5-9) = 1.8-3-5.4: 49.8-72-135.4, mean 78.87. Headlamp 8: 6.4-8-16, 9.07.
    assert minutes(result) == {
        "headlamp": Minutes(6, 8, 16, 9),
        "Connector replaced": Minutes(49, 72, 136, 79),
    }
    # Mean 87.93. Below 1.933 17.204: squares 299.7, sum 19.137: √(209.8 + 109.9) = 17.88.
    # Above 2.109 18.807: squares 358.2, sum 20.916: √(250.7 + 131.2) = 19.54.
    assert (result.band.low, result.band.high) == (70, 108)  # 70.05 and 107.48
    assert wire(result) == {("0.75", ""): 600}
    assert parts(result) == {
        "connector 6 ways": 1,
        "terminal plug socket": 6,
        "terminal plug pin": 6,
        "wire seal 0.75": 12,
    }


def test_a_wire_replaced_from_end_to_end_with_its_price() -> None:
    result = card(
        asked("wire", "under-tank", length_mm="1200", size_mm2="0.75", colour="green/black", wires="10")
    )
    # 5-8-14, 1.2 m x (12-18-32) = 14.4-21.6-38.4, terminals 6-9-16: 25.4-38.6-68.4, mean 41.37.
    assert minutes(result)["Wire replaced from end to end"] == Minutes(25, 39, 69, 41)
    assert result.minutes == Minutes(43, 62, 115, 67)
    # Mean 67.43; together 11.40 below and 12.43 above.
    assert (result.band.low, result.band.high) == (56, 80)
    # 1.2 x 1050 + 100 = 1360 mm.
    assert wire(result) == {("0.75", "green/black"): 1360}
    # Ten wires of 1.9 mm: 1.2 x √(10 x 3.61) = 7.21 mm. Tape π x 7.21 x 1200 / 9.5 = 2861 mm, up.
    assert parts(result) == {"terminal plug socket": 2, "tape 19 mm": 2862}

    priced = price(result, Shop(labour_rate=Decimal(48), currency="EUR"), PARTS)
    rows = [(line.words, str(line.qty), line.unit, line.amount.minor) for line in priced.lines]
    assert rows == [
        ("seat", "0.05", "hour", 240),  # 3 min at 48
        ("tank", "23", "minute", 1840),  # 23 / 60 x 48 = 18.40
        ("Wire replaced from end to end", "41", "minute", 3280),
        ("Wire 0.75 mm² green/black", "1.4", "m", 210),  # 1360 mm cut as 1.4 m at 1.50
        ("plug socket terminal for 0.75 mm²", "2", "piece", 70),
        ("loom tape, half lapped", "1", "25 m", 450),
    ]
    assert priced.amount == Money(240 + 1840 + 3280 + 210 + 70 + 450, "EUR")
    # 11 minutes fewer than 67, 13 more, at 48 an hour.
    assert priced.low == priced.amount - Money(880, "EUR")
    assert priced.high == priced.amount + Money(1040, "EUR")
    assert priced.notes == ()


def test_a_new_feed_with_relay() -> None:
    result = card(
        asked("new-feed", "battery", length_mm="1500", size_mm2="1.5", fuse_a="7.5", control_mm="0,8 m")
    )
    # 14-22-38; 1.5 m x (9-14-26) = 13.5-21-39; relay 12-18-32; control 0.8 x (8-12-22) = 6.4-9.6-17.6;
    # earth 0.3 x (8-12-22) = 2.4-3.6-6.6; load 5-8-15: 53.3-82.2-148.2, mean 88.38.
    assert minutes(result) == {
        "seat": Minutes(2, 3, 6, 3),
        "battery cover": Minutes(3, 4, 8, 5),  # 3.2-4-8, mean 4.53
        "New feed with fuse, and relay if it needs one": Minutes(53, 82, 149, 88),
    }
    # Mean 96.32; together 19.64 below and 21.45 above.
    assert (result.band.low, result.band.high) == (76, 118)
    assert wire(result) == {
        ("0.5", ""): 840,  # 0.8 x 1050
        ("1.5", "black"): 315,  # 0.3 x 1050
        ("1.5", "red"): 1775,  # 1.5 x 1050 + 200
    }
    # Ties 1.5 x 8 = 12. Sleeve on the rings over 2.4 + 1.5 = 3.9 x 1.2 = 4.68.
    # Two wires are 4.8 mm: π x 4.8 x 1500 / 9.5.
    assert parts(result) == {
        "fuse holder": 1,
        "blade fuse 7.5 A": 1,
        "ring terminal M6": 2,
        "relay": 1,
        "relay socket": 1,
        "cable tie": 12,
        "3:1 adhesive sleeve 4.8/1.5": 70,
        "tape 19 mm": 2381,  # 2380.996 mm, up
    }


def test_a_burnt_stator_plug_and_a_regulator() -> None:
    result = card(
        asked("stator-plug", "left-engine", method="soldered lap", gap_mm="0", size_mm2="2.5"),
        asked("regulator", "seat"),
    )
    # Plug: 5-9-18, three wires soldered 33-48-84, cover and warm up 4-7-14: 42-64-116, mean 69.
    # Regulator: 12-18-35, paste 1-2-4, plugs 4-6-12: 17-26-51, mean 28.67.
    assert minutes(result) == {
        "seat": Minutes(2, 3, 6, 3),
        "Stator plug cut out and joined": Minutes(42, 64, 116, 69),
        "Regulator/rectifier replaced": Minutes(17, 26, 51, 29),
    }
    # Mean 101.07; together 18.39 below and 20.12 above.
    assert (result.band.low, result.band.high) == (82, 122)
    assert wire(result) == {("2.5", ""): 120}
    assert parts(result)["solder 1 mm"] == 480
    assert parts(result)["3:1 adhesive sleeve 6/2"] == 300  # over 3.0 + 1.5 = 4.5 x 1.2 = 5.4 mm
    assert result.rechecks == ("stator_plug", "charging")


def test_looking_at_the_customers_gate() -> None:
    result = estimate_card(
        CardAsked(
            repairs=(
                asked("trace", limit_min="90"),
                asked("charging-check", stator_too="yes"),
            ),
            looked_min=20,
        ),
        BIKE,
        SIZES,
    )
    # Trace: 90 x (0.25-0.55-1) = 22.5-49.5-90, mean 51.75.
    # Check: 18-26-42 and 10-15-28: 28-41-70, mean 43.67.
    assert minutes(result) == {
        "Looking for the fault": Minutes(20, 20, 20, 20),
        "seat": Minutes(2, 3, 6, 3),
        "battery cover": Minutes(3, 4, 8, 5),
        "Trace an electrical fault, by the hour up to a limit": Minutes(22, 50, 90, 52),
        "Charging check": Minutes(28, 41, 70, 44),
    }
    assert result.minutes == Minutes(75, 118, 194, 124)
    # Mean 123.35; together 18.52 below and 20.41 above.
    assert (result.band.low, result.band.high) == (104, 144)
    shop = Shop(
        labour_rate=Decimal(60), looking_rate=Decimal(72), call_out_charge=Decimal(25),
        distance_charge=Decimal("0.45"), currency="EUR",
    )  # fmt: skip
    priced = price(result, shop, (), Travel(call_out=True, distance=Decimal("12.5")))
    assert [line.amount.minor for line in priced.lines] == [
        2400,  # looking 20 min at 72
        300,  # seat 3 min at 60
        500,
        6240,  # trace 52 min at 72
        5280,  # check 44 min at 72
        2500,  # call-out
        1125,  # twice 12.5 km at 0.45
    ]
    assert priced.high == priced.amount + Money(2400, "EUR")  # 20 more minutes at the dearer rate
