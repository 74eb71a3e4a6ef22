"""A rule that a platform has from another is one rule with one page."""

from specgen.document.tree import plain_text
from specgen.load.definitions import load
from specgen.site.rule_pages import rule_pages
from tests.projects import base, sources

PLATFORM = "platforms/lantern.yaml"
RULE = "\nrules:\n  - {code: QW-7, require: power_supplies.count >= 1}\n"
LIKE = "id: lantern-b\nname: Lantern B\nlike: lantern\nsummary: The same in grey\n"


def test_a_rule_of_two_platforms_has_one_page_that_names_both() -> None:
    files = base()
    files |= {PLATFORM: files[PLATFORM] + RULE, "platforms/lantern-b.yaml": LIKE}
    definitions = load(sources(files)).definitions
    assert definitions is not None
    made = {each.path: each.document for each in rule_pages(definitions, {})}
    assert list(made) == ["rules.html", "rules/QW-7.html"]
    facts = next(block for block in made["rules/QW-7.html"].blocks if hasattr(block, "entries"))
    said = {str(label): plain_text(cell) for label, cell in facts.entries}
    assert said["Declared for"] == "Lantern, Lantern B"
