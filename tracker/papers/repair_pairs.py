"""A repair in keys and values: exactly where it is, what was done, with what; or room to write it by hand."""

from tracker.papers.known import Known
from tracker.papers.loom_words import loom_words
from tracker.papers.own_words import line_words
from tracker.papers.paper import Pair
from tracker.papers.say import number
from tracker.papers.tongue import mark, t
from tracker.records.work import Repair

NOT_TESTED = mark("no sample was pulled")


def where_pairs(repair: Repair, known: Known, *, room: bool) -> tuple[Pair, ...]:
    """Circuit, the wire between which two places, how far from which of them; unknown ones only as room."""
    far = "" if repair.mm is None else f"{repair.mm} mm"
    end = known.place(repair.mm_end)
    pairs = (
        Pair(t("Circuit"), loom_words(repair.circuit), room),
        Pair(t("Wire between"), between(repair, known), room),
        Pair(
            t("How far"), t("{far} from {end}", far=far, end=end) if far and end else far or end, room, "mm"
        ),
        Pair(t("from"), "", room and not end),
        Pair(t("Size"), "" if repair.size_mm2 is None else f"{number(repair.size_mm2)} mm²", room, "mm²"),
        Pair(t("Colour"), colour_words(repair), room),
    )
    return tuple(pair for pair in pairs if pair.value or pair.room)


def what_pairs(repair: Repair, *, room: bool) -> tuple[Pair, ...]:
    """Splice, terminal, connector, sleeve, wire used, pull test; unknown ones only as room."""
    used = "" if repair.length_used_mm is None else f"{repair.length_used_mm} mm"
    pairs = (
        Pair(t("Splice"), line_words(repair.splice), room),
        Pair(t("Terminal"), line_words(repair.terminal), room),
        Pair(t("Connector"), connector_words(repair), room),
        Pair(t("Sleeve"), line_words(repair.sleeve), room),
        Pair(t("Wire used"), used, room, "mm"),
        Pair(t("Pull test"), pull_words(repair), room, "N"),
    )
    return tuple(pair for pair in pairs if pair.value or pair.room)


def between(repair: Repair, known: Known) -> str:
    """The two ends of the wire."""
    return f" {t('and')} ".join(known.place(end) for end in (repair.wire_from, repair.wire_to) if end)


def colour_words(repair: Repair) -> str:
    """Main colour and tracer, and whose letters were read where letters were."""
    colour = (
        t("{colour}, {tracer} tracer", colour=repair.colour, tracer=repair.tracer)
        if repair.tracer
        else repair.colour
    )
    return (
        f"{colour} ({repair.colour_code})" if repair.colour_code and colour else colour or repair.colour_code
    )


def connector_words(repair: Repair) -> str:
    """Old connector and new, and whether its ways are as they were."""
    if repair.connector_old and repair.connector_new:
        plug = f"{repair.connector_old} > {repair.connector_new}"
    else:
        plug = repair.connector_old or repair.connector_new
    ways = {True: t("ways as before"), False: t("RE-PINNED: ways are not as before"), None: ""}[
        repair.keeps_ways
    ]
    return "\n".join(part for part in (plug, ways) if part)


def pull_words(repair: Repair) -> str:
    """What a sample crimp held, if one was pulled."""
    if repair.pull_n is not None:
        return t("{force} N on a sample", force=number(repair.pull_n))
    return {True: t("done on a sample"), False: t(NOT_TESTED), None: ""}[repair.pull_tested]
