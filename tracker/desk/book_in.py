"""Booking in: who, which bike, what is wrong, leave to look. A known bike takes a registration and a word."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, ClassVar, TypeVar

from tracker.desk.ask import Ask, Minutes, raise_all
from tracker.desk.bikes import AddBike, answer_features, bike_named, feature_problems, last_odometer
from tracker.desk.people import customer_named, email_problem, give, owner_of
from tracker.desk.turn import Turn
from tracker.errors import NotFoundError
from tracker.records.bike import UNKNOWN, Bike, DistanceUnit, Earth
from tracker.records.card import Card, CardKind, GoAhead, GoAheadFor, Symptom, SymptomKind
from tracker.records.money import Money
from tracker.records.people import Customer, CustomerKind, Role
from tracker.records.problem import Mistakes, Problem
from tracker.records.shop import Mode
from tracker.records.text import fold, squeeze

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class BookIn:
    """Book a bike, a project or a loose unit in: who, which, what is wrong, leave to look."""

    verb: ClassVar[str] = "book-in"

    bike: Annotated[str, Ask("Bike", "number, registration or frame number of a known one", place=1)] = ""
    complaint: Annotated[str, Ask("Complaint", "in the customer's words", lines=True, place=2)]
    customer: Annotated[str, Ask("Customer", "number, name or phone; a new name is added")] = ""
    phone: Annotated[str, Ask("Phone")] = ""
    email: Annotated[str, Ask("E-mail")] = ""
    address: Annotated[str, Ask("Address", lines=True)] = ""
    settles: Annotated[CustomerKind, Ask("Settles", "private, account or insurer")] = CustomerKind.PRIVATE
    payer: Annotated[str, Ask("Who pays", "when that is another")] = ""
    rider: Annotated[str, Ask("Who rides", "when that is another")] = ""
    make: Annotated[str, Ask("Make", "of a new bike")] = ""
    model: Annotated[str, Ask("Model")] = ""
    year: Annotated[int | None, Ask("Year")] = None
    registration: Annotated[str, Ask("Registration")] = ""
    vin: Annotated[str, Ask("Frame number")] = ""
    odometer_unit: Annotated[DistanceUnit | None, Ask("Odometer counts", "km or mi")] = None
    earth: Annotated[Earth, Ask("Earth", "negative, positive, none or don't know")] = Earth.UNKNOWN
    volts: Annotated[int | None, Ask("Volts", "6, 12, 24; 0 without")] = None
    battery_kind: Annotated[str, Ask("Battery", "flooded, agm, gel, lithium, none or don't know")] = UNKNOWN
    battery_ah: Annotated[float | None, Ask("Battery Ah", least=0, most=200)] = None
    features: Annotated[dict[str, str] | None, Ask("Loom", "question=answer, as fuel=injection")] = None
    kind: Annotated[CardKind | None, Ask("What came in", "bike, unit or project")] = None
    unit: Annotated[str, Ask("Unit", "a loom, stator or box sent in without a bike")] = ""
    odometer: Annotated[int | None, Ask("Odometer", most=2_000_000)] = None
    promised: Annotated[date | None, Ask("Promised for", "2026-12-03, 3 dec, fri, +7")] = None
    dead: Annotated[tuple[str, ...], Ask("Dead")] = ()
    weak: Annotated[tuple[str, ...], Ask("Weak")] = ()
    works: Annotated[tuple[str, ...], Ask("Works")] = ()
    comes_and_goes: Annotated[tuple[str, ...], Ask("Comes and goes")] = ()
    blows_fuse: Annotated[tuple[str, ...], Ask("Blows its fuse")] = ()
    flat_when_parked: Annotated[bool, Ask("Flat when parked")] = False
    look_limit: Annotated[Minutes | None, Ask("Leave to look up to", "1.5 h, 90")] = None
    look_amount: Annotated[Money | None, Ask("or up to", "an amount with tax")] = None
    came_how: Annotated[str, Ask("Came how", "ridden, pushed, van, post")] = ""
    marks: Annotated[str, Ask("Marks", "scratches, dents, what is missing", lines=True)] = ""
    keys: Annotated[str, Ask("Keys", "how many, which tag")] = ""
    stands: Annotated[str, Ask("Stands", "where it is now")] = ""
    road_test: Annotated[bool | None, Ask("Leave to road-test", "yes or no")] = None
    call_out: Annotated[bool, Ask("Call-out", "yes or no")] = False
    distance: Annotated[Decimal | None, Ask("Distance", "one way", least=0, most=5000)] = None
    excess: Annotated[Money | None, Ask("Excess", "what the customer pays beside an insurer")] = None
    comeback_of: Annotated[str, Ask("Comeback of", "the first card's number")] = ""
    charged: Annotated[bool, Ask("Charged", "a comeback may be free")] = True
    notes: Annotated[str, Ask("Notes", lines=True)] = ""

    @classmethod
    def bare(cls, words: tuple[str, ...], given: Mapping[str, object]) -> dict[str, object]:
        """A command's bare words: a known bike first, then the complaint; for a new bike all complaint."""
        if not words:
            return {}
        if given.get("make") or given.get("unit") or given.get("bike"):
            return {"complaint": " ".join(words)}
        return {"bike": words[0], "complaint": " ".join(words[1:])}

    def problems(self, turn: Turn) -> list[Problem | None]:
        """Every mistake that only the file tells."""
        return [*self._look(turn).problems]

    def _look(self, turn: Turn) -> "Known":
        kind = self._kind(turn)
        problems: list[Problem] = []
        bike = _tried(problems, "bike", lambda: bike_named(turn.unit, self.bike)) if self.bike else None
        customer = self._customer(turn, problems, bike)
        payer = (
            _tried(problems, "payer", lambda: customer_named(turn.unit, self.payer)) if self.payer else None
        )
        rider = (
            _tried(problems, "rider", lambda: customer_named(turn.unit, self.rider)) if self.rider else None
        )
        first = (
            _tried(problems, "comeback_of", lambda: turn.card(self.comeback_of)) if self.comeback_of else None
        )
        new_bike = self._new_bike() if not self.bike and kind is not CardKind.UNIT else None
        problems += self._own_problems(turn, kind, bike, new_bike, first)
        return Known(kind, bike, customer, payer, rider, first, new_bike, tuple(problems))

    def work(self, turn: Turn) -> Card:
        """Books in. Everything unknown stays unknown; every mistake is named at once."""
        known = self._look(turn)
        raise_all(known.problems)
        kind, bike, customer, new_bike = known.kind, known.bike, known.customer, known.new_bike
        payer, rider, first = known.payer, known.rider, known.first
        if customer is None and self.customer:
            customer = self._add_customer(turn)
        if new_bike is not None:
            bike = new_bike.add(turn, customer)
        elif bike is not None and customer is not None and owner_of(turn.unit, bike) is None:
            give(turn, bike, customer)
        if bike is not None and rider is not None:
            give(turn, bike, rider, Role.RIDER)
        self._odometer_note(turn, bike)
        number, _, _ = turn.next_number("card")
        card = turn.unit.insert(
            Card(
                number=number,
                kind=kind,
                bike=bike.id if bike else None,
                unit=self.unit,
                customer=customer.id if customer else None,
                payer=payer.id if payer else None,
                rider=rider.id if rider else None,
                complaint=self.complaint,
                came_at=turn.at,
                came_how=self.came_how,
                odometer=self.odometer,
                promised_on=self.promised,
                marks=self.marks,
                keys=self.keys,
                stands=self.stands,
                road_test=self.road_test,
                call_out=self.call_out,
                distance=None if self.distance is None else float(self.distance),
                excess_minor=self.excess.minor if self.excess else None,
                comeback_of=first.id if first else None,
                comeback_charged=self.charged,
                notes=self.notes,
            )
        )
        if bike is not None and new_bike is None:
            answer_features(turn, bike, self.features or {}, card)
        self._symptoms(turn, card)
        self._leave_to_look(turn, card, customer)
        what = bike.name if bike else self.unit
        turn.say(f"card {number}: {what} booked in, {self.complaint[:60]}", card)
        return card

    def _kind(self, turn: Turn) -> CardKind:
        if self.kind is not None:
            return self.kind
        if self.unit:
            return CardKind.UNIT
        return CardKind.PROJECT if turn.shop.mode is Mode.PROJECT else CardKind.BIKE

    def _new_bike(self) -> AddBike | None:
        if not self.make:
            return None
        return AddBike(
            make=self.make,
            model=self.model,
            year=self.year,
            registration=self.registration,
            vin=self.vin,
            odometer_unit=self.odometer_unit,
            earth=self.earth,
            volts=self.volts,
            battery_kind=self.battery_kind,
            battery_ah=self.battery_ah,
            features=self.features,
        )

    def _customer(self, turn: Turn, problems: list[Problem], bike: Bike | None) -> Customer | None:
        if not self.customer:
            return owner_of(turn.unit, bike) if bike else None
        if self.phone:
            near = [turn.unit.get(Customer, row) for _, row in turn.unit.find(self.customer, [Customer])]
            same = [
                c
                for c in near
                if fold(c.name) == fold(self.customer) and squeeze(c.phone) == squeeze(self.phone)
            ]
            return same[0] if same else None
        try:
            return customer_named(turn.unit, self.customer)
        except NotFoundError:
            return None
        except Mistakes as several:
            problems += several.problems
            return None

    def _add_customer(self, turn: Turn) -> Customer:
        return turn.unit.insert(
            Customer(
                name=self.customer,
                phone=self.phone,
                email=self.email,
                address=self.address,
                kind=self.settles,
            )
        )

    def _own_problems(
        self, turn: Turn, kind: CardKind, bike: Bike | None, new_bike: AddBike | None, first: Card | None
    ) -> list[Problem]:
        found: list[Problem | None] = [email_problem(self.email)]
        if kind is CardKind.UNIT and not self.unit:
            found.append(Problem("unit", "Say what was sent in.", "A loom, a stator, a box."))
        if kind is not CardKind.UNIT and not self.bike and new_bike is None:
            found.append(
                Problem("bike", "Which bike?", "A known one by registration, or a new one by --make.")
            )
        if kind is CardKind.BIKE and not self.bike and not self.customer:
            found.append(Problem("customer", "Whose is it?", "A name is enough; --kind project needs none."))
        if new_bike is not None:
            found += new_bike.problems(turn)
        else:
            found += feature_problems(turn, self.features or {})
        if self.promised is not None and self.promised < turn.today:
            found.append(Problem("promised", "That day is past.", given=self.promised.isoformat()))
        if first is not None and bike is not None and first.bike != bike.id:
            found.append(
                Problem("comeback_of", f"Card {first.number} was for another bike.", given=self.comeback_of)
            )
        return [problem for problem in found if problem is not None]

    def _odometer_note(self, turn: Turn, bike: Bike | None) -> None:
        last = last_odometer(turn.unit, bike) if bike else None
        if last is not None and self.odometer is not None and self.odometer < last:
            turn.note(f"The odometer was at {last:,} last time; {self.odometer:,} is less. Kept as written.")

    def _symptoms(self, turn: Turn, card: Card) -> None:
        said = [
            (SymptomKind.DEAD, self.dead),
            (SymptomKind.WEAK, self.weak),
            (SymptomKind.WORKS, self.works),
            (SymptomKind.COMES_AND_GOES, self.comes_and_goes),
            (SymptomKind.BLOWS_FUSE, self.blows_fuse),
        ]
        for kind, loads in said:
            for load in loads:
                turn.unit.insert(Symptom(card=card.id, kind=kind, load=load, words=load, at=turn.at))
        if self.flat_when_parked:
            turn.unit.insert(Symptom(card=card.id, kind=SymptomKind.FLAT_PARKED, at=turn.at))

    def _leave_to_look(self, turn: Turn, card: Card, customer: Customer | None) -> None:
        if self.look_limit is None and self.look_amount is None:
            return
        turn.unit.insert(
            GoAhead(
                card=card.id,
                what=GoAheadFor.LOOK,
                who=customer.name if customer else turn.who,
                how="at book in",
                limit_minor=self.look_amount.minor if self.look_amount else None,
                limit_min=self.look_limit,
                by=turn.who,
                at=turn.at,
            )
        )


@dataclass(frozen=True, slots=True)
class Known:
    """What the file knows of who and what is booked in, and what speaks against it."""

    kind: CardKind
    bike: Bike | None
    customer: Customer | None
    payer: Customer | None
    rider: Customer | None
    first: Card | None
    new_bike: AddBike | None
    problems: tuple[Problem, ...]


def _tried(problems: list[Problem], field: str, look: Callable[[], T]) -> T | None:
    try:
        return look()
    except NotFoundError as error:
        problems.append(Problem(field, error.sentence, error.hint))
    except Mistakes as several:
        problems += [Problem(field, p.sentence, p.hint, p.given) for p in several.problems]
    return None
