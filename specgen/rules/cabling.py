"""Cables: both ends plugged in, each end into a connector of its own."""

from collections.abc import Iterator
from itertools import islice

from specgen.assembly import Assembly, Place, State
from specgen.diagnostics import Finding, Label, codes, did_you_mean, question
from specgen.diagnostics.suggest import quoted
from specgen.facts import Facts
from specgen.messages import Message, Nothing, say
from specgen.model import Cable, expand
from specgen.rules.places import reported_at, settled

MOST_NAMED = 3


def cables(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG204, SG305 and SG363: far ends that go nowhere, do not go in, or find a connector taken."""
    reported = reported_at(assembly)
    taken: dict[str, Place] = {}
    for place, cable in settled(assembly, "far_form"):
        if place.at in reported:
            continue
        if place.to is None or not _exists(assembly, place.to):
            yield _loose_end(assembly, place)
            continue
        form, declared = _connector(assembly, place.to)
        if declared is not None and form != cable.far_form:
            yield _misfit(assembly, place, cable, form, declared)
        elif place.to in taken:
            first = taken[place.to]
            yield Finding(
                codes.CONNECTOR_TAKEN,
                say("{to} is taken by the cable in {first}", to=place.to, first=first.name),
                Label(place.at, say("also goes to {to}", to=place.to)),
                labels=(Label(first.at, say("the first cable")),),
                help=say("send one of them to another connector"),
            )
        taken.setdefault(place.to, place)


def _exists(assembly: Assembly, name: str) -> bool:
    """Whether there is such a connector, or a place whose part would bring it."""
    known = name in assembly.ports or name in assembly.places or name in assembly.platform.leads
    host, _, label = name.rpartition(".")
    if known or any(entry.name == host for entry in assembly.absent):
        return True
    place = assembly.places.get(host)
    if place is None or label in place.leads:
        return place is not None
    if place.state is State.EMPTY:
        return _brought_by_any(assembly, place, label)
    return not place.filled  # by a part that nothing defines: what that would bring is not known


def _brought_by_any(assembly: Assembly, place: Place, label: str) -> bool:
    """Whether some part that an empty place takes would bring the connector."""
    return any(
        label in expand(port.name)
        for part in assembly.definitions.parts.values()
        if part.kind in place.position.takes
        for port in part.brings.ports
    )


def _connector(assembly: Assembly, name: str) -> tuple[str | None, Label | None]:
    if name in assembly.ports:
        port = assembly.ports[name]
        return port.port.form, Label(port.form_at, say("the connector"))
    if name in assembly.platform.leads:
        span = assembly.platform.origin.at("leads", name, "form")
        return assembly.platform.leads[name].form, Label(span, say("the connector"))
    host, _, label = name.rpartition(".")
    place = assembly.places.get(host)
    if place is not None and label in place.leads:
        span = place.origin.at(*place.path, "leads", label, "form")
        return place.leads[label].form, Label(span, say("the connector"))
    return None, None


def _misfit(
    assembly: Assembly, place: Place, cable: Cable, form: str | None, declared: Label
) -> Finding:
    """A far end that does not go in: another form, or none, so that nothing is plugged in there."""
    message = say("the far end of `{cable}` in {place} is {far_form}, and {to} is {form}")
    if form is None:
        message = say(
            "the far end of `{cable}` in {place} is {far_form}, and {to} states no form: nothing "
            "can be plugged in there"
        )
    free = _free(assembly, cable.far_form)
    return Finding(
        codes.WRONG_CONNECTOR,
        message.filled(
            cable=cable.id, place=place.name, far_form=cable.far_form, to=place.to, form=form
        ),
        Label(place.at, say("ends in {far_form}", far_form=cable.far_form)),
        labels=(
            declared if form is not None else Label(declared.span, say("no `form` here")),
            Label(cable.origin.at("far_form"), say("the far end of the cable")),
        ),
        help=say("{names} would take it", names=quoted(free, "or")) if free else "",
    )


def _free(assembly: Assembly, form: str) -> tuple[str, ...]:
    """A few connectors of a form that no cable goes to."""
    taken = {place.to for place in assembly.places.values()}
    forms = {name: each.port.form for name, each in assembly.ports.items()}
    forms |= {name: lead.form for name, lead in assembly.platform.leads.items()}
    for place in assembly.places.values():
        forms |= {f"{place.name}.{label}": lead.form for label, lead in place.leads.items()}
    free = (name for name, each in forms.items() if each == form and name not in taken)
    return tuple(islice(free, MOST_NAMED))


def _loose_end(assembly: Assembly, place: Place) -> Finding:
    names = [*assembly.ports, *assembly.platform.leads]
    close = did_you_mean(place.to or "", names)
    if place.to is None:
        message = say("the cable in {place} goes nowhere", place=place.name)
        help_: Message | Nothing = say(
            "write `{{part: …, to: …}}` with the port or connector at its far end"
        )
    else:
        message = say(
            "the cable in {place} goes to `{to}`, which does not exist",
            place=place.name,
            to=place.to,
        )
        help_ = question(close)
    label = Label(place.at, say("no far end") if place.to is None else say("nothing has this name"))
    return Finding(codes.UNKNOWN_ENDPOINT, message, label, help=help_)
