"""The trail of a trace on paper: why looking took as long as it did, check by check, and what it found."""

import re
from collections.abc import Mapping
from typing import Final

from tracker.papers.loom_words import loom_words
from tracker.papers.own_words import line_words
from tracker.papers.paper import Block, Column, ColumnKind, Pair, Pairs, Paper, Table, Words, WordsKind, some
from tracker.papers.parties import about_pairs, customer_party, shop_party
from tracker.papers.say import minutes, moment, number, read_off
from tracker.papers.tongue import mark, t
from tracker.records.card import Symptom, SymptomKind
from tracker.records.facts import CardFacts
from tracker.records.shop import Shop
from tracker.records.trace import CheckWord, TraceFault
from tracker.records.trail import Blamed, Spot, Trail, TrailStep

CHECKS: Final[Mapping[CheckWord, str]] = {
    "see": mark("look at: {place}"),
    "click": mark("listen for: {place}"),
    "look at a fuse": mark("look at the fuse: {place}"),
    "look at a bulb": mark("look at the bulb: {place}"),
    "look at a plug": mark("look into the plug: {place}"),
    "battery volts": mark("volts across the battery's posts"),
    "volts": mark("volts at: {place}"),
    "volts at the foot": mark("volts behind the load: {place}"),
    "AC volts": mark("AC volts: {place} to {against}"),
    "drop": mark("drop: {place} to {against}"),
    "swap a bulb": mark("another bulb in: {place}"),
    "swap a relay": mark("another relay in: {place}"),
    "bridge a switch": mark("switch bridged: {place}"),
    "unplug": mark("plug parted: {place}"),
    "earth the lead": mark("lead to the frame from: {place}"),
    "lamp for the fuse": mark("lamp in the place of the fuse: {place}"),
    "drop across a fuse": mark("millivolts across the fuse: {place}"),
    "wiggle": mark("loom moved at: {place}"),
}
"""What was done, by kind of check."""

FAULTS: Final[Mapping[TraceFault, str]] = {
    "open": mark("{part}: open"),
    "weak": mark("{part}: poor joint"),
    "bulb": mark("{part}: bulb blown"),
    "blown": mark("{part}: blown"),
    "stuck open": mark("{part}: does not close"),
    "stuck closed": mark("{part}: does not open"),
    "shorted": mark("{part}: shorted"),
    "to frame": mark("{part}: chafed through to the frame"),
    "flat": mark("{part}: flat or worn out"),
    "gives too much": mark("{part}: gives too much"),
    "leaks": mark("{part}: lets current back while it stands"),
    "other lamps": mark("{part}: LEDs where it expects bulbs"),
    "as built": mark("{part}: nothing broken, it is made so"),
}
"""What can be wrong with a part."""

SHOWN: Final = (
    mark("dead"), mark("weak"), mark("works"), mark("blown"), mark("whole"), mark("broken"), mark("bad"),
    mark("good"), mark("clicks"), mark("silent"), mark("chatters"), mark("cured"), mark("no change"),
    mark("bright"), mark("dim"), mark("dark"), mark("changes"), mark("steady"),
)  # fmt: skip
"""What a check without a meter shows."""

SIDES: Final = {"in": mark("incoming side"), "out": mark("outgoing side")}

WHEN: Final = (mark("at full lock"), mark("wet"), mark("hot"), mark("shaken"), mark("at times"))
"""When a symptom shows alone."""

ABOUT: Final = mark("about {value} {unit}")
BETWEEN: Final = mark("{low} to {high} {unit}")
LESS: Final = mark("(battery less {value})")
_ABOUT = re.compile(r"about (?P<value>-?\d+(?:\.\d+)?) (?P<unit>\S+(?: AC)?)")
_BETWEEN = re.compile(r"(?P<low>-?\d+(?:\.\d+)?) to (?P<high>-?\d+(?:\.\d+)?) (?P<unit>\S+(?: AC)?)")
_LESS = re.compile(r"(?P<first>.+) \(battery less (?P<value>\d+(?:\.\d+)?)\)")
_READ = re.compile(r"(?P<value>-?\d+(?:[.,]\d+)?) (?P<unit>m?V)")


def trail_paper(facts: CardFacts, trail: Trail) -> Paper:
    """The trail of a card's trace. Without a step it says what was seen, and that nothing was checked."""
    return Paper(
        t("Why looking took {minutes}", minutes=minutes(trail.clocked or round(trail.minutes)))
        if trail.steps
        else t("What was looked at"),
        facts.card.number,
        (shop_party(facts.shop), *((customer_party(facts.customer),) if facts.customer else ())),
        some(
            Pairs(about_pairs(facts.card, facts.bike), columns=2),
            Words(
                tuple(_seen(one, load) for one, load in trail.symptoms), WordsKind.LIST, t("What was seen")
            ),
            _steps(trail, facts.shop),
            _taken(trail),
            _found(facts, trail),
            Words((t(LAST),)),
        ),
    )


LAST = mark(
    "Minutes are those usual for each check, with what has to come off first; a check that rules much out in"
    " few minutes comes first. A reading that was doubted is kept and counts for nothing."
)


def _seen(one: Symptom, load: str) -> str:
    """“dead: tail lamp (only when hot)”."""
    named = loom_words(load) if load else one.words
    if one.kind is SymptomKind.COMES_ON_WITH and one.words:
        named = f"{named} ({one.words})"
    when = f" ({t(one.when)})" if one.when else ""
    return f"{t(str(one.kind))}: {named}{when}"


def _steps(trail: Trail, shop: Shop) -> Table:
    columns = (
        Column(t("No."), ColumnKind.FIGURES),
        Column(t("Check")),
        Column(t("Expected")),
        Column(t("Read")),
        Column(t("Ruled out")),
        Column(t("Minutes"), ColumnKind.FIGURES),
    )
    return Table(columns, tuple(_row(one, shop) for one in trail.steps), t("Checks in the order made"))


def _row(one: TrailStep, shop: Shop) -> tuple[str, ...]:
    who = t("{day} by {who}", day=moment(one.at, shop), who=one.by) if one.by else moment(one.at, shop)
    off = [t("off for it: {what}", what=line_words(words)) for words, _ in one.off]
    lines = [check_words(one), loom_words(one.state), *off, who]
    took = [number(one.minutes), *(f"+ {number(each)}" for _, each in one.off)]
    return (
        str(one.number),
        "\n".join(line for line in lines if line),
        "\n".join(_shown(part) for part in one.expected.split(" / ") if part),
        _shown(one.read),
        _out(one),
        "\n".join(took),
    )


def check_words(one: TrailStep) -> str:
    """What was done and where."""
    said = t(
        CHECKS[one.check],
        place=_spot(one.place),
        against=_spot(one.against) if one.against else "",
    )
    if one.against and "{against}" not in CHECKS[one.check] and one.check != "battery volts":
        said = f"{said}, {_spot(one.against)}"
    return f"{said}, {loom_words(one.load)}" if one.load else said


def _spot(spot: Spot) -> str:
    words = loom_words(spot.words)
    said = t(words) if words == spot.words else words
    return f"{said} ({t(SIDES[spot.side])})" if spot.side in SIDES else said


def _shown(text: str) -> str:
    """What was expected or read: figures as they are written here, words of ours said."""
    if found := _LESS.fullmatch(text):
        return f"{_shown(found['first'])} {t(LESS, value=_figure(found['value']))}"
    if found := _ABOUT.fullmatch(text):
        return t(ABOUT, value=_figure(found["value"]), unit=found["unit"])
    if found := _BETWEEN.fullmatch(text):
        return t(BETWEEN, low=_figure(found["low"]), high=_figure(found["high"]), unit=found["unit"])
    if found := _READ.fullmatch(text):
        return f"{_figure(found['value'])} {found['unit']}"
    return t(text) if text in SHOWN else text


def _figure(text: str) -> str:
    """With the noughts it was read with."""
    plain = text.replace(",", ".")
    return read_off(float(plain), plain)


def _out(one: TrailStep) -> str:
    if one.doubted:
        return t("doubted: counts for nothing")
    if not one.counts:
        return t("cannot be: counts for nothing")
    lines = [blamed_words(each) for each in one.out]
    if one.out_count > len(one.out):
        lines.append(t("and {count} more", count=one.out_count - len(one.out)))
    left = t("{count} still can be", count=one.left)
    return "\n".join([*(lines or [t("nothing yet")]), left])


def blamed_words(one: Blamed) -> str:
    """“tail lamp: bulb blown”; of several faults at once, each."""
    said = [t(FAULTS[fault], part=loom_words(part)) for part, fault in one.faults]
    return f" {t('and')} ".join(said)


def _taken(trail: Trail) -> Block:
    pairs = [Pair(t("The checks together"), minutes(round(trail.minutes)))] if trail.steps else []
    if trail.clocked:
        pairs.append(Pair(t("Clocked for looking"), minutes(trail.clocked)))
    if trail.opened:
        pairs.append(Pair(t("Off anyway"), ", ".join(line_words(one) for one in trail.opened)))
    return Pairs(tuple(pairs), t("What it took"))


def _found(facts: CardFacts, trail: Trail) -> Block:
    written = [one.words for one in sorted(facts.findings, key=lambda one: one.id)]
    if written:
        return Words(tuple(written), WordsKind.LIST, t("What was found"))
    if trail.found:
        return Words(tuple(map(blamed_words, trail.found)), WordsKind.LIST, t("What it comes down to"))
    said = t("Not found yet.") if trail.steps else t("Nothing was checked yet.")
    return Words((said,), title=t("What was found"))
