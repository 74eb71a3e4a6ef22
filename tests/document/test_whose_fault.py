"""An exception of our own is nobody's finding, wherever a template runs into it."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jinja2 import DictLoader, TemplateRuntimeError, UndefinedError

from specgen.cli.cache_folder import kept_folder
from specgen.document.blocks.makers import (
    comparison_blocks,
    family_blocks,
    order_blocks,
    part_blocks,
    system_blocks,
)
from specgen.document.case import FamilyCase, PartCase
from specgen.document.compose import compose
from specgen.document.figures import DRAWINGS
from specgen.document.loader import folders
from specgen.document.maker import AuthorError, BlockFunction
from specgen.document.sets import order_document
from specgen.document.several import Compared, Order
from specgen.document.shelf import templates_of
from specgen.document.template import Templates, plain
from specgen.drawings import LayoutEngine, nowhere
from specgen.pipeline import Survey, bare_case
from specgen.pipeline import compose as compose_machine
from specgen.shipped import ABOUT, documents_about, templates_folder

BUGS = (
    KeyError("slot 1"),
    TypeError("no"),
    ValueError("no"),
    ZeroDivisionError(),
    AttributeError("power"),
    IndexError(3),
    RecursionError(),
    MemoryError(),
    UndefinedError("no"),
    TemplateRuntimeError("no"),
    UnicodeDecodeError("utf-8", b"x", 0, 1, "no"),
    AssertionError(),
    NotImplementedError(),
    OSError("disk"),
)
PLACES = (
    "{{ block() }}",
    "{% set x = block() %}{{ x }}",
    "{% if block() %}a{% endif %}",
    "{% for x in block() %}{{ x }}{% endfor %}",
    "{% macro m() %}{{ block() }}{% endmacro %}{{ m() }}",
    "{{ [1] | map('string') | list if false else block() }}",
    "{{ block() | default('x') }}",
    "{{ thing.power }}",
    "{{ printed }}",
    "{{ 'a' ~ printed }}",
)


class Thing:
    """A value of the model with a fault in it."""

    def __init__(self, bug: Exception) -> None:
        self.bug = bug

    @property
    def power(self) -> str:
        raise self.bug


def stopped(source: str, bug: Exception, files: dict[str, str] | None = None) -> object:
    """What compose makes of a template that runs into a fault of ours."""
    bug.__traceback__ = None  # of the last time it was raised

    def block() -> None:
        raise bug

    def show(value: object) -> str:
        if isinstance(value, Thing):
            raise bug
        return plain(value)

    templates = Templates(DictLoader({"s.md": f"# T\n\n{source}", **(files or {})}), show=show)
    variables = {"thing": Thing(bug), "printed": Thing(bug)}
    return compose("s.md", templates, variables=variables, functions={"block": block})


@pytest.mark.parametrize("bug", BUGS, ids=lambda bug: type(bug).__name__)
@pytest.mark.parametrize("place", [each for each in PLACES if "thing" not in each])
def test_what_a_block_or_a_printer_raises_is_raised_on(place: str, bug: Exception) -> None:
    with pytest.raises(type(bug)) as raised:
        stopped(place, bug)
    assert raised.value is bug


@pytest.mark.parametrize("bug", [ValueError("no"), KeyError("no"), RecursionError()])
def test_what_a_block_in_an_included_template_raises_is_raised_on(bug: Exception) -> None:
    with pytest.raises(type(bug)):
        stopped("{% include 'part.md' %}", bug, {"part.md": "{{ block() }}"})


@pytest.mark.parametrize(
    "source",
    [
        "{{ 1 / 0 }}",
        "{{ 'a' + 1 }}",
        "{{ 'a' | round(2) }}",
        "{{ 5 | replace('a', 1) }}",
        "{{ 1 | join }}",
        "{{ 'x' | truncate('a') }}",
        "{{ [3, 'a'] | sort }}",
        "{{ range('a') }}",
        "{{ meta() }}",
        "{{ (" + "(" * 300 + "1" + ")" * 300 + ") }}",
        "{% for a in 'x' %}" * 30 + "{% endfor %}" * 30,
        "{% macro m(n) %}{{ block_of(n) }}{{ m(n + 1) }}{% endmacro %}{{ m(1) }}",
    ],
)
def test_what_an_author_s_expression_cannot_do_is_a_finding(source: str) -> None:
    templates = Templates(DictLoader({"s.md": f"# T\n\n{source}"}))
    makers: dict[str, BlockFunction] = {"block_of": lambda n: AuthorError.__doc__ if n else None}
    made, (finding,) = compose("s.md", templates, variables={}, functions=makers)
    assert made is None
    assert finding.at.span.file == "templates/s.md"


@given(
    st.sampled_from(PLACES[:7]),
    st.sampled_from(BUGS),
    st.lists(st.sampled_from(["{% if true %}", "{% for i in [1] %}", "{% set z %}"]), max_size=4),
)
def test_no_template_makes_a_fault_of_ours_an_author_s(
    place: str, bug: Exception, around: list[str]
) -> None:
    ends = {"{% if true %}": "{% endif %}", "{% for i in [1] %}": "{% endfor %}"}
    source = place
    for each in around:
        source = f"{each}{source}{ends.get(each, '{% endset %}{{ z }}')}"
    with pytest.raises(type(bug)):
        stopped(source, bug)


# --- shipped templates ---


def shipped(tmp_path: Path, ours: dict[str, str], own: dict[str, str]) -> Templates:
    for folder, files in (("ours", ours), ("project/templates", own)):
        (tmp_path / folder).mkdir(parents=True)
        for name, text in files.items():
            (tmp_path / folder / name).write_text(text, encoding="utf-8")
    loader = folders(tmp_path / "project/templates", tmp_path / "ours")
    return Templates(loader, project=tmp_path / "project", shipped=tmp_path / "ours")


@pytest.mark.parametrize(
    "text", ["# T\n{{ nam }}", "# T\n{{ 1 / 0 }}", "# T\n{% if %}", "# T\n{{ thing.pow }}", "words"]
)
def test_a_shipped_template_is_never_blamed(tmp_path: Path, text: str) -> None:
    templates = shipped(tmp_path, {"s.md": text}, {})
    with pytest.raises(Exception, match=r".") as raised:
        compose("s.md", templates, variables={"thing": "a"}, functions={})
    assert not isinstance(raised.value, AssertionError)


def test_what_an_author_s_template_includes_is_blamed_where_it_is_included(tmp_path: Path) -> None:
    templates = shipped(
        tmp_path, {"foot.md": "{{ nam }}"}, {"s.md": "# T\n\n{% include 'foot.md' %}"}
    )
    _, (finding,) = compose("s.md", templates, variables={}, functions={})
    assert (finding.at.span.file, finding.at.span.line) == ("templates/s.md", 3)


def test_a_project_s_own_template_is_blamed_in_place_of_a_shipped_one(tmp_path: Path) -> None:
    templates = shipped(tmp_path, {"s.md": "# T"}, {"s.md": "# T\n{{ nam }}"})
    _, (finding,) = compose("s.md", templates, variables={}, functions={})
    assert finding.at.span.line == 2


# --- whatever a template gives a block ---

ARGUMENTS = (
    "", "1", "-1", "none", "true", "[]", "['a', 1]", "{}", "{'a': 1}", "'x'", "''", "'x', 'y'",
    "'x', 'y', 'z', 'w'", "1.5", "x=1", "name='x'", "project", "range(3)", "'x' * 300", "'a/../b'",
    "missing_name",
)  # fmt: skip


def makers_of(demo: Survey) -> dict[str, dict[str, BlockFunction]]:
    definitions = demo.definitions
    assert definitions is not None
    case = demo.cases["lantern-office"]
    bare = bare_case(definitions, definitions.platforms["lantern"])
    family = FamilyCase(definitions, {"lantern": bare}, {})
    values: dict[str, Callable[[], object]] = {name: lambda: "drawn" for name in DRAWINGS}
    texts = templates_of(demo.root).texts
    part = next(iter(definitions.parts.values()))
    return {
        "build": system_blocks(case, values, texts),
        "platform": system_blocks(bare, values, texts, family),
        "family": family_blocks(family),
        "part": part_blocks(PartCase(definitions, part, ())),
        "order": order_blocks(Order(definitions, ((case, 2),)), texts),
        "machines": comparison_blocks(Compared(definitions, (case, demo.cases["lantern-relay"]))),
    }


@pytest.mark.parametrize("sort", ["build", "platform", "family", "part", "order", "machines"])
def test_no_argument_of_a_block_ends_in_a_fault_of_ours(demo: Survey, sort: str) -> None:
    assert demo.definitions is not None
    project = demo.definitions.project
    for name, maker in makers_of(demo)[sort].items():
        for arguments in ARGUMENTS:
            templates = Templates(DictLoader({"s.md": f"# T\n\n{{{{ {name}({arguments}) }}}}"}))
            made, findings = compose(
                "s.md", templates, variables={"project": project}, functions={name: maker}
            )
            assert (made is None) == (len(findings) == 1), (name, arguments)


def test_what_each_shipped_template_is_about_is_known() -> None:
    """One left out would be offered for everything."""
    assert {path.stem for path in templates_folder().glob("*.md")} == ABOUT.keys()


@pytest.mark.slow
def test_each_shipped_template_can_be_about_what_it_is_said_to(demo: Survey) -> None:
    """About anything else it would end in a fault of ours; so nothing may ask for that."""
    definitions = demo.definitions
    assert definitions is not None
    templates, case = templates_of(demo.root), demo.cases["lantern-office"]
    bare = bare_case(definitions, definitions.platforms["lantern"])
    family = FamilyCase(definitions, {"lantern": bare}, {})
    order = Order(definitions, ((case, 2),))
    for name in documents_about("build", demo.root):
        assert compose_machine(name, templates, case, LayoutEngine(), nowhere)[1] == ()
    for name in documents_about("platform", demo.root):
        made = compose_machine(
            name,
            templates,
            bare,
            LayoutEngine(),
            nowhere,
            family=family,
            shown=case,
            kept=kept_folder(),
        )
        assert made[1] == ()
    for name in documents_about("order", demo.root):
        assert order_document(templates, order, name)[1] == ()
