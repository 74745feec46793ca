"""What the shop's own cards say of the rules, as rows or as JSON."""

from typing import Any

from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.cli.views import view
from tracker.desk.desk import Desk
from tracker.desk.learned import LearnedView, learned_view
from tracker.papers.twins import table


def _learned(desk: Desk, context: Context, given: dict[str, Any]) -> None:
    del given
    found = learned_view(desk)
    if context.as_json:
        say_json(found)
    else:
        say(learned_text(found))


def learned_text(found: LearnedView) -> str:
    """Rules with their factors, how far cards lie apart, what is asked about, what tells nothing."""
    use = (
        "New estimates use it." if found.used else "It is only shown: settings change --use-learned uses it."
    )
    lines = [f"Learned from {found.jobs} repair{'' if found.jobs == 1 else 's'}. {use}"]
    if found.rules:
        lines += ["", *table([(row.rule, row.sentence) for row in found.rules], (24, 0))]
    if found.mechanics:
        rows = [(name, f"{factor.times:.2f} times that, over {factor.n}") for name, factor in found.mechanics]
        lines += ["", *table(rows, (24, 0))]
    if found.cards_lie_apart is not None:
        worth = f"{found.book_worth:.1f} card{'' if f'{found.book_worth:.1f}' == '1.0' else 's'}"
        lines += [
            "",
            f"Cards of one rule lie apart by {found.cards_lie_apart:.2f} of ln; the book weighs {worth}.",
        ]
    if found.asked:
        lines += ["", "Is that right?"]
        for one in found.asked:
            lines += [f"  card {one.card}, repair {one.repair}, {one.rule}: {one.why}", f"      {one.answer}"]
    if found.unused:
        lines += ["", "Not learned from:"]
        lines += [f"  card {card}, {rule}: {why}" for card, rule, why in found.unused]
    return "\n".join(lines)


learned = view("learned", "What past cards say of the rules, and the times they ask about.", _learned)
