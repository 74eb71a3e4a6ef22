"""Builds that the solver finds as files: every line of one written by hand."""

from specgen.limits.build_text import anew, text_of
from specgen.model import Build, Conditions, Fill
from specgen.quantity import Length, Temperature
from specgen.source import read_tree

FIT = {"FAN 1..2": Fill(part="fan"), "J1": Fill(part="cable", to="SLOT 1.C0")}
SCHEMA = "# yaml-language-server: $schema=../.schemas/build.json\n"
FITTED = """\
fit:
  FAN 1..2: fan
  J1: {part: cable, to: SLOT 1.C0}
"""


def test_a_build_with_what_it_was_asked_for():
    build = Build(id="quay", name='Quay "two"', platform="small", summary="A wish: met", fit=FIT)
    at = Conditions(
        inlet=Temperature.of(25, "degC"), altitude=Length.of("0.5", "km"), redundancy="1+1"
    )
    assert text_of(build, at) == (
        f"""{SCHEMA}id: quay
name: "Quay \\"two\\""
platform: small
summary: "A wish: met"
conditions:
  inlet: 25 degC
  altitude: 0.5 km
  redundancy: "1+1"
{FITTED}"""
    )


def test_a_build_of_nothing_under_no_conditions():
    build = Build(id="quay", name="Quay", platform="small", summary="Bare", fit={})
    told = text_of(build, Conditions())
    assert told == f'{SCHEMA}id: quay\nname: "Quay"\nplatform: small\nsummary: "Bare"\nfit: {{}}\n'


def test_a_file_keeps_all_that_it_says_beside_its_parts():
    text = """\
id: quay
summary: 'It''s on the quay: wet'
fit: {FAN 1..2: old}
documents: []
assumptions: {}
volumes:
- name: Boot
  drives: [BAY 0, BAY 1]
- {name: Data, level: 5}
"""
    tree, findings = read_tree(text, "configured/quay.yaml")
    assert findings == ()
    assert anew(tree, FIT) == (
        f"""{SCHEMA}id: quay
summary: "It's on the quay: wet"
{FITTED}documents: []
assumptions: {{}}
volumes:
  - name: Boot
    drives:
      - BAY 0
      - BAY 1
  - name: Data
    level: 5
"""
    )
