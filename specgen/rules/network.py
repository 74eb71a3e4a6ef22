"""Network ports and what is plugged into them."""

from collections.abc import Iterator

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Finding, Label, Span, codes
from specgen.facts import Facts
from specgen.model import EthernetPort, Transceiver, expand
from specgen.quantity import plain
from specgen.rules.places import names, settled

# What a cage takes besides its own form.  # common practice, no source
OLDER_FORMS: dict[str, tuple[str, ...]] = {
    "sfp28": ("sfp+",),
    "sfp56": ("sfp28", "sfp+"),
    "qsfp56": ("qsfp28",),
    "qsfp-dd": ("qsfp56", "qsfp28"),
}


def transceivers(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG364: modules that do not suit the port of the adapter they sit in."""
    wrong: dict[tuple[Span, str], list[tuple[Place, Transceiver]]] = {}
    for place, module in settled(assembly, Transceiver):
        port = _port_of(assembly, place)
        why = "" if port is None else _mismatch(place, module, port)
        if why:
            wrong.setdefault((place.at, why), []).append((place, module))
    for (at, why), entries in wrong.items():
        _, module = entries[0]
        yield Finding(
            codes.TRANSCEIVER_MISMATCH,
            f"`{module.id}` does not suit {names(place for place, _ in entries)}: {why}",
            Label(at, why),
            labels=(Label(module.origin.at("speed"), "the module"),),
        )


def _mismatch(place: Place, module: Transceiver, port: EthernetPort) -> str:
    forms = (port.connector, *OLDER_FORMS.get(port.connector, ()))
    if module.form not in forms and not place.position.form:
        return f"it is {module.form}, and the cage {port.connector}"
    if module.speed > port.speed:
        return f"it runs at {plain(module.speed)}, and the port at {plain(port.speed)}"
    return ""


def _port_of(assembly: Assembly, place: Place) -> EthernetPort | None:
    host = assembly.places.get(place.host or "")
    own = place.name.rpartition(".")[2]
    for port in getattr(host.part, "ethernet", ()) if host is not None else ():
        if own in expand(port.name):
            assert isinstance(port, EthernetPort)
            return port
    return None
