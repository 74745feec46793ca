"""A new circuit as plain text: what speaks against it, the circuit, the balance, the estimate."""

import textwrap

from tracker.desk.new_circuit import NewCircuit
from tracker.papers.twins import WIDTH


def new_circuit_text(found: NewCircuit, width: int = WIDTH) -> str:
    """The circuit, the balance, the estimate, and first of all what speaks against it."""
    circuit, load = found.circuit, found.load
    lines = [f"{load.words[:1].upper()}{load.words[1:]}"]
    for words in found.refused:
        lines += _wrapped(width, f"REFUSED: {words}")
    if circuit is not None and circuit.wire is not None:
        relay = "with a relay" if circuit.relay else "without a relay"
        head = (
            f"From {found.start} to {found.goal}, {found.length_mm} mm: {circuit.current_a:.1f} A,"
            f" {circuit.wire_name}, fuse {circuit.fuse_a:g} A ({circuit.fuse_colour}), {relay}."
        )
        lines += _wrapped(width, head)
        lines += [f"  {line}" for words in circuit.why for line in _wrapped(width, words)]
    lines += [line for words in found.balance_words for line in _wrapped(width, words)]
    if found.tried is not None:
        tried = found.tried
        expected, range_ = tried.worked.result.minutes.expected, tried.worked.result.band
        lines += [
            f"Time: expected {expected} min, {range_.low} to {range_.high} in 8 of 10.",
            f"Total with tax {tried.total} {tried.total.currency}. {tried.customer}",
            *(line for words in tried.notes for line in _wrapped(width, words)),
            f'On a card: loomcard estimate N --repair "{found.repair}"',
        ]
    if circuit is not None:
        lines += [line for words in circuit.cautions for line in _wrapped(width, words)]
    return "\n".join(lines)


def _wrapped(width: int, text: str) -> list[str]:
    return textwrap.wrap(text, width, subsequent_indent="    ", break_on_hyphens=False)
