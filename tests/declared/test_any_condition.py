"""Whatever is written as a condition, the answer is a rule or a finding, and it comes."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from specgen.diagnostics import Span
from specgen.facts.rule_book import rule_book
from specgen.rules.declared import statement_of
from specgen.rules.declared.phrasing import in_words
from tests.declared.ruled import one, ruled
from tests.projects import base, project
from tests.timing import NO_HANG, tries

DEFINITIONS = project(base()).loaded.definitions
assert DEFINITIONS is not None
LANTERN = DEFINITIONS.platforms["lantern"]
PIECES = st.sampled_from(
    (
        *("drives", "fans", "accelerators", "parts", "inlet", "line", "platform", "it", "x", "d"),
        *(".count", ".tdp", ".id", ".__class__", ".power.maximum", ".swap", '["x"]', "[0]"),
        *("(", ")", "[", "]", " and ", " or ", "not ", " in ", " == ", " <= ", " > ", " + ", " - "),
        *(" * ", " / ", " ** ", "-", '"30 degC"', '"hot"', '"270 W"', "8", "0", "1e9", "None"),
        *('part("CPU1")', 'filled("FAN 1")', 'has("fan")', 'fact("power.maximum")', ", ", " for "),
        *(
            "count(d for d in drives if ",
            "sum(d.capacity for d in drives",
            "any(",
            "lambda: ",
            ":=",
        ),
        *("' '", "\\", "\u202e", "\x00", "#", "f''", "=", "!", "\n", "\t", "0x1", "1_0", "..."),
    )
)


@given(st.lists(PIECES, max_size=14).map("".join) | st.text(max_size=40))
@settings(
    max_examples=tries(250), deadline=NO_HANG * 1000, suppress_health_check=[HealthCheck.too_slow]
)
def test_any_text_is_a_statement_or_a_finding(text):
    statement, findings = statement_of(text, DEFINITIONS, LANTERN)
    assert (statement is None) == bool(findings)
    for finding in findings:
        assert finding.message
        assert finding.at.span == Span("", 0, 0, 0, 0)


TRUTHS = st.recursive(
    st.sampled_from(
        (
            *("drives.count > 3", 'inlet >= "30 degC"', 'has("raid-8")', 'filled("SLOT 3")'),
            *('any(d.swap == "hot" for d in drives)', 'part("CPU2").tdp <= "205 W"', "True"),
            *("sum(d.lanes for d in drives) < 12", 'part("CPU1").id in ("corvane-c32", "hub")'),
            *('max(a.power.maximum for a in accelerators) == "110 W"', "inlet != None"),
        )
    ),
    lambda inner: (
        st.tuples(inner, inner).map(lambda two: f"({two[0]} and {two[1]})")
        | st.tuples(inner, inner).map(lambda two: f"({two[0]} or {two[1]})")
        | inner.map(lambda one: f"not {one}")
    ),
    max_leaves=5,
)


@given(TRUTHS, TRUTHS)
@settings(max_examples=tries(25), deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_statements_obey_the_laws_of_logic(left, right):
    """Of two rules that say the same in other words, both fire or neither; order is nothing."""
    found = ruled(
        one(code="QW-1", forbid=f"{left} and {right}"),
        one(code="QW-2", forbid=f"{right} and {left}"),
        one(code="QW-3", require=f"not ({left}) or not ({right})"),
        one(code="QW-4", when=left, forbid=right),
    )
    assert found.codes.count("QW-1") == found.codes.count("QW-2")
    assert found.codes.count("QW-1") == found.codes.count("QW-3") == found.codes.count("QW-4")
    definitions = found.loaded.definitions
    assert definitions is not None
    for rule in rule_book(definitions).rules:
        assert str(in_words(rule))[0].isupper() or not str(in_words(rule))[0].isalpha()
        assert str(in_words(rule)).endswith(".")
