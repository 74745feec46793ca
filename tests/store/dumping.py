"""A file as SQL text, so that one of every past version can be kept and opened.

`python -m tests.store.dumping` writes dumps/NNNN.sql for the present number of steps. Run it once, when a
step lands; a dump is never written again afterwards.
"""

import sqlite3
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tests.store.making import customer, deed, do, opened, take_back
from tests.store.samples import everything
from tracker.records.card import Card
from tracker.store.steps import STEPS, statements

FOLDER = Path(__file__).parent / "dumps"


def dumped(connection: sqlite3.Connection) -> Iterator[str]:
    """The statements that make this file again, in order."""
    for name in ("application_id", "user_version"):
        yield f"PRAGMA {name} = {connection.execute(f'PRAGMA {name}').fetchone()[0]};"
    shadows = "name NOT LIKE 'finder_%' AND name NOT LIKE 'sqlite_%'"
    tables = connection.execute(
        f"SELECT name, sql FROM sqlite_master WHERE type = 'table' AND {shadows} ORDER BY rowid"
    ).fetchall()
    for _, sql in tables:
        yield f"{sql};"
    for table in ("sqlite_sequence", *(name for name, _ in tables)):
        names = [column[1] for column in connection.execute(f'PRAGMA table_info("{table}")')]
        if table == "finder":
            names.insert(0, "rowid")
        listed = ", ".join(f'"{name}"' for name in names)
        quoted = " || ', ' || ".join(f'quote("{name}")' for name in names)
        for (values,) in connection.execute(f'SELECT {quoted} FROM "{table}"'):
            yield f'INSERT INTO "{table}" ({listed}) VALUES ({values});'
    for (sql,) in connection.execute(
        f"SELECT sql FROM sqlite_master WHERE type IN ('index', 'trigger') AND {shadows} ORDER BY rowid"
    ):
        yield f"{sql};"


def loaded(path: Path, text: str) -> None:
    """Makes the file of a dump."""
    with sqlite3.connect(path, isolation_level=None) as connection:
        connection.execute("BEGIN")
        for statement in statements(text):
            connection.execute(statement)
        connection.execute("COMMIT")
    connection.close()


def example(path: Path) -> None:
    """A small file with a row of everything, a change, a deed taken back, and text that bites."""
    with opened(path) as store:
        store.do(deed("Anna", "first"), lambda unit: everything(unit)[Card])
        kept = store.do(
            deed("Ben", "second"), lambda unit: unit.insert(customer("[/] O'Brien", notes="a\nb"))
        )
        store.do(deed("Ben", "third"), lambda unit: unit.change(kept, phone="01 555 0199"))
        do(store, lambda unit: unit.insert(customer("taken back")), token="fourth")
        take_back(store)


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "example.loomcard"
        example(path)
        with sqlite3.connect(path) as connection:
            text = "\n".join(dumped(connection)) + "\n"
        connection.close()
    FOLDER.mkdir(exist_ok=True)
    target = FOLDER / f"{len(STEPS):04}.sql"
    target.write_text(text, "utf-8")
    print(target)


if __name__ == "__main__":
    main()
