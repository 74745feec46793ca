"""A whole invented card for the papers: two repairs, parts, readings, a recheck."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from tracker.papers.known import Known
from tracker.records.bike import Bike, BikeFeature, Earth
from tracker.records.card import (
    Card,
    Finding,
    GoAhead,
    GoAheadFor,
    Phase,
    Reading,
    Symptom,
    SymptomKind,
)
from tracker.records.facts import CardFacts
from tracker.records.people import Customer
from tracker.records.recheck import Recheck
from tracker.records.shop import Shop
from tracker.records.stock import PartWanted, WantedState
from tracker.records.work import Repair
from tracker.seedfiles.readings import load_readings

CAME = datetime(2026, 3, 2, 8, 40, tzinfo=UTC)

SHOP = Shop(
    name="Low Gate Motorcycle Electrics",
    address="3 Low Gate\n1200 Sandwick",
    phone="0155 0100 200",
    email="bench@lowgate.example",
    tax_number="XX 204 118 337",
    zone="Europe/Dublin",
)
BIKE = Bike(
    id=1,
    make="Halden",
    model="650 twin",
    year=1998,
    registration="LKM 412",
    vin="HLD65T98K00041207",
    colour="dark green",
    earth=Earth.NEGATIVE,
    volts=12,
    battery_kind="agm",
    battery_ah=12.0,
)
CUSTOMER = Customer(
    id=1,
    name="Adaeze Oyelaran",
    phone="0155 0199 204",
    email="adaeze@post.example",
    address="12 Quay Lane\n1201 Sandwick",
)
CARD = Card(
    id=1,
    token="4f1c8a6e",
    number="26-0412",
    bike=1,
    customer=1,
    complaint="Flat after two days standing. Left rear indicator dead, the others flash fast.",
    came_at=CAME,
    came_how="in a van, would not start",
    odometer=41230,
    promised_on=date(2026, 3, 6),
    marks="left pannier scratched, right mirror cracked",
    keys="1, tag 14",
    stands="bay 2",
    road_test=True,
)
FEATURES = tuple(
    BikeFeature(bike=1, feature=name, answer=answer, at=CAME)
    for name, answer in (
        ("fuel", "carburettor"),
        ("abs", "no"),
        ("electric-start", "yes"),
        ("cooling", "air"),
        ("indicators", "filament"),
        ("turn-warning", "shared"),
        ("stand-switch", "don't know"),
        ("alternator", "three-phase"),
    )
)
SYMPTOMS = (
    Symptom(id=1, card=1, kind=SymptomKind.FLAT_PARKED, when="two days", at=CAME),
    Symptom(id=2, card=1, kind=SymptomKind.DEAD, load="left rear indicator", at=CAME),
    Symptom(id=3, card=1, kind=SymptomKind.FLASHES_FAST, load="left front indicator", at=CAME),
)
FINDINGS = (
    Finding(id=1, card=1, words="regulator plug burnt, one way loose", circuit="charging", at=CAME),
    Finding(id=2, card=1, words="left rear indicator: earth bullet green with corrosion", at=CAME),
    Finding(
        id=3,
        card=1,
        words="front brake hose touches the loom at full lock",
        left="customer has it seen to at the dealer's",
        told_unsafe=True,
        at=CAME,
    ),
)
CONNECTOR = Repair(
    id=1,
    card=1,
    finding=1,
    rule="connector-replaced",
    asked={"ways": "3", "size_mm2": "3"},
    proves=("regulated_volts", "loaded_drop"),
    words="regulator plug replaced, three ways",
    circuit="charging",
    wire_from="regulator plug",
    wire_to="main fuse",
    mm=60,
    mm_end="regulator plug",
    size_mm2=3.0,
    colour="red",
    tracer="white",
    terminal="6.3 mm sealed blade, tinned",
    connector_old="3-way unsealed, burnt",
    connector_new="3-way sealed, 6.3 series",
    keeps_ways=True,
    sleeve="9.5 mm adhesive-lined",
    length_used_mm=450,
    pull_n=185.0,
    pull_tested=True,
    started_at=CAME + timedelta(days=1),
    done_at=CAME + timedelta(days=1, hours=2),
    done_by="Ines",
)
BULLET = Repair(
    id=2,
    card=1,
    finding=2,
    rule="bullet-pair",
    asked={"size_mm2": "0.75"},
    proves=("drop_earth", "flash_rate"),
    words="earth bullet pair renewed",
    circuit="left rear indicator",
    wire_from="left rear indicator",
    wire_to="rear earth",
    mm=140,
    mm_end="left rear indicator",
    size_mm2=0.75,
    colour="black",
    tracer="green",
    colour_code="Japanese",
    splice="open-barrel crimp",
    terminal="3.9 mm bullet, brass",
    sleeve="6.4 mm adhesive-lined",
    length_used_mm=120,
    pull_tested=False,
    started_at=CAME + timedelta(days=1, hours=3),
    done_at=CAME + timedelta(days=1, hours=4),
    done_by="Ines",
)


def _reading(id_: int, kind: str, value: float | None, unit: str, phase: Phase, **values: object) -> Reading:
    given = {"conditions": {}, "at": CAME + timedelta(hours=id_), "by": "Ines", **values}
    return Reading(id=id_, card=1, bike=1, kind=kind, value=value, unit=unit, phase=phase, **given)  # type: ignore[arg-type]


READINGS = (
    _reading(1, "standing_volts", 12.12, "V", Phase.BEFORE, conditions={"hours_standing": "48"}),
    _reading(2, "regulated_volts", 13.1, "V", Phase.BEFORE, conditions={"rev_min": "5000"}),
    _reading(3, "regulated_volts_lamps", 12.6, "V", Phase.BEFORE, conditions={"rev_min": "5000"}),
    _reading(4, "drain", 0.9, "mA", Phase.BEFORE, state="key off, asleep"),
    _reading(5, "insulation_ohms", None, "ohm", Phase.BEFORE, words="OL", place="stator plug"),
    _reading(6, "drop_earth", 1.42, "V", Phase.BEFORE, place="left rear indicator", repair=2),
    _reading(7, "loaded_drop", 0.88, "V", Phase.BEFORE, place="regulator plug", side="out", repair=1),
    _reading(30, "standing_volts", 12.78, "V", Phase.AFTER, conditions={"hours_standing": "12"}),
    _reading(31, "regulated_volts", 14.3, "V", Phase.AFTER, conditions={"rev_min": "5000"}),
    _reading(32, "regulated_volts_lamps", 14.1, "V", Phase.AFTER, conditions={"rev_min": "5000"}),
    _reading(33, "drop_earth", 0.05, "V", Phase.AFTER, place="left rear indicator", repair=2),
    _reading(34, "flash_rate", 84.0, "/min", Phase.AFTER, place="left rear indicator", repair=2),
    _reading(35, "loaded_drop", 0.06, "V", Phase.AFTER, place="regulator plug", side="out", repair=1),
    _reading(36, "wiggle", 1.0, "yes/no", Phase.AFTER, place="regulator plug", repair=1),
)
JUDGED = {2: "low", 3: "low", 31: "good", 32: "good", 6: "high", 33: "good"}
KNOWN = Known(kinds=load_readings(), places={"rear earth": "earth bolt under the seat"})
WANTED = (
    PartWanted(id=1, card=1, words="3-way sealed connector, 6.3 series", qty=Decimal(1),
               unit_price=Decimal("11.80"), state=WantedState.FITTED, at=CAME),
    PartWanted(id=2, card=1, words="LED tail lamp, brought along", qty=Decimal(1), customers_own=True,
               state=WantedState.HERE, at=CAME),
    PartWanted(id=3, card=1, words="battery, AGM 12 Ah", qty=Decimal(1), unit_price=Decimal("74.50"),
               exchange=True, state=WantedState.ORDERED, expected_on=date(2026, 3, 5), at=CAME),
)  # fmt: skip
GO_AHEADS = (
    GoAhead(id=1, card=1, what=GoAheadFor.LOOK, who="Adaeze Oyelaran", how="at book in", limit_min=90,
            limit_minor=12000, at=CAME),
    GoAhead(id=2, card=1, what=GoAheadFor.WORK, estimate=1, covers=(1, 2), who="Adaeze Oyelaran", how="phone",
            limit_minor=34000, words="Ring before ten if it gets dearer.", at=CAME + timedelta(hours=25)),
)  # fmt: skip
FACTS = CardFacts(
    card=CARD,
    shop=SHOP,
    bike=BIKE,
    customer=CUSTOMER,
    symptoms=SYMPTOMS,
    readings=READINGS,
    findings=FINDINGS,
    go_aheads=GO_AHEADS,
    repairs=(CONNECTOR, BULLET),
    wanted=WANTED,
)
FRESH = replace(FACTS, repairs=tuple(
    replace(one, mm=None, mm_end="", splice="", terminal="", connector_new="", connector_old="", sleeve="",
            keeps_ways=None, length_used_mm=None, pull_n=None, pull_tested=None, done_at=None, done_by="")
    for one in (CONNECTOR, BULLET)
), readings=tuple(one for one in READINGS if one.phase is Phase.BEFORE))  # fmt: skip
"""The same card before anything was mended: what a bench card is printed from."""
RECHECK = Recheck(
    id=1,
    token="a81e2f05",
    card=1,
    bike=1,
    reason="charging",
    anchor_on=date(2026, 3, 6),
    days=28,
    distance=500,
    due_on=date(2026, 4, 3),
    due_odometer=41730,
    by="Ines",
    at=CAME + timedelta(days=4),
)
