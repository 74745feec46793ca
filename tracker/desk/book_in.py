"""Booking in: who, which bike, what is wrong, leave to look. A known bike takes a registration and a word."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, ClassVar

from tracker.desk.ask import Ask, Minutes, raise_all
from tracker.desk.bikes import AddBike, answer_features, bike_named, feature_problems
from tracker.desk.coming import leave_to_look, odometer_note, take_in, waiting_for
from tracker.desk.known import Known, tried
from tracker.desk.people import customer_named, email_problem, give, owner_of
from tracker.desk.turn import Turn
from tracker.errors import NotFoundError
from tracker.records.bike import UNKNOWN, Bike, DistanceUnit, Earth
from tracker.records.card import Card, CardKind, Symptom, SymptomKind
from tracker.records.money import Money
from tracker.records.people import Customer, CustomerKind, Role
from tracker.records.problem import Mistakes, Problem
from tracker.records.shop import Mode
from tracker.records.text import fold, squeeze

HEAD = ("came_how", "marks", "keys", "stands", "call_out", "claim", "notes")
"""What is told at the counter of a bike that was announced, where anything is."""
PEOPLE = ("payer", "rider")


@dataclass(frozen=True, slots=True, kw_only=True)
class BookIn:
    """Book a bike, project or loose unit in: who, which, what is wrong; or that it is to come (--comes)."""

    verb: ClassVar[str] = "book-in"

    bike: Annotated[str, Ask("Bike", "number, registration or frame number of a known one", place=1)] = ""
    complaint: Annotated[str, Ask("Complaint", "in the customer's words", lines=True, place=2)] = ""
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
    comes: Annotated[date | None, Ask("Comes on", "a bike still to come: tomorrow, fri, +7")] = None
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
    claim: Annotated[str, Ask("Payer's number", "an order or claim number, for the invoice")] = ""
    excess: Annotated[Money | None, Ask("Excess", "what the customer pays beside an insurer")] = None
    comeback_of: Annotated[str, Ask("Comeback of", "the first card's number")] = ""
    charged: Annotated[bool, Ask("Charged", "a comeback may be free")] = True
    notes: Annotated[str, Ask("Notes", lines=True)] = ""
    another: Annotated[bool, Ask("Another card", "beside one that waits for this bike")] = False

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

    def _look(self, turn: Turn) -> Known:
        kind = self._kind(turn)
        problems: list[Problem] = []
        bike = tried(problems, "bike", lambda: bike_named(turn.unit, self.bike)) if self.bike else None
        customer = self._customer(turn, problems, bike)
        payer = (
            tried(problems, "payer", lambda: customer_named(turn.unit, self.payer)) if self.payer else None
        )
        rider = (
            tried(problems, "rider", lambda: customer_named(turn.unit, self.rider)) if self.rider else None
        )
        first = (
            tried(problems, "comeback_of", lambda: turn.card(self.comeback_of)) if self.comeback_of else None
        )
        new_bike = self._new_bike() if not self.bike and kind is not CardKind.UNIT else None
        waits = waiting_for(turn, bike) if bike and not self.another and self.comes is None else None
        problems += self._own_problems(turn, kind, bike, new_bike, first)
        if not self.complaint and waits is None:
            problems.append(Problem("complaint", "Complaint: this is needed.", "In the customer's words."))
        return Known(kind, bike, customer, payer, rider, first, new_bike, waits, tuple(problems))

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
        if known.waits is not None:
            return self._it_came(turn, known, known.waits)
        if bike is not None:
            odometer_note(turn, bike, self.odometer)
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
                comes_on=self.comes,
                claim=self.claim,
            )
        )
        if bike is not None and new_bike is None:
            answer_features(turn, bike, self.features or {}, card)
        self._symptoms(turn, card)
        leave_to_look(turn, card, self.look_limit, self.look_amount)
        what = bike.name if bike else self.unit
        verb = "booked in" if self.comes is None else f"is to come on {self.comes}"
        turn.say(f"card {number}: {what} {verb}, {self.complaint[:60]}", card)
        return card

    def _it_came(self, turn: Turn, known: Known, waits: Card) -> Card:
        """The bike has a card already, written when it was announced: that one is taken, with what is new."""
        told: dict[str, Any] = {name: getattr(self, name) for name in HEAD if getattr(self, name)}
        told |= {"promised_on": self.promised, "road_test": self.road_test, "odometer": self.odometer}
        told["excess_minor"] = self.excess.minor if self.excess else None
        told["distance"] = None if self.distance is None else float(self.distance)
        told |= {
            name: person.id for name in PEOPLE if (person := getattr(known, name)) and getattr(self, name)
        }
        if self.complaint and fold(self.complaint) not in fold(waits.complaint):
            told["complaint"] = f"{waits.complaint}\n{self.complaint}"
        card = take_in(turn, waits, **told)
        if known.bike is not None:
            answer_features(turn, known.bike, self.features or {}, card)
        self._symptoms(turn, card)
        leave_to_look(turn, card, self.look_limit, self.look_amount)
        turn.note(f"Card {card.number} was waiting for this bike: it is that one. --another opens a second.")
        turn.say(f"card {card.number}: it came", card)
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
        for name, day in (("promised", self.promised), ("comes", self.comes)):
            if day is not None and day < turn.today:
                found.append(Problem(name, "That day is past.", given=day.isoformat()))
        if self.comes is not None and self.promised is not None and self.promised < self.comes:
            found.append(Problem("promised", "It cannot be ready before it comes."))
        if first is not None and bike is not None and first.bike != bike.id:
            found.append(
                Problem("comeback_of", f"Card {first.number} was for another bike.", given=self.comeback_of)
            )
        return [problem for problem in found if problem is not None]

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
