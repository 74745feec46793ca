"""The tables of the sums: what came with the program is sound; what a person breaks is named cell by cell."""

import csv
import io
import math
from collections.abc import Callable

import pytest

from tracker.errors import NotFoundError
from tracker.records.electrics import STATUSES, Tables
from tracker.records.problem import Problem
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.tables import PRACTICES, electric_tables, load_tables

FILES = (
    "ampacity", "ballasts", "bundle_packing", "bundling", "conductors_awg", "conductors_iec60228",
    "conductors_vehicle",
    "crimp_pull", "fuses", "heat_shrink", "lamps", "practice", "terminals", "wire_colours",
)  # fmt: skip


def text(file: str) -> str:
    return SHIPPED.text(f"tables/{file}.csv")


def changed(file: str, line: int, column: str, value: str) -> str:
    """The file with one cell changed; line 1 is the header, as an editor counts."""
    rows = list(csv.reader(io.StringIO(text(file))))
    rows[line - 1][rows[0].index(column)] = value
    out = io.StringIO()
    csv.writer(out).writerows(rows)
    return out.getvalue()


def mistakes(**own: str) -> tuple[Problem, ...]:
    with pytest.raises(SeedMistakes) as caught:
        load_tables(Seeds({f"tables/{file}.csv": content for file, content in own.items()}))
    return caught.value.problems


def test_what_came_with_the_program_is_sound_and_loaded_once() -> None:
    assert electric_tables() is electric_tables()
    assert len(electric_tables().conductors) > 80
    assert set(electric_tables().practices) == set(PRACTICES), "each rule is asked for, none is left over"


@pytest.mark.parametrize("file", FILES)
def test_every_row_has_a_status_and_a_source(file: str) -> None:
    for row in csv.DictReader(io.StringIO(text(file))):
        assert row["status"] in STATUSES
        assert row["source"]


@pytest.mark.parametrize("file", FILES)
def test_a_row_without_source_or_status_is_refused(file: str) -> None:
    stem = f"{file}.csv row 2"
    assert [p.field for p in mistakes(**{file: changed(file, 2, "source", " ")})] == [f"{stem}, source"]
    assert [p.field for p in mistakes(**{file: changed(file, 2, "status", "sure")})] == [f"{stem}, status"]


@pytest.mark.parametrize(
    ("file", "line", "column", "value", "words"),
    [
        ("conductors_vehicle", 4, "r_max_mohm_per_m_20c", "3.71", "within 1 to 1.12"),
        ("conductors_vehicle", 4, "r_max_mohm_per_m_20c", "371", "within 1 to 1.12"),
        ("conductors_vehicle", 4, "area_mm2", "0.60", "strands come to 0.539"),
        ("conductors_vehicle", 4, "family", "bell wire", "must be one of"),
        ("conductors_vehicle", 5, "od_max_mm", "1.5", "must rise"),
        ("conductors_vehicle", 2, "od_max_mm", "0.5", "thinner than its own copper"),
        ("conductors_awg", 3, "area_mm2", "0.40", "gauge formula gives 0.3255"),
        ("conductors_awg", 3, "ohm_per_km_20c", "40", "gauge formula gives 52.9"),
        ("conductors_iec60228", 2, "plain_max_ohm_per_km_20c", "3.9", "within 1 to 1.17"),
        ("conductors_iec60228", 2, "tinned_max_ohm_per_km_20c", "38", "never the better"),
        ("ampacity", 3, "60C", "9", "9 follows 10 in row 2"),
        ("ampacity", 3, "80C", "12", "Better insulation"),
        ("bundling", 3, "wires_from", "5", "must follow on: 4"),
        ("bundling", 8, "wires_to", "50", "must be open"),
        ("bundling", 3, "factor", "1.2", "to 1"),
        ("fuses", 3, "rating_a", "1", "must rise"),
        ("fuses", 3, "body_colour", "", "empty"),
        ("crimp_pull", 3, "least_n", "1", "must rise"),
        ("crimp_pull", 3, "area_mm2", "0.5", "not the area of AWG 24"),
        ("heat_shrink", 2, "recovered_id_max_mm", "2", "less than as supplied"),
        ("heat_shrink", 3, "expanded_id_min_mm", "1.0", "must rise"),
        ("bundle_packing", 5, "d_over_d_optimal", "1.9", "overlap"),
        ("bundle_packing", 5, "n_equal_wires", "6", "must be 4"),
        ("terminals", 2, "most_mm2", "0.01", "run upwards"),
        ("terminals", 2, "most_mm2", "", "both ends"),
        ("lamps", 2, "max_w", "20", "less than the rating"),
        ("lamps", 3, "filament", "main", "already in row 2"),
        ("wire_colours", 3, "colour", "black", "already in row 2"),
        ("ballasts", 3, "value", "1.0", "must rise"),
        ("practice", 3, "high", "2", "not be less"),
        ("practice", 3, "low", "three", "must be a number over 0"),
        ("practice", 3, "low", "nan", "must be a number over 0"),
        ("practice", 3, "name", "drop-usual", "missing: drop-default"),
    ],
)
def test_a_slip_is_named_by_file_row_and_column(
    file: str, line: int, column: str, value: str, words: str
) -> None:
    found = mistakes(**{file: changed(file, line, column, value)})
    named = [problem for problem in found if words in problem.sentence]
    assert named, found
    assert all(problem.field.startswith(f"{file}.csv row ") for problem in found)
    right = {f"{file}.csv row {line}, {column}", f"{file}.csv row 1, name"}
    assert right & {problem.field for problem in named}


def test_all_slips_of_all_files_come_at_once() -> None:
    found = mistakes(
        fuses=changed("fuses", 4, "rating_a", "three"),
        ampacity=changed("ampacity", 2, "60C", "-10"),
        lamps=changed("lamps", 5, "test_v", ""),
    )
    assert {problem.field for problem in found} == {
        "fuses.csv row 4, rating_a",
        "ampacity.csv row 2, 60C",
        "lamps.csv row 5, test_v",
    }
    assert {problem.given for problem in found} == {"three", "-10", ""}


def test_several_slips_in_one_row_too() -> None:
    broken = text("fuses").replace("blade,2,grey,read,", "blade,two,,sure,")
    assert [problem.field for problem in mistakes(fuses=broken)] == [
        "fuses.csv row 3, rating_a",
        "fuses.csv row 3, body_colour",
        "fuses.csv row 3, status",
    ]


@pytest.mark.parametrize(
    ("content", "field"),
    [
        ("", "fuses.csv row 1, header"),
        ("family,rating_a\n", "fuses.csv row 1, header"),
        ("family,rating_a,body_colour,status,source\n", "fuses.csv row 1, row"),
        ("family,rating_a,body_colour,status,source\nblade,1\n", "fuses.csv row 2, row"),
        ('family,rating_a,body_colour,status,source\nblade,1,"red"x,read,a\n', "fuses.csv row 2, row"),
    ],
)
def test_what_is_no_table_is_refused_in_words(content: str, field: str) -> None:
    found = mistakes(fuses=content)
    assert found[0].field == field
    assert found[0].sentence


def test_the_shops_own_copy_counts() -> None:
    own = changed("practice", 2, "low", "1.3")
    own = own.replace("1.3,1.25", "1.3,1.3")
    tables = load_tables(Seeds({"tables/practice.csv": own}))
    assert tables.practice("fuse-margin").low == 1.3
    assert electric_tables().practice("fuse-margin").low == 1.25


def test_a_byte_order_mark_and_dos_lines_do_no_harm() -> None:
    own = "\ufeff" + text("fuses").replace("\n", "\r\n")
    assert load_tables(Seeds({"tables/fuses.csv": own})).fuses == electric_tables().fuses


def test_a_table_that_is_not_there() -> None:
    class Missing(Seeds):
        def text(self, name: str) -> str:
            raise NotFoundError(f"There is no seed file “{name}”.")

    with pytest.raises(NotFoundError):
        load_tables(Missing())


def checks(tables: Tables) -> dict[str, Callable[[], bool]]:
    return {
        "every vehicle wire is as good as copper can be": lambda: all(
            1.0 <= w.ohm_per_km * w.fit_mm2 / 17.241 <= 1.12
            for w in tables.conductors
            if w.family not in {"AWG", "IEC"}
        ),
        "no figure is missing or endless": lambda: all(
            math.isfinite(w.ohm_per_km) and w.area_mm2 > 0 for w in tables.conductors
        ),
        "names are names": lambda: len({w.name for w in tables.conductors}) == len(tables.conductors),
    }


@pytest.mark.parametrize("what", checks(electric_tables()))
def test_sanity_of_what_came_with_the_program(what: str) -> None:
    assert checks(electric_tables())[what]()
