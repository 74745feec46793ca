"""What the shop's own cards say of the rules, as rows or as JSON."""

import textwrap
from typing import Any

from tracker.cli.context import Context
from tracker.cli.output import say, say_json
from tracker.cli.views import view
from tracker.desk.desk import Desk
from tracker.desk.learned import LearnedView, learned_view
from tracker.papers.twins import WIDTH, table


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
        lines += ["", *(line for row in found.rules for line in wrapped(f"{row.rule}: {row.sentence}"))]
    for kind, factors in (("by", found.mechanics), ("in", found.zones), ("on a", found.models)):
        if factors:
            rows = [
                (f"{kind} {name}", f"{factor.times:.2f} times that, over {factor.n}")
                for name, factor in factors
            ]
            lines += ["", *table(rows, (32, 0))]
    if found.together is not None:
        said = f"Repairs of one card go together with a correlation of {found.together:.2f}"
        lines += ["", *wrapped(f"{said}, told by {found.pairs} pairs of them.")]
    if found.cards_lie_apart is not None:
        worth = f"{found.book_worth:.1f} card{'' if f'{found.book_worth:.1f}' == '1.0' else 's'}"
        lines += [
            "",
            f"Cards of one rule lie apart by {found.cards_lie_apart:.2f} of ln; the book weighs {worth}.",
        ]
    if found.asked:
        lines += ["", "Is that right?"]
        for one in found.asked:
            lines += wrapped(f"card {one.card}, repair {one.repair}, {one.rule}: {one.why} {one.answer}")
    if found.unused:
        lines += ["", "Not learned from:"]
        for card, rule, why in found.unused:
            lines += wrapped(f"card {card}, {rule}: {why}")
    return "\n".join(lines)


def wrapped(text: str) -> list[str]:
    """In lines as wide as the others, what follows the first set in."""
    return textwrap.wrap(text, WIDTH, subsequent_indent="    ", break_on_hyphens=False)


learned = view("learned", "What past cards say of the rules, and the times they ask about.", _learned)
