"""Calls that templates write: Python's parser reads of them what Jinja2 reads."""

import pytest
from jinja2 import DictLoader

from specgen.document.shelf import templates_of
from specgen.document.template import Templates
from specgen.document.template_calls import LONGEST, OnDisk, plain_calls
from tests.bench.projects import DEMO

MAKERS = ("prose", "fact_table", "fact_rows")
PLAIN = (
    '{{ prose("introduction") }}',
    "Text.\n\n  {{- prose('a', \"b\") -}}\n\n{{ prose(name, other.id) }}",
    '{{ fact_table("A",\n  over="x", columns=[("b", 1 if c else 2)],\n  anchor="d-table") }}',
    '{{ fact_rows(say("A") if has("b.c") else say("D"), [true, None, none, 1.5, ()]) }}',
    "no call at all: {{ other(1) }}",
    "{{ prose() }}",
)
NOT_PLAIN = (
    '{% if prose("a") %}b{% endif %}',
    'Text {{ prose("a") }}',
    '{{ prose("a") or "b" }}',
    '{{ prose("a") | default("b") }}',
    '{{ prose("a" ~ "b") }}',
    '{{ prose("a" if b) }}',
    '{{ prose({"a": 1}) }}',
    '{{ prose("a\\n") }}',
    '{{ prose("}}") }}',
    "{{ prose(*a) }}",
    "{{ prose(**a) }}",
    "{{ prose(-1) }}",
    '{# {{ prose("a") }} #}\n{{ prose("b") }}',
    '{% raw %}\n{{ prose("a") }}\n{% endraw %}',
    "{% set a = prose %}\n{{ a(prose('b')) }}",
    '{{ prose("a"',
    "{{ prose(" * 500,
    "{{ prose(" + "[" * 300 + "]" * 300 + ") }}",
    "{{ prose(" + "(" * 5000 + ")" * 5000 + ") }}",
    '{{ prose("' + "a" * LONGEST + '") }}',
)


@pytest.mark.parametrize("text", PLAIN)
def test_what_is_plain_is_read_as_jinja2_reads_it(text: str) -> None:
    jinja = Templates(DictLoader({"t.md": text})).calls("t", MAKERS)
    assert plain_calls(text, MAKERS) == list(jinja)


@pytest.mark.parametrize("text", NOT_PLAIN)
def test_all_else_is_left_to_jinja2(text: str) -> None:
    assert plain_calls(text, MAKERS) is None


@pytest.mark.parametrize("makers", [MAKERS[:1], MAKERS[1:]])
def test_the_shipped_templates_are_plain(makers: tuple[str, ...]) -> None:
    """So a check of the demo reads them without the library that runs them."""
    light, jinja = OnDisk(DEMO), templates_of(DEMO)
    assert set(light.names()) == set(jinja.names())
    for name in light.names():
        assert light.text(name) == jinja.text(name)
        assert plain_calls(light.text(name), makers) == list(jinja.calls(name, makers)), name
