"""A case as plain values: what data writers write."""

from dataclasses import fields

from specgen.assembly import Assembly, Place, swap_of
from specgen.diagnostics import Span, arrange
from specgen.document.case import Case
from specgen.document.data.plain_values import (
    FORM,
    BuildData,
    EfficiencyData,
    EthernetData,
    FindingData,
    LinkData,
    Location,
    OutputData,
    PartData,
    PlatformData,
    PositionData,
    StatedValue,
    VolumeData,
    stated,
)
from specgen.document.recording import asked_of
from specgen.facts.calculators.expansion import slot_generation
from specgen.facts.declared import declared_facts
from specgen.facts.fact_data import bare, exact_of, fact_record
from specgen.fitness.curves import curve_at_mains
from specgen.model import CARRIERS, Conditions, EthernetPort, LifeStatus, Part, PowerSupply, expand
from specgen.quantity import DataSize, Quantity


def build_data(case: Case) -> BuildData:
    """Everything known about a build, every fact with its pedigree."""
    build, project = case.build, case.definitions.project
    assert build is not None, "a platform alone is no build"
    places = case.assembly.places.values()
    parts = {part.id: part for _, part in case.assembly.everything()}
    status = case.definitions.status
    return BuildData(
        form=FORM,
        build=build.id,
        name=build.name,
        number=build.number,
        revision=build.revision,
        date=str(build.date) if build.date else None,
        summary=build.summary,
        sound=case.sound,
        publisher=project.publisher.name,
        edition=project.edition,
        platform=_platform(case),
        conditions=_conditions(case.assembly.conditions),
        asked=asked_of(case),
        facts=tuple(fact_record(fact) for fact in case.facts.values()),
        parts=tuple(_part(parts[id_], status(parts[id_])) for id_ in sorted(parts)),
        positions=tuple(_position(case.assembly, place) for place in places),
        volumes=tuple(
            VolumeData(
                name=volume.name,
                level=volume.level,
                usable_bytes=_bytes(case.facts.value(f"storage.{volume.name}.usable")),
                drives=_names(volume.drives),
                spares=_names(volume.spares),
            )
            for volume in build.volumes
        ),
        findings=tuple(
            FindingData(
                code=found.code.id,
                title=found.code.title,
                severity=found.severity,
                message=str(found.message),
                notes=tuple(map(str, found.notes)),
                help=str(found.help),
                at=_at(found.at.span),
            )
            for found in arrange(case.findings)
        ),
        seal="",
    )


def _at(span: Span) -> Location:
    return Location(file=span.file, line=span.line)


def _bytes(value: object) -> int | None:
    return round(value.in_unit("B")) if isinstance(value, DataSize) else None


def _names(ranges: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(name for each in ranges for name in expand(each))


def _platform(case: Case) -> PlatformData:
    platform = case.platform
    return PlatformData(
        id=platform.id,
        name=platform.name,
        family=platform.family,
        number=platform.number,
        rack_units=platform.rack_units,
        width_mm=platform.size.width.in_unit("mm"),
        height_mm=platform.size.height.in_unit("mm"),
        depth_mm=platform.size.depth.in_unit("mm"),
        kilograms=platform.mass.in_unit("kg"),
        operating_class=platform.operating_class,
    )


def _conditions(conditions: Conditions) -> dict[str, StatedValue]:
    stated = {}
    for entry in fields(conditions):
        value = getattr(conditions, entry.name)
        if value is not None:
            plain = value if isinstance(value, Quantity | int) else str(value)
            number, unit = bare(plain)
            label = entry.name.replace("_", " ").capitalize()
            exact = exact_of(plain)
            stated[entry.name] = StatedValue(label=label, value=number, exact=exact, unit=unit)
    return stated


def _part(part: Part, status: LifeStatus) -> PartData:
    values = {}
    for fact in declared_facts(part):
        values[fact.key.removeprefix(f"{part.id}.")] = stated(fact)
    supply = part if isinstance(part, PowerSupply) else None
    ports: tuple[EthernetPort, ...] = getattr(part, "ethernet", ())
    return PartData(
        id=part.id,
        kind=part.kind,
        kind_title=part.title,
        name=part.name,
        number=part.number,
        maker=part.maker,
        status=status,
        replaced_by=part.life.replaced_by,
        kilograms=part.mass.in_unit("kg") if part.mass is not None else None,
        document=part.source.document,
        values=values,
        interfaces=tuple(
            interface
            for interface, carriers in CARRIERS.items()
            if any(protocol in port.carries for port in part.brings.ports for protocol in carriers)
        ),
        ethernet=tuple(port for each in ports for port in _ports(each)),
        outputs=tuple(
            OutputData(
                supplied=each.supplied,
                from_volts=each.from_.in_unit("V"),
                to_volts=each.to.in_unit("V"),
                watts=each.output.in_unit("W"),
            )
            for each in (supply.outputs if supply else ())
        ),
        efficiency=tuple(
            EfficiencyData(load=point.load, efficiency=point.efficiency)
            for point in (curve_at_mains(supply)[0] if supply else ())
        ),
        at=_at(part.origin.at("id")),
    )


def _ports(entry: EthernetPort) -> tuple[EthernetData, ...]:
    return tuple(
        EthernetData(
            name=name,
            gigabits=entry.speed.in_unit("Gbit/s"),
            connector=entry.connector,
            medium=entry.medium,
            management=entry.management,
            shared=entry.shared,
        )
        for name in expand(entry.name)
    )


def _position(assembly: Assembly, place: Place) -> PositionData:
    position = place.position
    part = place.part or place.closed_by
    served, swap = assembly.controller(place.name), swap_of(assembly, place)
    return PositionData(
        name=place.name,
        takes=position.takes,
        area=position.area,
        state=place.state.value,
        part=part.id if part else None,
        how=place.how,
        host=place.host,
        of=place.of,
        form=position.form,
        height=position.height,
        length=position.length,
        connector=position.connector,
        channel=position.channel,
        swap=position.swap,
        hot_swap=None if swap is None else swap == "hot",
        cable_to=place.to,
        served_by=served.place.name if served else None,
        link=_link(assembly, place.name),
        reason=str(place.reason),
        at=_at(place.at),
    )


def _link(assembly: Assembly, name: str) -> LinkData | None:
    link = assembly.links.get(name)
    if link is None:
        return None
    return LinkData(
        protocol=link.speaks,
        wired=link.wired,
        lanes=link.lanes,
        generation=link.generation,
        slot_generation=slot_generation(link),
        owner=link.owner.name if link.owner else None,
        broken=str(link.broken),
    )
