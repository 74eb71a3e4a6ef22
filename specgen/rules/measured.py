"""Measurements, and what they were made of."""

from collections.abc import Iterator

from specgen.assembly import Assembly
from specgen.diagnostics import Finding, Label, codes
from specgen.facts import Facts
from specgen.facts.parts_digest import parts_digest
from specgen.messages import say


def of_other_parts(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG383: a measurement that names other parts than the build has."""
    build = assembly.build
    of = None if build is None or build.measured is None else build.measured.of
    if build is None or of is None:
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
