"""The start page: the fronts of a family to one scale, each with its leading values."""

from specgen.document.blocks.family import line_up
from specgen.document.case import FamilyCase
from specgen.document.tree import (
    Document,
    FactList,
    Figure,
    Hyperlink,
    Listing,
    Paragraph,
    link,
    value,
)
from specgen.drawings.picture import MARGIN
from specgen.pipeline import Survey, bare_case, example_of
from specgen.site.cross_references import CrossReferences, linked

KEYS = [
    "processors.sockets",
    "memory.slots",
    "mechanics.rack_units",
    "mechanics.depth",
    "power.idle",
]


def _family(demo: Survey) -> FamilyCase:
    assert demo.definitions is not None
    platforms = demo.definitions.platforms
    bare = {name: bare_case(demo.definitions, each) for name, each in platforms.items()}
    shown = {name: example_of(demo.definitions, each) for name, each in platforms.items()}
    return FamilyCase(demo.definitions, bare, {}, shown)


def test_fronts_are_to_one_scale_and_as_high_as_their_rack_units(demo: Survey) -> None:
    family = _family(demo)
    listing = line_up(family, KEYS)
    assert listing is not None
    sizes, units = [], []
    for heading, figure, *_ in listing.items:
        assert isinstance(heading, Paragraph)
        assert isinstance(figure, Figure)
        (link,) = heading.children
        assert isinstance(link, Hyperlink)
        units.append(family.platforms[link.target.removeprefix("platform:")].platform.rack_units)
        assert figure.picture is not None
        sizes.append((figure.picture.width - 2 * MARGIN, figure.picture.height - 2 * MARGIN))
    assert units == sorted(units)
    assert len(units) == 5
    assert len({width for width, _ in sizes}) == 1
    heights = [high / unit for (_, high), unit in zip(sizes, units, strict=True)]
    assert max(heights) - min(heights) < 0.1


def test_four_values_stand_beside_each(demo: Survey) -> None:
    listing = line_up(_family(demo), KEYS)
    assert listing is not None
    assert all(len(facts.entries) == 4 for *_, facts in listing.items)


def test_values_of_an_entry_lead_to_the_system_that_its_heading_names(demo: Survey) -> None:
    assert demo.definitions is not None
    keys = {f"platform:{name}": ["memory.slots"] for name in demo.definitions.platforms}
    known = frozenset(f"platforms/{name}/facts.html" for name in demo.definitions.platforms)
    xrefs = CrossReferences(demo.definitions, "facts", known, frozenset(), keys)
    facts = FactList("", (("Memory slots", value("16", "", "memory.slots")),))
    items = tuple(
        (Paragraph(link(name, f"platform:{name}")), facts) for name in ("lantern", "pocket")
    )
    (made,) = linked(Document("Start", (Listing(items),)), xrefs).blocks
    ways = [each[1].entries[0][1][0].target for each in made.items]
    assert ways == [f"platform:{name}/facts#memory.slots" for name in ("lantern", "pocket")]
