"""Documents of the demo as the source that their PDFs are set from; drawings are left out."""

import re
from pathlib import Path

import pytest

from specgen.cli.cache_folder import kept_folder
from specgen.document.case import FamilyCase
from specgen.document.shelf import templates_of
from specgen.drawings import LayoutEngine, nowhere
from specgen.limits.reach import reaches
from specgen.pipeline import Survey, bare_case, compose
from specgen.site.workshop import workshop
from specgen.write.typst import source
from specgen.write.writer_options import Options
from tests.golden.conftest import Golden
from tests.golden.test_golden import BUILDS, PLATFORM, ROOT, about_the_platform

OPTIONS = Options(publisher="Quillmere Works", date="2026-06-12")


def without_drawings(made: str) -> str:
    return re.sub(r'"<svg (?:[^"\\]|\\.)*"', '"<svg><!-- the drawing --></svg>"', made)


@pytest.mark.parametrize("build", BUILDS)
def test_a_sheet_as_source_of_its_pdf(golden: Golden, demo: Survey, build: str):
    case = demo.cases[build]
    templates = templates_of(ROOT / "builds")
    document, problems = compose("sheet", templates, case, LayoutEngine(), nowhere)
    assert problems == ()
    assert document is not None
    golden(f"{build}.typ", without_drawings(source(document, OPTIONS)))


def test_a_platform_as_source_of_its_pdf(golden: Golden, demo: Survey):
    definitions = demo.loaded.definitions
    assert definitions is not None
    reach = reaches(definitions, kept_folder())
    bare = {
        name: bare_case(definitions, each, reach[name] if name == PLATFORM else None)
        for name, each in definitions.platforms.items()
    }
    family = FamilyCase(
        definitions,
        bare,
        {name: (case.facts, case.sound) for name, case in demo.cases.items()},
    )
    templates = templates_of(ROOT / "builds")
    document, problems = compose(
        "platform",
        templates,
        bare[PLATFORM],
        LayoutEngine(),
        nowhere,
        family=family,
        kept=kept_folder(),
    )
    assert problems == ()
    assert document is not None
    golden(f"platform-{PLATFORM}.typ", without_drawings(source(document, OPTIONS)))


def test_a_service_guide_as_source_of_its_pdf(
    golden: Golden, demo: Survey, demo_folder: Path, tmp_path: Path
):
    shop = workshop(demo_folder, demo.loaded, tmp_path, None, drafts=True)
    document, problems = about_the_platform("service-guide", shop)
    assert problems == ()
    assert document is not None
    golden(f"service-guide-{PLATFORM}.typ", without_drawings(source(document, OPTIONS)))
