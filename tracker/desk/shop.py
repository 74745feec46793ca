"""The shop's settings: rows in the file, read as one record, changed with a journal entry."""

import json
from dataclasses import dataclass, fields
from decimal import Decimal
from enum import StrEnum
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, get_type_hints

from tracker.billing.numbering import pattern_problems
from tracker.clock import zone_named
from tracker.desk.ask import Ask, raise_all
from tracker.errors import WrongUseError
from tracker.records.bike import DistanceUnit
from tracker.records.card import Tolerance
from tracker.records.document import Document, Estimate, Payment
from tracker.records.own_text import RECHECK_PLACES, place_problems
from tracker.records.people import Mechanic
from tracker.records.problem import Problem
from tracker.records.shop import Mode, Rounding, Setting, Shop
from tracker.store.reader import Reader
from tracker.store.unit import Unit

if TYPE_CHECKING:
    from tracker.desk.turn import Turn


def read_shop(reader: Reader) -> Shop:
    """The settings kept in the file over the defaults."""
    kept = {setting.name: setting.value for setting in reader.all(Setting)}
    hints = get_type_hints(Shop)
    values = {f.name: _from_text(hints[f.name], kept[f.name]) for f in fields(Shop) if f.name in kept}
    return Shop(**values)


def set_up(reader: Reader) -> bool:
    """Whether the shop has said who it is."""
    return reader.first(Setting, name="name") is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeSettings:
    """Change the shop's settings; what is not named stays."""

    verb: ClassVar[str] = "settings"

    mode: Annotated[Mode | None, Ask("How you work", "workshop, mobile or project")] = None
    name: Annotated[str | None, Ask("Shop's name")] = None
    address: Annotated[str | None, Ask("Address", lines=True)] = None
    phone: Annotated[str | None, Ask("Phone")] = None
    email: Annotated[str | None, Ask("E-mail")] = None
    tax_number: Annotated[str | None, Ask("Tax number")] = None
    currency: Annotated[str | None, Ask("Currency", "three letters, for instance EUR")] = None
    zone: Annotated[str | None, Ask("Time zone", "for instance Europe/Dublin")] = None
    country: Annotated[str | None, Ask("Country", "two letters, for instance IE")] = None
    language: Annotated[str | None, Ask("Language of papers", "two letters, for instance en or de")] = None
    distance_unit: Annotated[DistanceUnit | None, Ask("Distance", "km or mi")] = None
    taxed: Annotated[bool | None, Ask("Registered for tax", "yes or no")] = None
    tax_rate: Annotated[Decimal | None, Ask("Tax rate", "percent", least=0, most=100)] = None
    prices_with_tax: Annotated[bool | None, Ask("Prices typed with tax", "yes or no")] = None
    labour_rate: Annotated[Decimal | None, Ask("Labour an hour", "without tax", least=0, most=100_000)] = None
    looking_rate: Annotated[Decimal | None, Ask("Looking an hour", "without tax", least=0, most=100_000)] = (
        None
    )
    call_out_charge: Annotated[Decimal | None, Ask("Call-out", "without tax", least=0, most=100_000)] = None
    distance_charge: Annotated[Decimal | None, Ask("Each km or mile", "without tax", least=0, most=1000)] = (
        None
    )
    rounding: Annotated[Rounding | None, Ask("Round time", "nearest or up")] = None
    rounding_min: Annotated[int | None, Ask("To minutes", "6 or 15", least=1, most=60)] = None
    bench_minimum_min: Annotated[int | None, Ask("Least bench minutes", least=0, most=600)] = None
    cash_rounding_minor: Annotated[
        int | None, Ask("Cash rounding", "smallest coin in cents", least=1, most=1000)
    ] = None
    tolerance: Annotated[Tolerance | None, Ask("Over the go-ahead", "none, percent or off")] = None
    tolerance_percent: Annotated[int | None, Ask("Percent over", least=0, most=100)] = None
    recheck_days: Annotated[int | None, Ask("Recheck after days", least=1, most=730)] = None
    recheck_distance: Annotated[int | None, Ask("Recheck after distance", least=1, most=100_000)] = None
    terms_days: Annotated[int | None, Ask("Days to pay", least=0, most=365)] = None
    look_limit_min: Annotated[int | None, Ask("Usual leave to look", "minutes", least=0, most=6000)] = None
    use_learned: Annotated[
        bool | None, Ask("Use past cards", "yes: estimates take what clocked time says of each rule")
    ] = None
    recheck_words: Annotated[
        str | None, Ask("Words about a recheck", "with {name} {bike} {what} {due} {shop} {phone}", lines=True)
    ] = None
    numbers: Annotated[
        dict[str, str] | None, Ask("Number formats", "invoice=INV-{yy}-{n:04}; series: card, estimate, ...")
    ] = None
    mechanic: Annotated[tuple[str, ...], Ask("A mechanic's name", "added if new")] = ()

    def work(self, turn: "Turn") -> Setting:
        """Keeps each setting named; raises Mistakes for a zone, a currency or a format that cannot be."""
        unit = turn.unit
        before = read_shop(unit)
        raise_all(self.problems(turn))
        changed = [f.name for f in fields(Shop) if getattr(self, f.name) is not None]
        last: Setting | None = None
        for name in changed:
            value = getattr(self, name)
            if name == "numbers":
                value = {**before.numbers, **value}
            if name in {"currency", "country"}:
                value = value.upper()
            if name == "language":
                value = value.lower()
            text = _as_text(value)
            kept = unit.first(Setting, name=name)
            if kept is None:
                last = unit.insert(Setting(name=name, value=text))
            else:
                last = unit.change(kept, value=text)
        for name in self.mechanic:
            if unit.first(Mechanic, name=name) is None:
                unit.insert(Mechanic(name=name, key=name[:1].lower()))
        if last is None:
            last = unit.first(Setting) or unit.insert(Setting(name="mode", value=_as_text(before.mode)))
        unit.say(f"settings: {', '.join([*changed, *self.mechanic])}")
        return last

    def problems(self, turn: "Turn") -> list[Problem | None]:
        """What cannot be a setting."""
        unit, before = turn.unit, turn.shop
        found: list[Problem | None] = []
        if self.zone is not None:
            try:
                zone_named(self.zone)
            except WrongUseError as error:
                found.append(Problem("zone", error.sentence, error.hint, self.zone))
        if self.currency is not None:
            if not (len(self.currency) == 3 and self.currency.isascii() and self.currency.isalpha()):
                found.append(
                    Problem("currency", "A currency has three letters.", "For instance EUR.", self.currency)
                )
            elif self.currency.upper() != before.currency and _papers_issued(unit):
                found.append(
                    Problem(
                        "currency", "Papers were issued in the present currency already.", "Begin a new file."
                    )
                )
        if self.country is not None and not (len(self.country) == 2 and self.country.isalpha()):
            found.append(Problem("country", "A country has two letters.", "For instance IE.", self.country))
        if self.language is not None and not (len(self.language) == 2 and self.language.isalpha()):
            found.append(
                Problem("language", "A language has two letters.", "For instance en.", self.language)
            )
        found += place_problems("recheck_words", self.recheck_words or "", RECHECK_PLACES)
        found += _number_problems(self.numbers or {}, before)
        return found


def _papers_issued(unit: Unit) -> bool:
    return any(unit.first(cls) is not None for cls in (Document, Estimate, Payment))


def _number_problems(given: dict[str, str], before: Shop) -> list[Problem]:
    series = ", ".join(before.numbers)
    strange = [
        Problem("numbers", f"There is no series “{name}”.", f"Series: {series}.", name)
        for name in given
        if name not in before.numbers
    ]
    return strange or list(pattern_problems({**before.numbers, **given}))


def _as_text(value: Any) -> str:
    if isinstance(value, dict):
        return json.dumps(value, ensure_ascii=False, sort_keys=True)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return f"{value:f}"
    return str(value)


def _from_text(hint: Any, text: str) -> Any:
    if hint is bool:
        return text == "yes"
    if hint in (int, Decimal, str):
        return hint(text)
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        return hint(text)
    return json.loads(text)
