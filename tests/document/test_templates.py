"""What a template may say: its own words are Markdown, what it is given is text or a block."""

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from jinja2 import BaseLoader, DictLoader

from specgen.diagnostics import Finding
from specgen.document.compose import compose
from specgen.document.loader import folders
from specgen.document.maker import AuthorError
from specgen.document.template import Templates, plain
from specgen.document.tree import (
    Block,
    Caution,
    Column,
    Document,
    Emphasis,
    Heading,
    Hyperlink,
    Inline,
    Listing,
    Literal,
    Paragraph,
    Quote,
    Strong,
    Table,
    Text,
    ThematicBreak,
    Value,
    Verbatim,
    paragraph,
    plain_text,
    words,
)


def table(title: str) -> Table:
    return Table(title, (Column("a"),), ((words("x"),),))


def fact(key: str) -> Value:
    if key != "power.maximum":
        raise AuthorError(f"there is no fact `{key}`", "see `specgen facts`")
    return Value("750", "W", key)


MAKERS = {
    "table": table,
    "fact": fact,
    "cautions": lambda: (Caution("heat", ()), Caution("weight", ())),
    "nothing": lambda: None,
    "both": lambda: (Text("see "), Value("5", "W")),
}


def composed(source: str | dict[str, str], **variables: object) -> Document:
    files = {"sheet.md": source} if isinstance(source, str) else source
    made, findings = compose(
        "sheet.md", Templates(DictLoader(files)), variables=variables, functions=MAKERS
    )
    assert findings == ()
    assert made is not None
    return made


def blocks(source: str | dict[str, str], **variables: object) -> tuple[Block, ...]:
    if isinstance(source, str):
        return composed("# Title\n\n" + source, **variables).blocks
    return composed(source, **variables).blocks


def inlines(source: str, **variables: object) -> tuple[Inline, ...]:
    (block,) = blocks(source, **variables)
    assert isinstance(block, Paragraph)
    return block.children


def test_the_first_heading_of_level_one_is_the_title() -> None:
    made = composed("before\n\n# Lantern *{{ name }}*\n\nafter", name="A & B")
    assert made.title == "Lantern A & B"
    assert made.blocks == (paragraph("before"), paragraph("after"))


def test_subtitle_and_labelled_lines_come_from_the_template() -> None:
    made = composed('# T\n{{ subtitle("Spec sheet") }}\n{{ meta("Edition", 3) }}\n\ntext')
    assert (made.subtitle, made.meta) == ("Spec sheet", (("Edition", "3"),))
    assert made.blocks == (paragraph("text"),)


def test_what_the_author_writes_is_markdown() -> None:
    source = (
        "*a* **b** `c` [d](https://example.org)\n\n> e\n\n3. f\n4. g\n\n---\n\n```yaml\nh: 1\n```\n"
    )
    prose, quote, listing, rule, sample = blocks(source)
    assert isinstance(prose, Paragraph)
    assert prose.children[::2] == (
        Emphasis(words("a")),
        Strong(words("b")),
        Literal("c"),
        Hyperlink(words("d"), "https://example.org"),
    )
    assert quote == Quote((paragraph("e"),))
    assert listing == Listing(((paragraph("f"),), (paragraph("g"),)), first=3)
    assert rule == ThematicBreak()
    assert sample == Verbatim("h: 1", "yaml")


def test_a_small_table_may_be_written_by_hand() -> None:
    (made,) = blocks("| Slot | Draw |\n| --- | ---: |\n| {{ name }} | 5 \\| 6 |\n", name="a|b")
    columns = (Column("Slot"), Column("Draw", "end"))
    assert made == Table("", columns, ((words("a|b"), words("5 | 6")),))


BEFORE = {
    "{}": "",
    "*a* {}": "a ",
    "- {}": "",
    "> {}": "",
    "1. {}": "",
    "## {}": "",
    "**a{}**": "a",
    "| a |\n|---|\n| {} |": "",
    "[{}](#x)": "",
}


@given(st.text(), st.sampled_from(sorted(BEFORE)))
@example("# x", "{}")
@example("    x", "{}")
@example("\ue000\ue010\ue001", "{}")
@example("<script>", "{}")
def test_a_value_is_text_wherever_it_stands(value: str, around: str) -> None:
    made = composed("# T\n\n" + around.format("{{ value }}"), value=value)
    got = "".join(_all_text(made.blocks).split())
    assert got == "".join((BEFORE[around] + value).split())


def _all_text(blocks: tuple[Block, ...]) -> str:
    got = ""
    for block in blocks:
        match block:
            case Paragraph(children) | Heading(_, children):
                got += plain_text(children)
            case Listing(items):
                got += "".join(_all_text(item) for item in items)
            case Quote(children):
                got += _all_text(children)
            case Table(rows=rows):
                got += "".join(plain_text(cell) for row in rows for cell in row)
            case _:
                raise AssertionError(block)
    return got


@given(st.text(min_size=1))
def test_a_value_in_a_code_span_or_a_sample_is_not_escaped(value: str) -> None:
    shown = plain_text(inlines("x `{{ value }}`", value=value)[1:])
    assert shown.split() == value.split()
    made = [*blocks("```\n{{ value }}\n```", value=value)]
    assert isinstance(made[0], Verbatim)
    assert made[0].text.split() == value.split()


def test_a_value_does_not_become_a_placeholder() -> None:
    got = inlines("{{ value }} {{ fact('power.maximum') }}", value="\ue000\ue011\ue001")
    assert got == (Text("\ue000\ue011\ue001 "), Value("750", "W", "power.maximum"))


def test_placeholders_that_an_author_writes_lead_nowhere() -> None:
    assert inlines("a \ue000\ue019\ue019\ue001 b") == (Text("a  b"),)


def test_a_block_alone_becomes_that_block_however_it_is_indented() -> None:
    assert blocks('{{ table("A") }}')[0].title == "A"  # type: ignore[union-attr]
    made = blocks('{% for each in ["A", "B"] %}\n    {{ table(each) }}\n{% endfor %}')
    assert [each.title for each in made] == ["A", "B"]  # type: ignore[union-attr]


def test_a_block_in_a_line_of_words_stands_between_them() -> None:
    before, made, after = blocks('Before {{ table("A") }}\nafter')
    assert (before, after) == (paragraph("Before"), paragraph("after"))
    assert isinstance(made, Table)


def test_a_rule_under_a_block_is_a_rule() -> None:
    assert [type(each) for each in blocks('{{ table("A") }}\n---\n')] == [Table, ThematicBreak]


def test_a_block_where_only_words_can_stand_leaves_its_title() -> None:
    (made,) = blocks('## See {{ table("Power") }}')
    assert plain_text(made.children) == "See Power"  # type: ignore[union-attr]


def test_a_call_may_give_several_blocks_or_none() -> None:
    made = blocks("{{ cautions() }}\n\n{{ nothing() }}\n\n- {{ cautions() }}")
    assert [type(each) for each in made] == [Caution, Caution, Listing]


def test_a_call_may_give_inlines() -> None:
    assert inlines("{{ both() }}!") == (Text("see "), Value("5", "W"), Text("!"))


def test_what_a_call_gives_can_be_looked_at_first() -> None:
    source = '{% set t = table("A") %}{% if t.rows | length > 1 %}{{ t }}{% else %}none{% endif %}'
    assert inlines(source) == (Text("none"),)


def test_facts_can_be_joined_with_words() -> None:
    wanted = (Text("draws "), Value("750", "W", "power.maximum"), Text(" *"))
    assert inlines('{{ "draws " ~ fact("power.maximum") ~ " *" }}') == wanted
    assert inlines('{{ ["draws", fact("power.maximum"), "*"] | join(" ") }}') == wanted


def test_macros_and_blocks_keep_their_markdown_and_their_values_stay_text() -> None:
    source = {
        "sheet.md": "{% from 'row.md' import row with context %}{% extends 'base.md' %}"
        "{% block body %}{{ super() }} {{ row('*x*') }}{% endblock %}",
        "base.md": "# T\n\n{% block body %}**base**{% endblock %}",
        "row.md": "{% macro row(x) %}*m* {{ x }} {{ fact('power.maximum') }}{% endmacro %}",
    }
    (made,) = blocks(source)
    assert made == Paragraph(
        (
            Strong(words("base")),
            Text(" "),
            Emphasis(words("m")),
            Text(" *x* "),
            Value("750", "W", "power.maximum"),
        )
    )
    got = inlines("{% set x %}*a* {{ v }}{% endset %}{{ x ~ ' *b*' }}", v="*c*")
    assert got == (Emphasis(words("a")), Text(" *c* *b*"))


def test_values_in_a_target_are_pieces_of_a_path() -> None:
    assert inlines("[x](part:{{ id }})", id="a b/../c") == (
        Hyperlink(words("x"), "part:a%20b%2F..%2Fc"),
    )
    assert inlines("[x]({{ url }})", url="https://example.org/?a=1") == (
        Hyperlink(words("x"), "https://example.org/?a=1"),
    )


@pytest.mark.parametrize("target", ["javascript:alert(1)", "data:x", "//host", "/etc", "a:b"])
def test_a_link_that_may_not_be_leaves_its_words(target: str) -> None:
    assert inlines(f"[x]({target})") == (Text("x"),)
    assert inlines("[x]({{ url }})", url=target) == (Text("x"),)


def test_html_and_pictures_from_elsewhere_are_text() -> None:
    got = inlines("<b>x</b> ![alt *x*](https://example.org/x.png)")
    assert got == (Text("<b>x</b> alt "), Emphasis(words("x")))
    assert blocks("<script>\nx\n</script>") == (paragraph("<script> x </script>"),)


def test_values_are_printed_as_the_project_prints_them() -> None:
    def show(value: object) -> str:
        return "64 GiB" if isinstance(value, frozenset) else plain(value)

    templates = Templates(DictLoader({"s.md": "# {{ v }}\n\n{{ v ~ '!' }} {{ 1.50 }}"}), show=show)
    made, _ = compose("s.md", templates, variables={"v": frozenset()}, functions={})
    assert made is not None
    assert (made.title, made.blocks) == ("64 GiB", (paragraph("64 GiB! 1.5"),))


def test_a_project_s_own_template_comes_before_the_shipped_one(tmp_path: Path) -> None:
    for folder, names in (("own", "a"), ("shipped", "ab")):
        (tmp_path / folder).mkdir()
        for name in names:
            (tmp_path / folder / f"{name}.md").write_text(f"# {folder}", encoding="utf-8")
    loader: BaseLoader = folders(tmp_path / "own", tmp_path / "missing", tmp_path / "shipped")
    templates = Templates(loader)
    titles = [compose(f"{each}.md", templates, variables={}, functions={})[0] for each in "ab"]
    assert [each.title for each in titles if each] == ["own", "shipped"]


def test_two_documents_of_one_template_share_nothing() -> None:
    templates = Templates(DictLoader({"s.md": "# {{ v }}\n{{ meta('a', v) }}{{ maker() }}"}))

    def made(value: str) -> tuple[Document | None, tuple[Finding, ...]]:
        return compose(
            "s.md", templates, variables={"v": value}, functions={"maker": lambda: value}
        )

    first, _ = made("one")
    second, _ = made("two")
    assert first is not None
    assert second is not None
    assert (first.meta, second.meta) == ((("a", "one"),), (("a", "two"),))
    assert (first.blocks, second.blocks) == ((paragraph("one"),), (paragraph("two"),))


def test_a_maker_may_compose_a_template_itself() -> None:
    templates = Templates(
        DictLoader({"s.md": "# S\n\n{{ inner() }} {{ v }}", "i.md": "# I\n\n*i*"})
    )

    def inner() -> object:
        made, _ = compose("i.md", templates, variables={}, functions={})
        assert made is not None
        return made.title

    outer, _ = compose("s.md", templates, variables={"v": "v"}, functions={"inner": inner})
    assert outer is not None
    assert outer.blocks == (paragraph("I v"),)


def test_marks_nested_very_deep_still_leave_their_words() -> None:
    made = blocks("*a " * 500 + "x" + "*" * 500)
    assert _all_text(made).split()[-1].strip("*") == "x"
