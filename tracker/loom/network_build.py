"""Putting a settled loom together as a circuit: nodes, elements, and which is whose."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from tracker.loom import network_elements as make
from tracker.loom.network_ports import Flow, Port
from tracker.loom.network_side import TURN_DEG, Side, aside, lights_by_ac, sides
from tracker.loom.ohms import joint_ohm, load_ohm, rated_v, source_v
from tracker.loom.settle import Settled
from tracker.records.loom import Device, End
from tracker.records.loom_made import Key, Loom
from tracker.records.network import Circuit, Element, Joint, Node, Resistor, VoltageSource

NOWHERE = "nowhere"
AIR_OHM = 1e8


@dataclass(frozen=True, slots=True)
class Copy:
    """The nodes of one current: the steady one has every place, the others only what carries them.

    `frame` is where a chafed wire of this current would find earth; None where there is none to find.
    `sources` are the volts and inner ohms of AC and pulses, of what could give them with a fault as well.
    """

    suffix: str
    flow: Flow
    nodes: Mapping[End, Node]
    frame: Node | None
    sources: Mapping[str, tuple[float, float]] = field(default_factory=dict)


@dataclass(slots=True)
class Build:
    """A circuit being put together; `amps` are what AC windings gave in the round before."""

    settled: Settled
    copper: make.Copper
    amps: Mapping[str, float]
    circuit: Circuit = field(init=False)
    copies: list[Copy] = field(default_factory=list)
    elements: dict[Key, tuple[str, ...]] = field(default_factory=dict)
    part: dict[str, Key] = field(default_factory=dict)
    ports: dict[str, tuple[Port, ...]] = field(default_factory=dict)
    _made: list[Element] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._steady()
        for side in sides(self.settled):
            self._side(side)
        reference = self.reference
        if not any(reference in (element.a, element.b) for element in self._made):
            self._made.append(Resistor("air", reference, NOWHERE, AIR_OHM))
        self.circuit = Circuit(reference, tuple(self._made))

    @property
    def reference(self) -> Node:
        """The battery's earthed post; without a battery the frame, or some source's foot."""
        nodes = self.copies[0].nodes
        return nodes[_foot(self.settled.loom, nodes)] if nodes else "frame"

    @property
    def keep(self) -> set[Node]:
        """Ends of what may come to conduct: open contacts, condensers, sources that do not give."""
        kinds = {"switch", "contact", "capacitor", "source"}
        devices = self.settled.loom.devices.values()
        idle = [one for one in devices if one.kind in kinds and not self.elements["device", one.id]]
        ends = {end for device in idle for end in (device.a, device.b)}
        return {copy.nodes[end] for copy in self.copies for end in ends if end in copy.nodes}

    def _steady(self) -> None:
        loom, settled = self.settled.loom, self.settled
        nodes = _nodes(loom)
        flow: Flow = "AC" if lights_by_ac(loom) else "steady"
        self.copies.append(Copy("", flow, nodes, _frame(loom, nodes)))
        for wire in loom.wires.values():
            leads = make.Leads(f"wire {wire.id}", nodes[wire.a], nodes[wire.b])
            self._put(("wire", wire.id), [make.wire_element(wire, leads, self.copper)])
        for place in loom.places.values():
            a, b = nodes[End(place.id, "in")], nodes[End(place.id, "out")]
            self._put(("place", place.id), [Joint(f"joint {place.id}", a, b, joint_ohm(loom, place.id))])
        giving = {source.id for source in settled.giving}
        for device in loom.devices.values():
            leads = make.Leads(f"device {device.id}", nodes[device.a], nodes[device.b])
            match device.kind:
                case "capacitor":
                    made_here: Iterable[Element] = ()
                case "switch" | "contact":
                    made_here = [make.passive(device, leads)] if device.id in settled.closed else ()
                case "fuse" | "diode" | "resistor":
                    made_here = [make.passive(device, leads)]
                case "source":
                    made_here = self._source(device, leads) if device.id in giving else ()
                case _:
                    made_here = (*make.load(device, loom, leads), *self._limit(device, leads))
                    self._port(device, [leads] if made_here else [], rated_v(device, loom), flow)
            self._put(("device", device.id), made_here)

    def _source(self, device: Device, leads: make.Leads) -> Iterable[Element]:
        loom, state = self.settled.loom, self.settled.state
        if aside(loom, device):
            return ()
        if device.ac:
            return [make.ac_source(device, leads, state, loom, self.amps.get(device.id, 0.0))]
        return make.dc_source(device, leads, state, loom)

    def _limit(self, device: Device, leads: make.Leads) -> Iterable[Element]:
        return make.limit(device, leads) if lights_by_ac(self.settled.loom) else ()

    def _side(self, side: Side) -> None:
        angles = [0.0] if len(side.sources) == 1 else [0.0, 90.0]
        flow: Flow = "pulses" if side.pulses else "AC"
        for angle in angles:
            suffix = f"~{side.tag}" + (f"+{angle:g}" if angle else "")
            self._side_copy(side, suffix, angle, flow)
        copies = self.copies[-len(angles) :]
        for load in side.loads:
            device = self.settled.loom.devices[load]
            leads = [
                make.Leads(f"device {load}{copy.suffix}", copy.nodes[device.a], copy.nodes[device.b])
                for copy in copies
            ]
            self._port(device, leads, self._need(side, device), flow)

    def _need(self, side: Side, device: Device) -> float:
        """AC is held against rated volts; pulses against what this source would give this load alone."""
        if not side.pulses:
            return rated_v(device, self.settled.loom)
        source, ohm = side.sources[0], load_ohm(device, self.settled.loom)
        volts = source_v(source, self.settled.state, self.settled.loom)
        return max(1e-9, volts * ohm / (ohm + make.inner_ohm(source)))

    def _side_copy(self, side: Side, suffix: str, angle: float, flow: Flow) -> None:
        loom, state = self.settled.loom, self.settled.state
        home = self.copies[0].nodes
        foot = home[side.sources[0].a]
        nodes: dict[End, Node] = {}

        def at(end: End) -> Node:
            return nodes.setdefault(end, self.reference if home[end] == foot else f"{home[end]}{suffix}")

        for what, id_ in sorted(side.steps | side.bridges):
            name = f"{what} {id_}{suffix}"
            if what == "wire":
                wire = loom.wires[id_]
                leads = make.Leads(name, at(wire.a), at(wire.b))
                self._put(("wire", id_), [make.wire_element(wire, leads, self.copper)])
            elif what == "joint":
                a, b = at(End(id_, "in")), at(End(id_, "out"))
                self._put(("place", id_), [Joint(name, a, b, joint_ohm(loom, id_))])
            else:
                device = loom.devices[id_]
                leads = make.Leads(name, at(device.a), at(device.b))
                self._put(("device", id_), self._side_device(side, device, leads))
        giving = {source.id for source in self.settled.giving}
        could: dict[str, tuple[float, float]] = {}
        for number, source in enumerate(side.sources):
            plus, minus, name = at(source.b), at(source.a), f"device {source.id}{suffix}"
            direct, across, behind = make.phase(source, state, loom, TURN_DEG * number)
            volts = across if angle else direct
            could[source.id] = (volts, behind)
            made = [VoltageSource(name, plus, minus, volts, behind)] if source.id in giving else []
            self._put(("device", source.id), made)
        frame = self.copies[0].frame
        earthed = frame is not None and any(
            home[end] == frame or loom.places[end.place].kind == "metal" for end in nodes
        )
        self.copies.append(Copy(suffix, flow, nodes, self.reference if earthed else None, could))

    def _side_device(self, side: Side, device: Device, leads: make.Leads) -> Iterable[Element]:
        if device.is_load:
            ohm = max(load_ohm(device, self.settled.loom), make.LEAST_OHM)
            shunt = make.limit(device, leads) if len(side.sources) == 1 and not side.pulses else ()
            return (Resistor(leads.name, leads.a, leads.b, ohm), *shunt)
        open_now = device.kind in {"switch", "contact"} and device.id not in self.settled.closed
        return () if open_now else (make.passive(device, leads),)

    def _port(self, device: Device, leads: Sequence[make.Leads], need_v: float, flow: Flow) -> None:
        if leads:
            pairs, names = tuple((one.a, one.b) for one in leads), tuple(one.name for one in leads)
            port = Port(pairs, names, need_v, flow, device.one_way and flow == "steady")
            self.ports[device.id] = (*self.ports.get(device.id, ()), port)

    def _put(self, part: Key, elements: Iterable[Element]) -> None:
        """Keeps elements that have two ends, under their part."""
        kept = [element for element in elements if element.a != element.b]
        self._made += kept
        self.elements[part] = (*self.elements.get(part, ()), *(element.name for element in kept))
        for element in kept:
            self.part[element.name] = part


def _nodes(loom: Loom) -> dict[End, Node]:
    """A node for every side of every place; one for both where there is no joint between them."""
    used = {end for wire in loom.wires.values() for end in (wire.a, wire.b)}
    used |= {end for device in loom.devices.values() for end in (device.a, device.b)}
    nodes: dict[End, Node] = {}
    for place in loom.places.values():
        a, b = End(place.id, "in"), End(place.id, "out")
        parted = joint_ohm(loom, place.id) >= make.LEAST_OHM and a in used and b in used
        nodes[a] = str(a) if parted else place.id
        nodes[b] = str(b) if parted else place.id
    return nodes | {end: str(end) for end in used if end not in nodes}


def _foot(loom: Loom, nodes: Mapping[End, Node]) -> End:
    sources = [device for device in loom.devices.values() if device.kind == "source"]
    positive = {**loom.features, **loom.supposed}.get("earth") == "positive"
    for device in sources:
        if device.source == "battery":
            return device.b if positive else device.a
    frame = End("frame", "in")
    if frame in nodes:
        return frame
    return sources[0].a if sources else next(iter(nodes))


def _frame(loom: Loom, nodes: Mapping[End, Node]) -> Node | None:
    metal = [place.id for place in loom.places.values() if place.kind == "metal"]
    named = "frame" if "frame" in metal else next(iter(metal), None)
    return nodes[End(named, "in")] if named else None
