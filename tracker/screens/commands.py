"""Every key in one place: its word in the bar, its help; bindings, bar, help and docs come from here."""

from collections.abc import Iterable
from dataclasses import dataclass

from textual.binding import Binding

ANYWHERE = "anywhere"


@dataclass(frozen=True, slots=True)
class Command:
    """One key. `action` is the method it calls, `where` its screens; `bar` 0 keeps it off the bar."""

    id: str
    key: str
    word: str
    help: str
    action: str
    where: tuple[str, ...]
    bar: int = 1


COMMANDS: tuple[Command, ...] = (
    Command("next", "space", "next", "Do the next thing on this card", "next_thing", ("day", "card")),
    Command("open", "enter", "open", "Open what is under the cursor", "open_row", ("day", "list", "card")),
    Command("book-in", "b", "book in", "Book a bike in", "book_in", ("day", "list", "card")),
    Command(
        "find", "slash", "find", "Find customers, bikes, cards and parts", "find", ("day", "list", "card")
    ),
    Command("deeds", "d", "deeds", "Every deed for this card, by name", "deeds", ("day", "card", "list")),
    Command("papers", "p", "papers", "The card's papers as text", "papers", ("card",)),
    Command("bikes", "m", "bikes", "Every bike", "show_list('bikes')", ("day",), 0),
    Command("customers", "c", "customers", "Every customer", "show_list('customers')", ("day",), 0),
    Command("stock", "s", "stock", "The parts list and its stock", "show_list('stock')", ("day",), 0),
    Command("money", "o", "money", "Documents and what is owed", "show_list('documents')", ("day",), 0),
    Command("rechecks", "r", "rechecks", "Rechecks: whom to ring", "show_list('rechecks')", ("day",), 0),
    Command("settings", "e", "settings", "The shop's settings", "show_list('settings')", ("day",), 0),
    Command("add", "a", "add", "Add one to this list", "add_row", ("list",)),
    Command("undo", "u", "undo", "Take back your last deed", "undo", ("day", "list", "card")),
    Command("who", "w", "who", "Choose who is at the keyboard", "choose_who", ("day", "card"), 0),
    Command("copy", "y", "copy", "Copy what is shown, over SSH too", "copy_text", ("paper", "list"), 1),
    Command("write", "f", "to file", "Write what is shown to a file", "write_text", ("paper",)),
    Command("keys", "question_mark", "keys", "Show every key", "keys", (ANYWHERE,)),
    Command(
        "back",
        "escape",
        "back",
        "Go back; what is typed in a form is kept",
        "back",
        ("card", "list", "paper", "form"),
    ),
    Command("save", "ctrl+s", "save", "Save the form (Enter on its last field does too)", "save", ("form",)),
    Command("quit", "q", "quit", "Leave Loomcard", "leave", ("day",)),
)


def for_screen(name: str) -> tuple[Command, ...]:
    """The commands of a screen, in the order of the bar."""
    return tuple(command for command in COMMANDS if name in command.where or ANYWHERE in command.where)


def bindings(name: str, keys: dict[str, str] | None = None) -> list[Binding]:
    """A screen's bindings; `keys` are the person's own, by command id."""
    return [
        Binding(
            (keys or {}).get(c.id, c.key),
            c.action,
            c.word,
            id=c.id,
            priority=name == "form" and c.id != "keys",
        )
        for c in for_screen(name)
        if not (name == "form" and c.id == "keys")
    ]


SIGNS = {
    "slash": "/",
    "question_mark": "?",
    "escape": "Esc",
    "enter": "Enter",
    "space": "Space",
    "ctrl+s": "^S",
}


def key_word(key: str) -> str:
    """A key as it is printed on the bar."""
    return SIGNS.get(key, key)


def bar_text(name: str, width: int) -> str:
    """The bar of a screen: as many words as fit, the most needed first."""
    words: list[str] = []
    for command in for_screen(name):
        if not command.bar or (name == "form" and command.id == "keys"):
            continue
        word = f"{key_word(command.key)} {command.word}"
        if len("  ".join([*words, word])) > width:
            break
        words.append(word)
    return "  ".join(words)


def help_lines(commands: Iterable[Command] = COMMANDS) -> list[str]:
    """Every key with its help, for the keys screen and docs/keys.md."""
    return [f"{key_word(c.key):<6} {c.word:<10} {c.help}" for c in commands]


def keys_page() -> str:
    """docs/keys.md, whole."""
    head = [
        "# Keys",
        "",
        "Made by `python -m tracker.screens.commands > docs/keys.md`; a test keeps it true.",
        "",
    ]
    head += ["| key | word | what it does | where | name for your own keys |", "|---|---|---|---|---|"]
    rows = [
        f"| {key_word(c.key)} | {c.word} | {c.help} | {', '.join(c.where)} | `{c.id}` |" for c in COMMANDS
    ]
    tail = [
        "",
        'Your own keys: `preferences.json` in your configuration folder, `{"keys": {"book-in": "i"}}`.',
    ]
    return "\n".join([*head, *rows, *tail]) + "\n"


if __name__ == "__main__":
    print(keys_page(), end="")
