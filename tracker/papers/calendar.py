"""Rechecks and promised dates as an iCalendar file (RFC 5545), for any calendar that reads one.

Each date keeps its UID, and its SEQUENCE grows with the record's version, so that a file read in again
moves what was moved. What no longer stands goes out marked as cancelled.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from tracker.papers.say import bike_words, odometer, plain_name
from tracker.records.bike import Bike
from tracker.records.card import Card
from tracker.records.people import Customer
from tracker.records.recheck import Recheck, RecheckState
from tracker.records.shop import Shop

PRODUCT = "-//Loomcard//Rechecks and promises//EN"
_ADDRESS = re.compile(r"[A-Za-z0-9.!#$%&'*+/=?^_`{|}~-]+@[A-Za-z0-9.-]+")


@dataclass(frozen=True, slots=True)
class Appointment:
    """One whole day in the calendar. `made_at` never changes, `sequence` grows with each change."""

    uid: str
    on: date
    summary: str
    words: str
    made_at: datetime
    sequence: int = 0
    cancelled: bool = False


def recheck_appointment(
    recheck: Recheck, *, bike: Bike, customer: Customer | None = None, card: Card | None = None
) -> Appointment:
    """A recheck on the day it is due; cancelled once it is done or not wanted."""
    far = None if recheck.due_odometer is None else odometer(recheck.due_odometer, bike.odometer_unit)
    lines = (
        f"Card {card.number}" if card else "",
        f"or at {far}, whichever comes first" if far else "",
        _person(customer),
    )
    return Appointment(
        f"{recheck.token or f'recheck-{recheck.id}'}@loomcard",
        recheck.due_on,
        f"Recheck ({plain_name(recheck.reason)}): {bike_words(bike)}",
        "\n".join(line for line in lines if line),
        recheck.at,
        recheck.version - 1,
        recheck.state in {RecheckState.DONE, RecheckState.NOT_WANTED},
    )


def promise_appointment(
    card: Card, *, bike: Bike | None = None, customer: Customer | None = None, over: bool = False
) -> Appointment | None:
    """The day for which a card is promised; None where none is. `over` when it is not waited for any more."""
    if card.promised_on is None:
        return None
    what = bike_words(bike) if bike else card.unit
    return Appointment(
        f"{card.token or f'card-{card.id}'}-promised@loomcard",
        card.promised_on,
        f"Promised: {what}, card {card.number}",
        "\n".join(part for part in (card.complaint, _person(customer)) if part),
        card.came_at,
        card.version - 1,
        over,
    )


def calendar(appointments: Iterable[Appointment], shop: Shop) -> bytes:
    """The dates that stand, as a calendar to be read in (METHOD PUBLISH), in UTF-8."""
    return _written((one for one in appointments if not one.cancelled), "PUBLISH", shop)


def cancellations(appointments: Iterable[Appointment], shop: Shop) -> bytes:
    """The dates that no longer stand, as a calendar that takes them out again (METHOD CANCEL), in UTF-8."""
    return _written((one for one in appointments if one.cancelled), "CANCEL", shop)


def _person(customer: Customer | None) -> str:
    return "" if customer is None else ", ".join(part for part in (customer.name, customer.phone) if part)


def _written(appointments: Iterable[Appointment], method: str, shop: Shop) -> bytes:
    from icalendar import Calendar, Event, vCalAddress, vText

    whole = Calendar()
    whole.add("prodid", PRODUCT)
    whole.add("version", "2.0")
    whole.add("method", method)
    for one in sorted(appointments, key=lambda one: (one.on, one.uid)):
        event = Event()
        event.add("uid", one.uid)
        event.add("dtstamp", one.made_at.astimezone(UTC))
        event.add("dtstart", one.on)
        event.add("dtend", one.on + timedelta(days=1))
        event.add("summary", one.summary)
        if one.words:
            event.add("description", one.words)
        event.add("sequence", one.sequence)
        event.add("status", "CANCELLED" if one.cancelled else "CONFIRMED")
        event.add("transp", "TRANSPARENT")
        if _ADDRESS.fullmatch(shop.email):
            organizer = vCalAddress(f"mailto:{shop.email}")
            if shop.name and "\\" not in shop.name:  # readers differ on whether it escapes what follows
                organizer.params["CN"] = vText(shop.name)
            event.add("organizer", organizer)
        whole.add_component(event)
    return bytes(whole.to_ical())
