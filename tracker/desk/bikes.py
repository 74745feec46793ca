"""Bikes: adding, changing, the few answers that decide a loom, and taking the right one by what was typed."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Annotated, ClassVar

from tracker.desk.ask import Ask, raise_all
from tracker.desk.people import customer_named, give
from tracker.desk.turn import Turn
from tracker.errors import NotFoundError
from tracker.records.bike import UNKNOWN, Bike, BikeFeature, DistanceUnit, Earth
from tracker.records.card import Card
from tracker.records.people import Customer, Ownership, Role
from tracker.records.problem import Mistakes, Problem
from tracker.records.text import squeeze
from tracker.store.reader import Reader

HIGH_VOLTAGE = (
    "Bikes with a high-voltage pack are outside what this program is for; they need licensed practice and"
    " the maker's procedure."
)


def bike_named(reader: Reader, name: str) -> Bike:
    """The bike of this id, registration or frame-number tail; NotFoundError or, if several fit, Mistakes."""
    wanted = squeeze(name)
    if name.strip().isdigit() and len(wanted) < 6 and (found := reader.first(Bike, id=int(wanted))):
        return found
    near = [reader.get(Bike, row) for _, row in reader.find(name, [Bike], most=50)]
    exact = [b for b in near if wanted in (squeeze(b.registration), squeeze(b.vin))]
    fitting = exact or near
    if len(fitting) == 1:
        return fitting[0]
    if not fitting:
        raise NotFoundError(
            f"There is no bike “{name}”.",
            "loomcard bike add MAKE adds one; book-in takes a new one by --make.",
        )
    which = "; ".join(f"{b.id} {b.name} {b.registration}" for b in fitting[:6])
    raise Mistakes([Problem("bike", "Several bikes fit.", f"Take one by its number: {which}.", name)])


def last_odometer(reader: Reader, bike: Bike) -> int | None:
    """The last odometer figure written on a card of this bike."""
    for card in reader.all(Card, bike=bike.id, order="came_at", newest=True):
        if card.odometer is not None:
            return card.odometer
    return None


def feature_problems(turn: Turn, answers: Mapping[str, str]) -> list[Problem]:
    """Answers that no question of the loom has; “don't know” is always one."""
    from tracker.seedfiles.loom import load_pattern

    if not answers:
        return []
    asked = load_pattern(turn.seeds).known.features
    found: list[Problem] = []
    for name, answer in answers.items():
        if name not in asked:
            found.append(
                Problem(f"features.{name}", "The loom asks no such thing.", f"One of: {', '.join(asked)}.")
            )
        elif answer != UNKNOWN and answer not in asked[name].values:
            choices = ", ".join([*asked[name].values, UNKNOWN])
            found.append(
                Problem(f"features.{name}", "This is not one of the answers.", f"One of: {choices}.", answer)
            )
    return found


def answer_features(turn: Turn, bike: Bike, answers: Mapping[str, str], card: Card | None = None) -> None:
    """Keeps the answers; what was answered before is changed, so that a bike has one answer to a question."""
    for name, answer in answers.items():
        kept = turn.unit.first(BikeFeature, bike=bike.id, feature=name)
        if kept is None:
            turn.unit.insert(
                BikeFeature(
                    bike=bike.id, feature=name, answer=answer, card=card.id if card else None, at=turn.at
                )
            )
        else:
            turn.unit.change(kept, answer=answer, card=card.id if card else kept.card, at=turn.at)


def bike_problems(turn: Turn, year: int | None, volts: int | None, vin: str | None) -> list[Problem | None]:
    """What cannot be true of a bike; a frame number that only looks odd is said, never refused."""
    found: list[Problem | None] = []
    if year is not None and not 1885 <= year <= turn.today.year + 1:
        found.append(
            Problem("year", f"A year from 1885 to {turn.today.year + 1} is expected.", given=str(year))
        )
    if volts is not None and volts > 24:
        found.append(Problem("volts", HIGH_VOLTAGE, given=str(volts)))
    elif volts is not None and volts not in (0, 6, 12, 24):
        found.append(Problem("volts", "6, 12 or 24 is expected; 0 for a bike without.", given=str(volts)))
    if vin:
        from tracker.electrics.vin import vin as check_digit

        checked = check_digit(vin=vin)
        if checked.verdict != "valid":
            for words in checked.why:
                turn.note(words)
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class AddBike:
    """Add a bike, with the few answers that decide its loom."""

    verb: ClassVar[str] = "bike"

    make: Annotated[str, Ask("Make", place=1)]
    model: Annotated[str, Ask("Model")] = ""
    year: Annotated[int | None, Ask("Year")] = None
    registration: Annotated[str, Ask("Registration")] = ""
    vin: Annotated[str, Ask("Frame number")] = ""
    colour: Annotated[str, Ask("Colour")] = ""
    owner: Annotated[str, Ask("Owner", "a customer's number, name or phone")] = ""
    odometer_unit: Annotated[DistanceUnit | None, Ask("Odometer counts", "km or mi")] = None
    earth: Annotated[Earth, Ask("Earth", "negative, positive, none or don't know")] = Earth.UNKNOWN
    volts: Annotated[int | None, Ask("Volts", "6, 12, 24; 0 without")] = None
    battery_kind: Annotated[str, Ask("Battery", "flooded, agm, gel, lithium, none or don't know")] = UNKNOWN
    battery_ah: Annotated[float | None, Ask("Battery Ah", least=0, most=200)] = None
    wheelbase_mm: Annotated[int | None, Ask("Wheelbase", "mm", least=600, most=2500)] = None
    features: Annotated[dict[str, str] | None, Ask("Loom", "question=answer, as fuel=injection")] = None
    notes: Annotated[str, Ask("Notes", lines=True)] = ""

    def work(self, turn: Turn) -> Bike:
        """Adds the bike, its owner and its answers."""
        raise_all(self.problems(turn))
        bike = self.add(turn)
        turn.say(f"bike {bike.name} {bike.registration} added")
        return bike

    def problems(self, turn: Turn) -> list[Problem | None]:
        """Every mistake in the fields."""
        found = bike_problems(turn, self.year, self.volts, self.vin)
        found += feature_problems(turn, self.features or {})
        if self.registration:
            for _, row in turn.unit.find(self.registration, [Bike]):
                other = turn.unit.get(Bike, row)
                if squeeze(other.registration) == squeeze(self.registration):
                    found.append(
                        Problem(
                            "registration",
                            f"That is bike {other.id}, {other.name}.",
                            "Take that one, or end its registration there first.",
                            self.registration,
                        )
                    )
        return found

    def add(self, turn: Turn, owner: Customer | None = None) -> Bike:
        """The writes, for deeds that add a bike on the way."""
        plain = [f.name for f in fields(self) if f.name not in {"owner", "features", "odometer_unit"}]
        bike = turn.unit.insert(
            Bike(
                **{name: getattr(self, name) for name in plain},
                odometer_unit=self.odometer_unit or turn.shop.distance_unit,
            )
        )
        owner = owner or (customer_named(turn.unit, self.owner) if self.owner else None)
        if owner is not None:
            give(turn, bike, owner)
        answer_features(turn, bike, self.features or {})
        return bike


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeBike:
    """Change a bike, its owner or an answer about its loom; what is not named stays."""

    verb: ClassVar[str] = "bike"

    bike: Annotated[str, Ask("Bike", "number, registration or frame number", place=1)]
    make: Annotated[str | None, Ask("Make")] = None
    model: Annotated[str | None, Ask("Model")] = None
    year: Annotated[int | None, Ask("Year")] = None
    registration: Annotated[str | None, Ask("Registration")] = None
    vin: Annotated[str | None, Ask("Frame number")] = None
    colour: Annotated[str | None, Ask("Colour")] = None
    owner: Annotated[str, Ask("New owner", "a customer's number, name or phone")] = ""
    rider: Annotated[str, Ask("Rider", "a customer's number, name or phone")] = ""
    odometer_unit: Annotated[DistanceUnit | None, Ask("Odometer counts", "km or mi")] = None
    earth: Annotated[Earth | None, Ask("Earth", "negative, positive, none or don't know")] = None
    volts: Annotated[int | None, Ask("Volts", "6, 12, 24; 0 without")] = None
    battery_kind: Annotated[str | None, Ask("Battery", "flooded, agm, gel, lithium, none or don't know")] = (
        None
    )
    battery_ah: Annotated[float | None, Ask("Battery Ah", least=0, most=200)] = None
    wheelbase_mm: Annotated[int | None, Ask("Wheelbase", "mm", least=600, most=2500)] = None
    features: Annotated[dict[str, str] | None, Ask("Loom", "question=answer")] = None
    notes: Annotated[str | None, Ask("Notes", lines=True)] = None

    def work(self, turn: Turn) -> Bike:
        """Changes what is named. A new owner ends the old one's tie today; open rechecks are asked about."""
        bike = bike_named(turn.unit, self.bike)
        raise_all(
            [
                *bike_problems(turn, self.year, self.volts, self.vin),
                *feature_problems(turn, self.features or {}),
            ]
        )
        apart = {"bike", "owner", "rider", "features"}
        names = [f.name for f in fields(self) if f.name not in apart and getattr(self, f.name) is not None]
        changed = turn.unit.change(bike, **{name: getattr(self, name) for name in names})
        if self.owner:
            give(turn, bike, customer_named(turn.unit, self.owner))
            turn.note("A new owner: ask whether rechecks that are open should go on.")
        if self.rider:
            give(turn, bike, customer_named(turn.unit, self.rider), Role.RIDER)
        answer_features(turn, bike, self.features or {})
        turn.say(f"bike {changed.name}: {', '.join(names) or 'answers'} changed")
        return changed


def people_of(reader: Reader, bike: Bike) -> tuple[tuple[Ownership, Customer], ...]:
    """Everybody tied to the bike, the newest tie first."""
    ties = reader.all(Ownership, bike=bike.id, newest=True)
    return tuple((tie, reader.get(Customer, tie.customer)) for tie in ties)
