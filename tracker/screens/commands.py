"""Every key in one place: its word in the bar, its help; bindings, bar, help and docs come from here."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from textual.binding import Binding

LISTS = ("day", "list", "card", "rechecks", "facts")
"""Screens without a text field: a letter can be a key there."""

PRICES = ("price", "ways", "rules")
"""Screens about prices: rows too, with fewer keys."""

TYPING = ("form", "choose", "sum", "circuit", "trace")
"""Screens with text fields: letters are text there."""

FIELDS = ("form", "sum", "circuit")
"""Of them, those of several fields."""

ASKING = ("asking",)
"""A question over another screen."""

TEXTS = ("paper", "one-paper", "bike", "customer")
"""Screens of text that goes to a file."""

READ = ("paper", "one-paper", "bike", "customer", "charging")
"""Screens to be read."""

EVERYWHERE = (*LISTS, *READ)
"""Screens where `/` finds customers, bikes, cards and parts."""


@dataclass(frozen=True, slots=True)
class Command:
    """One key. `verb` is the deed whose form it opens, else `action` is the screen's own method.

    `where` names its screens; a command that is not `on_bar` is found by `?`, and works all the same.
    """

    id: str
    key: str
    word: str
    help: str
    where: tuple[str, ...]
    action: str = ""
    verb: str = ""
    on_bar: bool = True

    @property
    def calls(self) -> str:
        """What the screen runs."""
        return f"deed('{self.verb}')" if self.verb else self.action

    @property
    def binding(self) -> str:
        """What the key runs: the same, once the keys before it have been taken."""
        return f"in_turn('{self.id}')"


COMMANDS: tuple[Command, ...] = (
    Command("next", "space", "next", "Do the next thing on this card", ("day", "card"), "next_thing"),
    Command("open", "enter", "open", "Open what is under the cursor",
            (*LISTS, "price", "rules", "charging"),
            "open_row"),
    Command("take-way", "enter", "choose", "Take this way: the customer chose it", ("ways",), "open_row"),
    Command("next-field", "enter", "next field", "Go to the next field; behind the last it saves", FIELDS,
            "next_field"),
    Command("take", "enter", "take", "Take what is under the cursor; of a trace, write down what was read",
            ("choose", "asking", "trace"), "take"),
    Command("save", "ctrl+s", "save", "Save the form", ("form",), "save"),
    Command("keep-sum", "ctrl+s", "put it on a card", "Keep it as a reading, a finding or an estimate line",
            ("sum",), "keep_sum"),
    Command("take-circuit", "ctrl+s", "put it on the card", "Plan it on the card, and price the card",
            ("circuit",), "take_circuit"),
    Command("more-answer", "pagedown", "more", "The answer further down", ("sum", "circuit"),
            "scroll_answer(1)"),
    Command("answer-back", "pageup", "up", "The answer further up", ("sum", "circuit"), "scroll_answer(-1)",
            on_bar=False),
    Command("more-trial", "ctrl+g", "more", "What was said of the text, further down; round to its top",
            ("rule",), "scroll_answer(1)"),
    Command("field-on", "tab", "next field", "Go to the next field", FIELDS, "field_on", on_bar=False),
    Command("field-back", "shift+tab", "field before", "Go to the field before", FIELDS, "field_back",
            on_bar=False),
    Command("row-down", "down", "down", "Into the answers that are known, and down", TYPING, "down",
            on_bar=False),
    Command("row-up", "up", "up", "Up again", TYPING, "up", on_bar=False),
    Command("line-repair", "e", "repair", "Choose a repair and price the card", ("price",), "plan_repair"),
    Command("line-ways", "o", "ways", "Ways to mend it, priced beside each other", ("price",), "ways"),
    Command("new-circuit", "n", "new circuit", "A new circuit or a conversion: grips, lamps, a socket, LEDs",
            ("card", "price"), "new_circuit", on_bar=False),
    Command("line-rule", "r", "its rule", "The text of the rule behind this line", ("price",), "rule"),
    Command("older", "left", "older", "The revision before", ("price",), "revise(-1)"),
    Command("newer", "right", "newer", "The revision after", ("price",), "revise(1)"),
    Command("customer-paper", "p", "paper", "What the customer reads", ("price", "ways"), "customer_paper"),
    Command("line-agree", "a", "go-ahead", "Write the go-ahead down", ("price",), verb="agree"),
    Command("book-in", "b", "book in", "Book a bike in", LISTS, "book_in"),
    Command("find", "slash", "find", "Find customers, bikes, cards and parts", EVERYWHERE, "find"),
    Command("deeds", "d", "deeds", "Every deed, by name", LISTS, "deeds"),
    Command("papers", "p", "papers", "The card's papers, as text", ("card",), "papers"),
    Command("undo", "u", "undo", "Take back your last deed", (*LISTS, *PRICES, "marks"), "undo"),
    Command("add", "a", "add", "Add one to this list", ("list", "rechecks", "ways"),
            "add_row"),
    Command("read", "r", "reading", "Write a reading down", ("card",), verb="read", on_bar=False),
    Command("test", "t", "test", "Write a reading after the repair down", ("card",), verb="test",
            on_bar=False),
    Command("finding", "f", "finding", "Write down what was found", ("card",), verb="finding", on_bar=False),
    Command("estimate", "e", "estimate", "Choose a repair and price the card", ("card",), "plan_repair",
            on_bar=False),
    Command("ways", "o", "ways", "Ways to mend it, priced beside each other", ("card",), "ways",
            on_bar=False),
    Command("price", "m", "price", "The price opened, line by line; its revisions", ("card",), "price",
            on_bar=False),
    Command("try-rule", "ctrl+t", "try", "Try the text on past cards and on the bike; nothing is kept",
            ("rule",), "try_rule"),
    Command("keep-rule", "ctrl+s", "keep", "Keep the text as the shop's own, where it is sound", ("rule",),
            "keep_rule"),
    Command("rule-as-it-was", "ctrl+r", "as it was", "The text that is kept; again, that of the program",
            ("rule",), "as_it_was"),
    Command("copy-rule", "ctrl+y", "copy", "Copy the text", ("rule",), "copy_out", on_bar=False),
    Command("agree", "a", "go-ahead", "Write the go-ahead down", ("card",), verb="agree", on_bar=False),
    Command("fix", "x", "fixed", "Write down what was done", ("card",), verb="fix", on_bar=False),
    Command("want", "w", "part", "Put a part on the card", ("card",), verb="part want", on_bar=False),
    Command("call", "c", "call", "Write a call down", ("card",), verb="call", on_bar=False),
    Command("clock", "k", "clock", "On the clock, or off it", ("day", "card"), "clock", on_bar=False),
    Command("bikes", "m", "bikes", "Every bike", ("day",), "show_list('bikes')", on_bar=False),
    Command("customers", "c", "customers", "Every customer", ("day",), "show_list('customers')",
            on_bar=False),
    Command("cards", "n", "cards", "Every card there ever was, the newest first", ("day",),
            "show_list('cards')", on_bar=False),
    Command("stock", "s", "stock", "The parts list and its stock", ("day",), "show_list('stock')",
            on_bar=False),
    Command("wanted", "p", "parts", "Parts to order, on order, here", ("day",), "show_list('wanted')",
            on_bar=False),
    Command("money", "o", "money", "Documents and what is owed", ("day",), "show_list('documents')",
            on_bar=False),
    Command("rechecks", "r", "rechecks", "Rechecks: whom to ring", ("day",), "show_list('rechecks')",
            on_bar=False),
    Command("settings", "e", "settings", "The shop's settings", ("day",), "show_list('settings')",
            on_bar=False),
    Command("rules", "t", "rules", "The repair rules: what cards say of them, their texts", ("day",),
            "rules", on_bar=False),
    Command("sums", "v", "sums", "The electrical sums; from a card, beside its bike's own figures",
            ("day", "card"), "sums", on_bar=False),
    Command("loom", "l", "loom", "The loom, drawn: of the bike of the card that is meant",
            ("day", "card"), "loom", on_bar=False),
    Command("along", "right", "along", "Along the circuit", ("loom",), "along(1)", on_bar=False),
    Command("back-along", "left", "back", "Back along the circuit", ("loom",), "along(-1)", on_bar=False),
    Command("circuit-on", "down", "circuit", "The next circuit through this place", ("loom",), "across(1)",
            on_bar=False),
    Command("circuit-back", "up", "circuit", "The circuit before", ("loom",), "across(-1)", on_bar=False),
    Command("place", "enter", "place", "All about the place under the cursor", ("loom",), "open_row"),
    Command("part", "slash", "where is it", "Find a part of the loom by any of its names", ("loom",),
            "find_part"),
    Command("edit-loom", "e", "put right", "Say what is different here on this bike", ("loom",), "edit"),
    Command("mark-dead", "d", "dead", "Mark on the card that this circuit's load is dead", ("loom",),
            "mark('dead')"),
    Command("mark-weak", "w", "weak", "Mark that it is weak", ("loom",), "mark('weak')",
            on_bar=False),
    Command("mark-works", "o", "works", "Mark that it works", ("loom",), "mark('works')",
            on_bar=False),
    Command("trace", "t", "trace", "What it can be, and the next check", ("loom",), "trace"),
    Command("loom-undo", "u", "undo", "Take back your last deed", ("loom",), "undo", on_bar=False),
    Command("loom-facts", "f", "facts", "What is known of it beyond the pattern, since when", ("loom",),
            "facts"),
    Command("loom-forget", "x", "take back", "Take back what was written of the loom, however long ago",
            ("facts",), "forget"),
    Command("repairs-found", "r", "repairs", "Every repair found again: by words, zone, plug, make and model",
            ("loom",), "show_list('repairs')"),
    Command("charging", "h", "charging", "The charging check: its steps and what they say", ("card",),
            "charging", on_bar=False),
    Command("change-one", "e", "change", "Change this bike or customer", ("bike", "customer"), "change"),
    Command("bike-loom", "l", "loom", "This bike's loom, drawn", ("bike",), "loom"),
    Command("bike-readings", "g", "readings", "Its readings over time, drawn with their limits", ("bike",),
            "readings"),
    Command("bike-in", "b", "book in", "Book this bike in", ("bike",), "book_this_in"),
    Command("figure", "n", "own figure", "Write down a figure of its own", ("bike",), "figure", on_bar=False),
    Command("statement", "o", "statement", "What they owe, paper by paper", ("customer",), "statement"),
    Command("message", "t", "message", "What to say or send about this recheck", ("rechecks",), "message"),
    Command("card-trace", "g", "trace", "What it can be, and the next check", ("card",), "trace",
            on_bar=False),
    Command("write-finding", "ctrl+s", "it is found", "Stop with what is found or likeliest, as a finding",
            ("trace",), "write_finding"),
    Command("step-back", "ctrl+b", "back a step", "Doubt the last reading: it counts for nothing", ("trace",),
            "step_back"),
    Command("cannot-reach", "ctrl+r", "can't reach", "Take this check out", ("trace",), "cannot_reach"),
    Command("off-anyway", "ctrl+o", "off anyway", "Something is off already: it costs nothing more",
            ("trace",), "off_anyway"),
    Command("mark-loads", "ctrl+d", "mark", "Mark the loads, one key each: dead, weak, works, ...",
            ("trace",), "mark_loads"),
    Command("mark-dead-row", "d", "dead", "It is dead", ("marks",), "mark('dead')"),
    Command("mark-weak-row", "w", "weak", "It is weak", ("marks",), "mark('weak')"),
    Command("mark-works-row", "o", "works", "It works", ("marks",), "mark('works')"),
    Command("mark-at-times", "c", "comes and goes", "It comes and goes", ("marks",),
            "mark('comes_and_goes')", on_bar=False),
    Command("mark-stays-on", "n", "won't go off", "It won't go off", ("marks",), "mark('wont_go_off')"),
    Command("mark-blows", "b", "blows its fuse", "It blows its fuse", ("marks",), "mark('blows_fuse')",
            on_bar=False),
    Command("mark-bulbs", "p", "bulbs blow", "Its bulbs keep blowing", ("marks",), "mark('bulbs_blow')",
            on_bar=False),
    Command("mark-fast", "f", "flashes fast", "It flashes fast", ("marks",), "mark('flashes_fast')",
            on_bar=False),
    Command("mark-slow", "s", "flashes slow", "It flashes slowly", ("marks",), "mark('flashes_slow')",
            on_bar=False),
    Command("mark-steady", "t", "does not flash", "It stays on without flashing", ("marks",),
            "mark('no_flash')", on_bar=False),
    Command("mark-more", "e", "more", "Every other symptom, and when it shows alone", ("marks",), "more"),
    Command("marked", "enter", "trace", "Back to the trace with what was marked", ("marks",), "open_row"),
    Command("trail", "ctrl+t", "trail", "The trail as a paper: why looking took as long as it did",
            ("trace",), "trail", on_bar=False),
    Command("trace-loom", "ctrl+l", "loom", "The loom with the first complaint's circuit lit", ("trace",),
            "loom", on_bar=False),
    Command("who", "w", "who", "Choose who is at the keyboard", ("day",), "choose_who", on_bar=False),
    Command("copy", "y", "copy", "Copy what is shown, over SSH too", ("loom", *READ, *LISTS, *PRICES),
            "copy_out", on_bar=False),
    Command("write", "f", "to file", "Write what is shown to a file", TEXTS,
            "write_text"),
    Command("pdf", "p", "PDF", "Print it to a PDF file", ("one-paper",), "write_pdf"),
    Command("copy-field", "ctrl+y", "copy", "Copy the field; of a sum, the answer", (*FIELDS, "trace"),
            "copy_out", on_bar=False),
    Command("drop-draft", "x", "throw away", "Throw away what was typed", ASKING, "throw_away"),
    Command("keys", "question_mark", "keys", "Show every key", (*EVERYWHERE, *PRICES, "loom", "marks"),
            "keys"),
    Command("back", "escape", "back", "Go back; what is typed in a form is kept",
            ("card", "list", "rechecks", "facts", "loom", "marks", *PRICES, "rule", *READ, *TYPING,
             *ASKING),
            "back"),
    Command("quit", "q", "quit", "Leave Loomcard", ("day",), "leave"),
)  # fmt: skip
"""In the order of the bar."""

BY_ID = {command.id: command for command in COMMANDS}

SIGNS = {
    "slash": "/",
    "question_mark": "?",
    "escape": "Esc",
    "enter": "Enter",
    "space": "Space",
    "tab": "Tab",
    "shift+tab": "Shift+Tab",
    "down": "Down",
    "up": "Up",
    "left": "Left",
    "right": "Right",
    "pagedown": "PgDn",
    "pageup": "PgUp",
}


def key_word(key: str) -> str:
    """A key as it is printed: `^S` for ctrl+s, `/` for slash."""
    if key.startswith("ctrl+") and len(key) == 6:
        return f"^{key[-1].upper()}"
    return SIGNS.get(key, key)


def for_screen(name: str) -> tuple[Command, ...]:
    """The commands of a kind of screen, in the order of the bar."""
    return tuple(command for command in COMMANDS if name in command.where)


def bindings(name: str, keys: Mapping[str, str]) -> list[Binding]:
    """A screen's bindings. All have priority: they run before the next key is handed to any widget, so
    that whatever is typed ahead lands where it was meant to.
    """
    return [
        Binding(keys.get(c.id, c.key), c.binding, c.word, id=c.id, priority=True, show=False)
        for c in for_screen(name)
    ]


def bar_text(name: str, width: int, keys: Mapping[str, str]) -> str:
    """The bar of a screen in `width` columns: as many words as fit, the way out and `?` always."""
    words = [(c.id, f"{key_word(keys.get(c.id, c.key))} {c.word}") for c in for_screen(name) if c.on_bar]
    always = [word for name_, word in words if name_ in {"keys", "back"}]
    room = width - len("  ".join(always))
    shown: list[str] = []
    for name_, word in words:
        if name_ in {"keys", "back"}:
            continue
        if len("  ".join([*shown, word])) + 2 > room:
            break
        shown.append(word)
    return "  ".join([*shown, *always])


TITLES = {
    "day": "Day sheet",
    "card": "Card",
    "price": "Price of a card",
    "ways": "Ways to choose from",
    "rules": "Repair rules",
    "rule": "A rule",
    "list": "Lists",
    "form": "Forms",
    "choose": "Choosing",
    "paper": "Whole records",
    "one-paper": "Papers",
    "loom": "Loom",
    "facts": "What is known of a loom",
    "charging": "Charging check",
    "bike": "A bike",
    "customer": "A customer",
    "rechecks": "Rechecks",
    "trace": "Trace",
    "marks": "Marks of a trace",
    "sum": "Sums",
    "circuit": "A new circuit",
    "asking": "Questions",
}


def help_lines(keys: Mapping[str, str], first: str = "day") -> Iterable[str]:
    """Every key with its help by screen, `first` before the others, for the keys screen."""
    for name in sorted(TITLES, key=lambda one: one != first):
        yield TITLES[name].upper()
        for c in for_screen(name):
            yield f"  {key_word(keys.get(c.id, c.key)):<10}{c.help}"
        yield ""


def keys_page() -> str:
    """docs/keys.md, whole."""
    lines = [
        "# Keys",
        "",
        "Made by `python -m tracker.screens.commands > docs/keys.md`; a test keeps it true.",
        "",
        "Ctrl+P finds every deed by its name, on every screen; Ctrl+Q leaves, and what is typed is kept.",
        "",
    ]
    for name, title in TITLES.items():
        lines += [f"## {title}", "", "| key | what it does | name for your own keys |", "|---|---|---|"]
        for c in for_screen(name):
            deed = f" (`loomcard {c.verb}`)" if c.verb else ""
            lines.append(f"| {key_word(c.key)} | {c.help}{deed} | `{c.id}` |")
        lines.append("")
    lines += [
        "## Your own keys",
        "",
        "`preferences.json` in your configuration folder:",
        '`{"theme": "loomcard-light", "keys": {"book-in": "i"}}`.',
        "A key that does another thing on the same screen already is passed over, and the day sheet says so.",
        "Themes: `loomcard-dark`, `loomcard-light`; `ansi-dark`, `ansi-light` in the terminal's own colours.",
    ]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    print(keys_page(), end="")
