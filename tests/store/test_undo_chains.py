"""Any chain of deeds unwinds."""

import tempfile
from functools import partial
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.store.making import (
    add,
    content,
    customer,
    do,
    opened,
    removed,
    rename,
    rows,
    take_back,
)
from tracker.records.people import Customer

STEPS = st.lists(
    st.one_of(
        st.just(("make", 0)),
        st.tuples(st.sampled_from(["change", "remove"]), st.integers(0, 5)),
        st.just(("undo", 0)),
    ),
    max_size=14,
)


@settings(max_examples=15, deadline=None)
@given(STEPS)
def test_any_chain_of_deeds_unwinds_to_where_it_began(chain: list[tuple[str, int]]) -> None:
    with tempfile.TemporaryDirectory() as folder, opened(Path(folder) / "x.loomcard") as store:
        states = [content(store)]
        newest: dict[int, int] = {}
        for number, (kind, which) in enumerate([*chain, *[("undo", 0)] * len(chain)]):
            present = rows(store, Customer)
            if kind == "undo":
                if len(states) == 1:
                    continue
                take_back(store)
                states.pop()
                assert content(store) == states[-1]
            elif kind == "make" or not present:
                add(store, customer(f"{number}"))
                states.append(content(store))
            else:
                row = present[which % len(present)]
                if kind == "change":
                    rename(store, row, f"{number}")
                else:
                    do(store, partial(removed, record=row))
                states.append(content(store))
            for one in rows(store, Customer):
                assert one.version >= newest.get(one.id, 0)
                newest[one.id] = one.version
        assert states == [content(store)]
