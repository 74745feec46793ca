"""The people: who mends, who owns, rides and pays."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from tracker.records.row import Kept


class CustomerKind(StrEnum):
    """How a customer settles: a private person before collecting, an account after, an insurer for others."""

    PRIVATE = "private"
    ACCOUNT = "account"
    INSURER = "insurer"


class Role(StrEnum):
    """What a person is to a bike."""

    OWNER = "owner"
    RIDER = "rider"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mechanic(Kept):
    """Somebody who works here. `key` is the one letter that chooses them at the keyboard."""

    name: str
    key: str = ""
    active: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Customer(Kept):
    """A customer. `terms_days` counts from the invoice's date; `reminders` is leave to send rechecks."""

    name: str
    phone: str = ""
    email: str = ""
    address: str = ""
    kind: CustomerKind = CustomerKind.PRIVATE
    tax_number: str = ""
    terms_days: int = 0
    reminders: bool = True
    notes: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ownership(Kept):
    """A person's tie to a bike, half-open in time: `until` is the first day it no longer holds."""

    bike: int
    customer: int
    role: Role = Role.OWNER
    since: date | None = None
    until: date | None = None
