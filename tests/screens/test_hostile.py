"""Whatever people type into any field of any form, and whatever stands in the file: no screen falls over."""

from itertools import cycle

from tests.desk.conftest import Bench
from tests.hostile import CHANGED, FINE, LINES, REFUSED
from tests.screens.driving import Driver, drive
from tracker.desk.ask import fields_of
from tracker.desk.deeds import DEEDS, deed
from tracker.screens.card import CardPage
from tracker.screens.day import DayPage
from tracker.screens.doing import open_deed
from tracker.screens.fields import Line
from tracker.screens.form import FormPage
from tracker.screens.paper import PapersPage, TextPage

ANY = (*FINE, *LINES, *(given for given, _ in CHANGED), *REFUSED)


def test_any_text_in_every_field_of_every_form_is_taken_or_refused_in_words(bench: Bench) -> None:
    bench.booked()
    texts = cycle(ANY)
    tried: list[str] = []

    async def job(hand: Driver) -> None:
        for verb in DEEDS:
            if not fields_of(deed(verb)):
                continue
            await open_deed(hand.app, verb)
            await hand.quiet()
            form = hand.page
            assert isinstance(form, FormPage)
            typed = {str(line.name): next(texts) for line in form.query(Line)}
            for line in form.query(Line):
                line.value = typed[str(line.name)]
            kept = form.typed()
            await hand.press("ctrl+s")
            tried.append(verb)
            if hand.page is form:
                assert hand.said.startswith("!"), (verb, hand.said)
                assert form.typed() == kept, verb
                await form.leave(keep=False)
            while not hand.shows(DayPage):
                await hand.app.back()

    drive(bench.desk, job)
    assert len(tried) > 30


def test_any_text_in_the_file_is_shown_on_every_screen(bench: Bench) -> None:
    words = " ".join(FINE)[:200]
    bench(
        "book-in", customer=words, phone=words, address=words, make=words, model=words, complaint=words,
        registration=words[:20], dead=[words],
    )  # fmt: skip
    bench("look", card="26-0001", limit="60", weak=[words])
    bench("finding", card="26-0001", words=words)
    bench("part want", card="26-0001", part=words, qty="1", unit_price="2")
    bench("stock add", code=words[:30], name=words, price="1")

    async def job(hand: Driver) -> None:
        for key in ("m", "c", "n", "s", "p", "o", "r", "e", "w", "d", "slash", "question_mark"):
            await hand.press(key)
            assert not hand.shows(DayPage), key
            if key in {"m", "c", "n", "s", "p"}:
                await hand.press("enter", "escape")
            await hand.press("escape")
            assert hand.shows(DayPage), key
        await hand.press("enter")
        assert hand.shows(CardPage)
        for _ in range(8):
            await hand.press("enter", "down")
        await hand.press("p")
        assert hand.shows(PapersPage)
        await hand.press("enter")
        assert hand.shows(TextPage)
        await hand.press("escape", "escape", "space")

    drive(bench.desk, job)
