"""A circuit that is to be added: the load, what was asked of it, and what was worked out."""

from dataclasses import dataclass

from tracker.records.electrics import Load, Sourced, Sum

CIRCUIT_RULE = "new-feed"
"""The rule that lays a circuit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewLoad(Sourced):
    """Something that people have put on: `load` in all, `share` of the time that it is on while riding.

    `drop_percent` is the drop allowed on its wire; `keyed` that it must go off with the key; `switched` that
    it has a switch of its own, which without a relay takes all its current. `rule` is the repair that puts it
    on, `answers` what is answered beforehand; it takes the place of the loom's loads `instead`, each of which
    then takes `load`.
    """

    id: str
    words: str
    load: Load
    share: float
    drop_percent: float
    keyed: bool
    switched: bool
    rule: str
    answers: str = ""
    instead: tuple[str, ...] = ()

    @property
    def lays_circuit(self) -> bool:
        """Whether it gets a wire and a fuse of its own; else it only takes the place of what is there."""
        return self.rule == CIRCUIT_RULE


@dataclass(frozen=True, slots=True)
class Feeding:
    """A part of the loom that feeds a new circuit: what it is rated for, and carries already, in amperes."""

    words: str
    rated_a: float
    carries_a: float
    fuse: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitAsked:
    """What a circuit is worked out from: lengths in mm, temperature in °C, currents in amperes.

    `switch_a` is what the switch that will work it carries, `supply_v` the bike's volts; `together` how many
    loaded wires it lies among. `feed` is None for a feed from the battery with a fuse of its own, else the
    fuse it is to hang on, `through` what feeds that, and `feed_keyed` whether it goes off with the key.
    """

    words: str
    load: Load
    length_mm: int
    drop_percent: float
    keyed: bool
    switched: bool
    supply_v: float
    switch_a: float
    ambient_c: float
    together: int
    family: str = "thin wall"
    feed: Feeding | None = None
    through: tuple[Feeding, ...] = ()
    feed_keyed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """The circuit: its wire with the fuse (None where no wire will do), relay or not, and why.

    `refused` are the reasons, in words, why it cannot be put on like this; empty where it can.
    """

    wire: Sum | None
    wire_name: str
    size_mm2: float
    current_a: float
    fuse_a: float
    fuse_colour: str
    relay: bool
    why: tuple[str, ...]
    cautions: tuple[str, ...]
    refused: tuple[str, ...]
