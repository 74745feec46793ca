"""A person's own keys: which can be taken, and what is wrong with the rest."""

from collections.abc import Mapping

from tracker.screens.commands import BY_ID, COMMANDS, TYPING


def own_keys(keys: Mapping[str, str]) -> tuple[dict[str, str], tuple[str, ...]]:
    """A person's own keys by command id, and what is wrong with the rest in words.

    A name that no command has, and a key that another command of the same screen has, are passed over; a
    letter cannot be a key where letters are text.
    """
    good: dict[str, str] = {}
    wrong: list[str] = []
    for name, key in keys.items():
        command = BY_ID.get(name)
        if command is None:
            wrong.append(f"No command is called “{name}”.")
            continue
        if len(key) == 1 and set(command.where) & {*TYPING}:
            wrong.append(f"“{key}” is text where “{name}” is wanted.")
            continue
        trial = {**good, name: key}
        clash = next(
            (
                other.id
                for other in COMMANDS
                if other.id != name
                and set(other.where) & set(command.where)
                and trial.get(other.id, other.key) == key
                and keys.get(other.id, other.key) == key
            ),
            "",
        )
        if clash:
            wrong.append(f"“{key}” for “{name}” is the key of “{clash}” already.")
            continue
        good[name] = key
    return good, tuple(wrong)
