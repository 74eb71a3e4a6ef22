"""Whatever is wrong in a template is one finding at its line, never a traceback."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jinja2 import DictLoader

from specgen.diagnostics import Finding
from specgen.document.compose import compose
from specgen.document.maker import AuthorError, BlockFunction
from specgen.document.template import Templates
from specgen.document.tree import Column, Figure, Paragraph, Table, Text, Value, words
from specgen.drawings.picture import Element, Picture
from tests.timing import NO_HANG, first, stopwatch


def table(title: str) -> Table:
    return Table(title, (Column("a"),), ((words("x"),),))


def fact(key: str) -> Value:
    raise AuthorError(f"there is no fact `{key}`", "see `specgen facts`")


MAKERS = {"table": table, "fact": fact}
VARIABLES = {"name": "Lantern", "numbers": (1, 2), "nothing": None, "build": {"power": "750 W"}}


def fault(source: str | dict[str, str]) -> Finding:
    files = {"sheet.md": source} if isinstance(source, str) else source
    templates = Templates(DictLoader(files))
    made, (finding,) = compose("sheet.md", templates, variables=VARIABLES, functions=MAKERS)
    assert made is None
    return finding


def at(source: str | dict[str, str]) -> tuple[str, str, str]:
    """Code, message, and what stands under the finding."""
    finding = fault(source)
    span = finding.at.span
    files = {"sheet.md": source} if isinstance(source, str) else source
    line = files[span.file.removeprefix("templates/")].split("\n")[span.line - 1]
    assert span.end_line == span.line
    return finding.code.id, str(finding.message), line[span.column - 1 : span.end_column - 1]


def test_an_unknown_block_is_found_with_the_one_that_was_meant() -> None:
    source = "# T\n\nSome words.\n  {{ tabel('power') }}"
    assert at(source) == ("SG401", "`tabel` is not known here", "tabel")
    assert fault(source).at.span.line == 4
    assert str(fault(source).help) == "did you mean `table`?"


@pytest.mark.parametrize(
    ("expression", "message", "under"),
    [
        ("nam", "`nam` is not known here", "nam"),
        ("table(nam)", "`nam` is not known here", "nam"),
        ("table(nam ~ 'x')", "`nam` is not known here", "nam"),
        ("build.powr", "there is no `powr` on this value", "powr"),
        ("name | uper", "there is no filter `uper`", "uper"),
        ("name is strange", "there is no test `strange`", "strange"),
        ("fact('power.max')", "there is no fact `power.max`", "fact"),
        ("table()", "`table` takes other arguments", "table"),
        ("table('a', colour='red')", "`table` has no argument `colour`", "colour"),
        ("table(1)", "`title` of `table` needs text, such as a name in quotes", "table"),
        ("table(numbers)", "`title` of `table` needs text, such as a name in quotes", "table"),
        ("table", "this is something to call, not a value", "{{ table }}"),
        ("nothing", "there is no value to print here", "{{ nothing }}"),
        ("numbers", "this is a list, not one value", "{{ numbers }}"),
        ("1 / 0", "this does not work out", "{{ 1 / 0 }}"),
        ("name + 1", "this does not work out", "{{ name + 1 }}"),
        ("1 > name", "this does not work out", "{{ 1 > name }}"),
    ],
)
def test_a_mistake_in_an_expression_is_marked(expression: str, message: str, under: str) -> None:
    assert at(f"# T\n\n{{{{ {expression} }}}}") == ("SG401", message, under)


SYNTAX = (
    "{% if %}",
    "{% for x %}",
    "{{ 1 + }}",
    "{{ name",
    "{% end %}",
    "{# x",
    "{% if name %}",
    "{% block a %}{% block a %}",
    "{% import os %}",
    "{% filter upper %}x{% endfilter %}",
    "{{ name | upper | }}",
)


@pytest.mark.parametrize("source", SYNTAX)
def test_broken_syntax_is_found_at_its_line(source: str) -> None:
    finding = fault(f"# T\n\n{source}")
    assert finding.code.id == "SG401"
    assert finding.at.span.line == 3
    assert "jinja" not in str(finding.message).lower()


def test_a_mistake_in_an_included_template_is_found_there() -> None:
    files = {"sheet.md": "# T\n{% include 'part/power.md' %}", "part/power.md": "a\n\n{{ nam }}"}
    finding = fault(files)
    assert (finding.at.span.file, finding.at.span.line) == ("templates/part/power.md", 3)
    assert at(files)[2] == "nam"


def test_a_mistake_in_a_macro_is_found_in_the_macro() -> None:
    source = "# T\n{% macro m(x) %}\n{{ x.foo }}\n{% endmacro %}\n\n{{ m(name) }}"
    assert fault(source).at.span.line == 3


def test_a_missing_template_is_found_where_it_is_asked_for() -> None:
    files = {"sheet.md": "# T\n\n{% include 'powre.md' %}", "power.md": ""}
    assert at(files) == ("SG401", "template `powre.md` not found", "powre.md")
    assert str(fault(files).help) == "did you mean `power.md`?"


def test_a_document_whose_template_is_missing_is_a_finding() -> None:
    templates = Templates(DictLoader({"sheet.md": "# T"}), place="site templates/{}".format)
    made, (finding,) = compose("sheets.md", templates, variables={}, functions={})
    assert made is None
    assert finding.at.span.file == "site templates/sheets.md"
    assert str(finding.help) == "did you mean `sheet.md`?"


def test_a_template_without_a_title_is_a_finding() -> None:
    assert str(fault("words\n\n## Power").message) == "the template has no title"
    assert str(fault("").message) == "the template has no title"


@pytest.mark.parametrize(
    "expression",
    [
        "().__class__",
        "''.__class__.__mro__",
        "name.__class__",
        "name['__class__']",
        "table.__globals__",
        "table.__closure__",
        "self.__init__",
        "range.__self__",
        "[''] | map(attribute='__class__') | list",
        "''.format",
        "'{0.__class__}'.format(1)",
        "(1).to_bytes(1000000000, 'big')",
        "build.clear()",
        "namespace.__init__",
        "cycler",
        "lipsum()",
        "name | attr('__class__')",
        "name | safe",
        "name | format(1)",
        "loop",
        "config",
        "__import__('os')",
        "open('x')",
    ],
)
def test_a_template_cannot_reach_python(expression: str) -> None:
    assert fault(f"# T\n\n{{{{ {expression} }}}}").code.id == "SG401"


NESTED = "{% for a in range(90000) %}{% for b in range(90000) %}{% endfor %}{% endfor %}"
DOUBLING = "{% macro f(n) %}{% if n %}{{ f(n - 1) }}{{ f(n - 1) }}{% endif %}{% endmacro %}"
RUNAWAYS = {
    "loops in loops": NESTED,
    "a range without an end": "{% for a in range(10 ** 12) %}x{% endfor %}",
    "a macro that calls itself": "{% macro f() %}{{ f() }}{% endmacro %}{{ f() }}",
    "a macro that calls itself twice": DOUBLING + "{{ f(60) }}",
    "a text times a number": "{{ 'a' * 1000000000 }}",
    "a list times a number": "{{ ([0] * 1000000000) | length }}",
    "a power": "{{ 2 ** 1000000000 }}",
    "a text that doubles": "{% set n = namespace(x='ab') %}{% for i in range(60) %}"
    "{% set n.x = n.x ~ n.x %}{% endfor %}",
    "a number that squares": "{% set n = namespace(x=9) %}{% for i in range(60) %}"
    "{% set n.x = n.x * n.x %}{% endfor %}",
    "a list that doubles": "{% set n = namespace(x=[1]) %}{% for i in range(60) %}"
    "{% set n.x = n.x + n.x %}{% endfor %}",
    "padding": "{{ '%999999999d' % 1 }}",
    "rounding": "{{ 5 | round(-1000000000) }}",
    "replacing": "{{ ('a' * 90000) | replace('a', 'b' * 90000) }}",
    "output": "{% for a in range(100000) %}{{ 'x' }}" + "y" * 500 + "{% endfor %}",
    "a template that includes itself": "{% include 'sheet.md' %}",
}


@pytest.mark.parametrize("name", RUNAWAYS)
def test_a_template_that_runs_away_is_stopped(name: str) -> None:
    used = stopwatch()
    assert fault("# T\n\n" + RUNAWAYS[name]).code.id == "SG401"
    assert used() < NO_HANG


LARGE = Picture(Element("svg", {}, (Element("path", {}),) * 160), 100, 100)
BIG: dict[str, tuple[BlockFunction, int]] = {
    "a drawing of 160 shapes": (lambda: Figure("F", LARGE, "f"), 400),
    "a word": (lambda: Text("w"), 5000),
    "nothing": (lambda: (), 5000),
    "a text": (lambda: "w" * 1000, 5000),
    "a thousand paragraphs": (lambda: tuple(Paragraph((Text("w"),)) for _ in range(1000)), 150),
    "a table": (
        lambda: Table("T", (Column("A"),), tuple(((Text("w"),),) for _ in range(1000))), 250,
    ),
}  # fmt: skip


@pytest.mark.parametrize("kept", first(1, ("{{ big() }}", "{% set x = big() %}")))
@pytest.mark.parametrize("name", BIG)
def test_what_blocks_make_is_charged(name: str, kept: str) -> None:
    """Whether it is printed or not: by what is made, counted."""
    function, most = BIG[name]
    made: list[object] = []

    def big() -> object:
        made.append(function())
        return made[-1]

    source = f"# T\n\n{{% for i in range(60000) %}}{kept}{{% endfor %}}"
    templates = Templates(DictLoader({"sheet.md": source}))
    document, (found,) = compose(
        "sheet.md", templates, variables=VARIABLES, functions={**MAKERS, "big": big}
    )
    assert document is None
    assert "runs on past" in str(found.message)
    under = found.at.span
    assert (under.file, under.line) == ("templates/sheet.md", 3)
    assert source.split("\n")[2][under.column - 1 :].startswith("big")
    assert len(made) <= most


@pytest.mark.slow
def test_includes_that_multiply_are_stopped() -> None:
    files = {f"{n}.md": f"{{% include '{n + 1}.md' %}}" * 4 for n in range(40)} | {"40.md": ""}
    assert fault(files | {"sheet.md": "# T\n{% include '0.md' %}"}).code.id == "SG401"


WORDS = (
    "{{ }} {% %} {# #} name if endif for x in numbers endfor table( ) ' | ~ [ ]( ` * > - set = "
    "macro m() endmacro . upper 1 ** \ue000 \ue001 \x00"
)
PIECES = st.sampled_from((*WORDS.split(" "), " ", "\n", "# T\n"))


@given(st.lists(st.one_of(PIECES, st.text(max_size=3)), max_size=12))
def test_any_template_is_a_document_or_one_finding(pieces: list[str]) -> None:
    templates = Templates(DictLoader({"sheet.md": "".join(pieces)}))
    made, findings = compose("sheet.md", templates, variables=VARIABLES, functions=MAKERS)
    assert (made is None) == (len(findings) == 1)


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        ("# T\n\n{{ subtitle(1)\n\ntext\n", 3, "`{{` is never closed"),
        ("# T\n\n{% set a = 1\n\n{{ a }}\n", 3, "`{%` is never closed"),
        ("# T\n\n{% for a in [1] %}\n\n{{ a }}\n", 3, "`{% for … %}` is never closed"),
        ("# T\n\n{% if a %}\n{% for b in a %}{% endfor %}\n", 3, "`{% if … %}` is never closed"),
        ("# T\n\n{# a remark\n\ntext\n", 3, "`{#` is never closed"),
    ],
)
def test_what_is_never_closed_is_blamed_where_it_opens(text, line, message):
    found = fault(text)
    assert (found.at.span.line, str(found.message)) == (line, message)
