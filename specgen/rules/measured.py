"""Measurements, and what they were made of."""

from collections.abc import Iterator

from specgen.assembly import Assembly
from specgen.diagnostics import Finding, Label, codes
from specgen.facts import Facts
from specgen.facts.parts_digest import parts_digest
from specgen.messages import say


def _whole(assembly: Assembly) -> bool:
    """Whether all parts that the system names are known: else nobody can tell which it has."""
    build, known = assembly.build, assembly.definitions.parts
    fitted = () if build is None else (each.part for each in build.fit.values())
    fixed = (place.position.fixed for place in assembly.places.values())
    return all(name in known for name in (*fitted, *fixed) if name is not None)


def of_other_parts(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG383: a measurement that names other parts than the build has."""
    build = assembly.build
    of = None if build is None or build.measured is None else build.measured.of
    if build is None or of is None or not _whole(assembly):
        return
    own = parts_digest(assembly)
    if of != own:
        yield Finding(
            codes.MEASURED_OTHER_PARTS,
            say("what was measured had other parts: none of its values is printed"),
            Label(build.origin.at("measured", "of"), say("these parts are `{digest}`", digest=own)),
            help=say("measure again; where these parts were measured, write `of: {digest}`",
                     digest=own),
        )  # fmt: skip
