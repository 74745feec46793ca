"""From an empty file to the recheck at 80x24, by one key and plain answers, as a stranger would go."""

from datetime import timedelta

from tests.desk.conftest import Bench
from tests.screens.driving import Driver, drive
from tracker.records.card import Card
from tracker.records.document import Document
from tracker.records.recheck import Recheck
from tracker.screens.book_in import BookInPage
from tracker.screens.card import CardPage
from tracker.screens.day import DayPage
from tracker.screens.first_run import FirstRunPage
from tracker.screens.lists import ListPage
from tracker.screens.plan import ChooseRulePage, RepairForm

SPACE = (
    ("look", {"limit": "60"}),
    ("read", {"kind": "standing_volts", "value": "12,4 V"}),
    ("finding", {"words": "stator plug burnt", "circuit": "charging"}),
    ("estimate", {"circuit": "charging", "place": "stator-plug"}),
    ("agree", {"how": "phone"}),
)
"""What Space opens, one after the other, and what is answered; a repair type is chosen on the way."""

MEASURED = {
    "loaded_drop": "0.1",
    "regulated_volts": "14.1",
    "temperature": "31",
    "regulated_volts_lamps": "13.8",
}
"""What the meter says after the repair; all else is answered with yes."""


async def answer(hand: Driver, verb: str, answers: dict[str, str]) -> None:
    """Space, the answers, save; whatever is wanted must be there and nothing may be refused."""
    await hand.press("space")
    if hand.shows(ChooseRulePage):
        await hand.put("stator plug")
        await hand.press("enter")
        assert hand.shows(RepairForm)
    assert hand.verb() == verb, hand.text()
    await hand.fill(**answers)
    await hand.press("ctrl+s")
    assert hand.shows(CardPage), hand.text()


def test_a_stranger_takes_a_bike_from_an_empty_file_to_its_recheck(bare: Bench) -> None:
    async def job(hand: Driver) -> None:
        assert hand.shows(FirstRunPage)
        await hand.fill(mode="mobile", name="Weir Bench", currency="EUR", tax_rate="20")
        await hand.press("ctrl+s")
        assert hand.shows(DayPage)
        assert "Weir Bench" in hand.head

        await hand.press("b")
        assert hand.shows(BookInPage)
        await hand.put("Oona Mirek")
        await hand.press("enter")
        await hand.fill(
            phone="0155 0199 204", address="Weir Terrace 4", make="Halden", model="650 twin",
            registration="LKM 412", complaint="flat after two days", odometer="41230", flat_when_parked="yes",
        )  # fmt: skip
        await hand.press("ctrl+s")
        assert hand.shows(CardPage)
        assert "[Look]" in hand.text()

        for verb, answers in SPACE:
            await answer(hand, verb, answers)
            bare.later(minutes=5)
        assert "[Fix]" in hand.text()

        for _ in range(20):  # parts, start, the repair, its tests: as many as the rule asks for
            if "[Bill]" in hand.text():
                break
            await hand.press("space")
            bare.later(minutes=5)
            if hand.verb() == "test":
                kind = hand.field("kind").value
                assert kind
                await hand.fill(value=MEASURED.get(kind, "yes"))
            if hand.verb() == "fix":
                await hand.fill(words="plug cut out, three wires joined", mm="420")
            if hand.verb():
                await hand.press("ctrl+s")
            assert hand.shows(CardPage), hand.text()
        assert "[Bill]" in hand.text()

        await hand.press("space", "ctrl+s")
        assert hand.verb() == "bill"
        assert "The shop has no address" in hand.said
        await hand.press("escape", "escape", "e")
        assert hand.shows(ListPage)
        await hand.press("enter")
        await hand.fill(address="Ropewalk Yard 2", tax_number="XX 12")
        await hand.press("ctrl+s", "escape", "enter")
        assert hand.shows(CardPage)
        await answer(hand, "bill", {})
        owed = bare.desk.read(lambda reader: reader.all(Document))[-1].payable_minor
        await answer(hand, "pay", {"amount": f"{owed / 100:.2f}", "method": "cash"})
        await answer(hand, "collect", {})
        assert "Recheck" in hand.text()
        bare.time.move(timedelta(days=40))
        await hand.press("escape")
        assert hand.shows(DayPage)
        assert "recheck due: 26-0001 Oona Mirek" in hand.text()
        await hand.press("r")
        assert "26-0001" in hand.text()
        await hand.press("enter")
        assert hand.verb() == "recheck"
        await hand.fill(done="yes", outcome="joint cool, 14.1 V")
        await hand.press("ctrl+s")
        assert hand.shows(ListPage), hand.text()

    drive(bare.desk, job)
    [card] = bare.desk.read(lambda reader: reader.all(Card))
    facts = bare.desk.facts(card.id)
    assert bare.stands(card).over
    assert facts.repairs[0].mm == 420
    assert all(one.outcome for one in bare.desk.read(lambda reader: reader.all(Recheck)))
