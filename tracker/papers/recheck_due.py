"""The due list in plain text, and the message about one recheck."""

from tracker.desk.desk import Desk
from tracker.desk.rechecks_due import DueList, DueRecheck
from tracker.papers.charging_text import judged_short
from tracker.papers.gather import spoken_letter
from tracker.papers.message import Attached, attached_text, message
from tracker.papers.plain import plain
from tracker.papers.readings import how, with_unit
from tracker.papers.recheck_letter import recheck_text
from tracker.papers.say import day, odometer, plain_name
from tracker.papers.tongue import speaking
from tracker.records.width import wrap

WIDTH = 80
LEFT_OUT = "left out: no reminders wanted"


def due_text(found: DueList, until: object) -> str:
    """Whom to ring, day by day, with what to say and how it last read."""
    left = [f"{found.left_out} {LEFT_OUT}."] if found.left_out else []
    if not found.rechecks:
        return "\n".join([f"No recheck is due by {until}.", *left])
    lines = [f"Rechecks due by {until}"]
    on = None
    for one in found.rechecks:
        if one.recheck.due_on != on:
            on = one.recheck.due_on
            lines += ["", day(on)]
        lines += _lines(one)
    return "\n".join([*lines, *(["", *left] if left else [])])


def _lines(one: DueRecheck) -> list[str]:
    recheck, bike = one.recheck, one.facts.bike
    at = (
        f" or at {odometer(recheck.due_odometer, bike.odometer_unit)}"
        if recheck.due_odometer and bike
        else ""
    )
    who = one.person
    lines = _hung(
        "  ", f"{one.row.number}  {plain_name(recheck.reason)}{at}, {recheck.state}: {one.row.bike}"
    )
    lines += _hung("    ", f"ring {who.name}, {who.phone or 'no phone known'}" if who else "nobody to ring")
    if one.tries:
        lines += _hung("    ", f"rung {one.tries} time{'' if one.tries == 1 else 's'}, nobody there")
    if one.ask_owner:
        lines += _hung("    ! ", "The bike has changed hands: ask whether they want it, nothing is assumed.")
    lines += _hung("    ", f"say: {say_words(one)}")
    for reading in one.last:
        said = how(reading)
        words = f"{plain_name(reading.kind)} {with_unit(reading)}, {judged_short(one.judged.get(reading.id))}"
        lines += _hung("    last: ", words + (f" ({said})" if said else ""))
    return lines


def say_words(one: DueRecheck) -> str:
    """What to say on the phone or send as a short message, in the shop's language."""
    assert one.facts.bike is not None
    with speaking(one.facts.shop.language):
        return recheck_text(one.recheck, bike=one.facts.bike, shop=one.facts.shop, customer=one.person)


def recheck_mail(desk: Desk, one: DueRecheck, attached: tuple[Attached, ...] = ()) -> bytes:
    """The letter as a message ready to send; raises Mistakes for what is no mail address of either side."""
    assert one.person is not None
    shop, paper = one.facts.shop, spoken_letter(desk, one)
    return message(
        sender=(shop.name, shop.email),
        to=(one.person.name, one.person.email),
        subject=f"{paper.title}: {one.row.bike}",
        words=plain(paper),
        at=desk.clock.now(),
        attached=attached or (attached_text(paper),),
    )


def _hung(sign: str, words: str) -> list[str]:
    first, *rest = wrap(words, WIDTH - len(sign))
    return [sign + first, *(" " * len(sign) + part for part in rest)]
