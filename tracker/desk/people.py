"""Customers: adding, changing, and taking the right one by what was typed."""

from dataclasses import dataclass, fields
from typing import Annotated, ClassVar

from tracker.desk.ask import Ask, raise_all
from tracker.desk.turn import Turn
from tracker.errors import NotFoundError
from tracker.records.bike import Bike
from tracker.records.people import Customer, CustomerKind, Ownership, Role
from tracker.records.problem import Mistakes, Problem
from tracker.records.text import fold, squeeze
from tracker.store.reader import Reader


def customer_named(reader: Reader, name: str) -> Customer:
    """The customer of this id, name or phone; raises NotFoundError, or Mistakes when several fit."""
    wanted = name.strip()
    if wanted.isdigit() and len(wanted) < 6 and (found := reader.first(Customer, id=int(wanted))):
        return found
    near = [reader.get(Customer, row) for _, row in reader.find(wanted, [Customer], most=50)]
    exact = [
        c for c in near if fold(c.name) == fold(wanted) or (c.phone and squeeze(c.phone) == squeeze(wanted))
    ]
    fitting = exact or near
    if len(fitting) == 1:
        return fitting[0]
    if not fitting:
        raise NotFoundError(f"There is no customer “{name}”.", "loomcard customer add NAME adds one.")
    which = "; ".join(f"{c.id} {c.name} {c.phone[-4:]}" for c in fitting[:6])
    raise Mistakes([Problem("customer", "Several customers fit.", f"Take one by its number: {which}.", name)])


def owner_of(reader: Reader, bike: Bike) -> Customer | None:
    """The bike's present owner, where one is known."""
    now = [o for o in reader.all(Ownership, bike=bike.id, role=Role.OWNER, newest=True) if o.until is None]
    return reader.get(Customer, now[0].customer) if now else None


def email_problem(email: str | None) -> Problem | None:
    """A plain look at an address: one @ with something on both sides and no blanks."""
    if not email:
        return None
    name, _, place = email.partition("@")
    if not name or "." not in place or " " in email or email.count("@") != 1:
        return Problem("email", "This is not an e-mail address.", "For instance nia@example.org.", email)
    return None


@dataclass(frozen=True, slots=True, kw_only=True)
class AddCustomer:
    """Add a customer."""

    verb: ClassVar[str] = "customer"

    name: Annotated[str, Ask("Name", place=1)]
    phone: Annotated[str, Ask("Phone")] = ""
    email: Annotated[str, Ask("E-mail")] = ""
    address: Annotated[str, Ask("Address", lines=True)] = ""
    kind: Annotated[CustomerKind, Ask("Settles", "private, account or insurer")] = CustomerKind.PRIVATE
    tax_number: Annotated[str, Ask("Tax number")] = ""
    terms_days: Annotated[int, Ask("Days to pay", "for an account", least=0, most=365)] = 0
    reminders: Annotated[bool, Ask("Leave to send rechecks", "yes or no")] = True
    notes: Annotated[str, Ask("Notes", lines=True)] = ""

    def problems(self, turn: Turn) -> list[Problem | None]:
        """What cannot be right of a customer."""
        del turn
        return [email_problem(self.email)]

    def work(self, turn: Turn) -> Customer:
        """Adds the customer; the same name with the same phone is said, and taken as it is."""
        raise_all(self.problems(turn))
        for _, row in turn.unit.find(self.name, [Customer]):
            known = turn.unit.get(Customer, row)
            if fold(known.name) == fold(self.name) and squeeze(known.phone) == squeeze(self.phone):
                turn.note(f"{known.name} was here already (number {known.id}).")
                turn.say(f"customer {known.name}: known already")
                return known
        made = turn.unit.insert(Customer(**{f.name: getattr(self, f.name) for f in fields(self)}))
        turn.say(f"customer {made.name} added")
        return made


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeCustomer:
    """Change a customer; what is not named stays."""

    verb: ClassVar[str] = "customer"

    customer: Annotated[str, Ask("Customer", "number, name or phone", place=1)]
    name: Annotated[str | None, Ask("Name")] = None
    phone: Annotated[str | None, Ask("Phone")] = None
    email: Annotated[str | None, Ask("E-mail")] = None
    address: Annotated[str | None, Ask("Address", lines=True)] = None
    kind: Annotated[CustomerKind | None, Ask("Settles", "private, account or insurer")] = None
    tax_number: Annotated[str | None, Ask("Tax number")] = None
    terms_days: Annotated[int | None, Ask("Days to pay", least=0, most=365)] = None
    reminders: Annotated[bool | None, Ask("Leave to send rechecks", "yes or no")] = None
    notes: Annotated[str | None, Ask("Notes", lines=True)] = None

    def work(self, turn: Turn) -> Customer:
        """Changes what is named."""
        raise_all([email_problem(self.email)])
        customer = customer_named(turn.unit, self.customer)
        names = [f.name for f in fields(self) if f.name != "customer" and getattr(self, f.name) is not None]
        changed = turn.unit.change(customer, **{name: getattr(self, name) for name in names})
        turn.say(f"customer {changed.name}: {', '.join(names) or 'nothing'} changed")
        return changed


def give(turn: Turn, bike: Bike, customer: Customer, role: Role = Role.OWNER) -> None:
    """Ties a person to a bike from today on; another owner's tie ends today."""
    if role is Role.OWNER:
        for tie in turn.unit.all(Ownership, bike=bike.id, role=Role.OWNER, until=None):
            if tie.customer == customer.id:
                return
            turn.unit.change(tie, until=turn.today)
    elif turn.unit.first(Ownership, bike=bike.id, customer=customer.id, role=role, until=None):
        return
    turn.unit.insert(Ownership(bike=bike.id, customer=customer.id, role=role, since=turn.today))
