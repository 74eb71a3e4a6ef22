"""A measurement names the parts it was made of; of other parts it is no measurement of a build."""

from dataclasses import replace

from specgen.document.case import Case
from specgen.facts.parts_digest import parts_digest
from specgen.model.build import Fill
from specgen.pipeline import Survey, case_of
from specgen.quantity import Power

BUILD = "beacon-lookout"
CODES = {"SG382", "SG383"}


def _measured(demo: Survey, of: str | None, **fit: object) -> tuple[Case, list[str]]:
    """The build as if far more had been measured than its parts can draw."""
    definitions = demo.definitions
    assert definitions is not None
    build = definitions.builds[BUILD]
    assert build.measured is not None
    measured = replace(build.measured, of=of, maximum=Power.of(9000, "W"))
    case = case_of(definitions, replace(build, measured=measured, fit={**build.fit, **fit}))
    assert case is not None
    return case, [each.code.id for each in case.findings if each.code.id in CODES]


def _own(demo: Survey) -> str:
    return parts_digest(demo.cases[BUILD].assembly)


def test_of_the_same_parts_or_of_parts_that_nobody_names_it_counts(demo: Survey):
    for of in (_own(demo), None):
        case, codes = _measured(demo, of)
        assert codes == ["SG382"]
        assert case.facts.value("regulation.maximum") == Power.of(9000, "W")


def test_of_other_parts_nothing_is_printed_and_a_note_tells_which_these_are(demo: Survey):
    case, codes = _measured(demo, "0123abcd")
    assert codes == ["SG383"]
    (note,) = (each for each in case.findings if each.code.id == "SG383")
    assert note.severity == "note"
    assert _own(demo) in str(note.help)
    for fact in ("regulation.maximum", "regulation.idle", "regulation.efficiency_active"):
        assert case.facts.value(fact) is None
    missing = case.facts.value("regulation.missing")
    assert any("measured maximum power" in str(each) for each in missing)


def test_parts_exchanged_are_a_sound_edit(demo: Survey):
    """Every build of the demo says what was measured; with another bezel or none it warns not."""
    definitions = demo.definitions
    assert definitions is not None
    for name, build in definitions.builds.items():
        if build.measured is None:
            continue
        assert build.measured.of == parts_digest(demo.cases[name].assembly)
        fewer = {place: fill for place, fill in build.fit.items() if place != "TPM"}
        assert fewer != build.fit
        case = case_of(definitions, replace(build, fit=fewer))
        assert case is not None
        assert [each.code.id for each in case.findings if each.code.id in CODES] == ["SG383"]


def test_of_parts_that_nobody_knows_no_note_tells_that_they_are_others(demo: Survey):
    _, codes = _measured(demo, _own(demo), TPM=Fill(part="tpm-none"))
    assert codes == []
