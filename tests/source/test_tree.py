"""YAML becomes text, lists and mappings that know where they were written, and nothing else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.source import YamlMapping, YamlScalar, YamlSequence, plain_value, read_tree


def tree(text):
    node, findings = read_tree(text, "a.yaml")
    assert findings == ()
    return node


def codes(text):
    return [finding.code.id for finding in read_tree(text, "a.yaml")[1]]


def under(text, span):
    """The text that a span of one line covers."""
    assert span.line == span.end_line
    return text.split("\n")[span.line - 1][span.column - 1 : span.end_column - 1]


WORDS = (
    *("no", "on", "yes", "NO", "true", "null", "~", ".inf"),
    *("010", "0o14", "12:30", "1.10", "1e3", "2026-03-02", "0x1f", "1_000"),
)


@pytest.mark.parametrize("word", WORDS)
def test_a_word_stays_the_word_that_was_written(word):
    node = tree(f"a: {word}")
    assert node["a"] == word
    assert node["a"].plain


def test_quotes_are_remembered():
    assert not tree("a: 'no'")["a"].plain
    assert tree("a: 'no'")["a"] == "no"


def test_every_scalar_key_list_and_mapping_has_its_place():
    text = "a: one\nlong key:\n  - two\n  - {b: three}\n"
    node = tree(text)
    assert under(text, node["a"].span) == "one"
    assert under(text, node.key_where("long key")) == "long key"
    assert under(text, node["long key"][0].span) == "two"
    assert under(text, node.where("long key", 1, "b")) == "three"
    assert under(text, node["long key"][1].span) == "{b: three}"


def test_a_place_that_does_not_exist_is_the_nearest_one_that_does():
    text = "a:\n  b: one\n"
    node = tree(text)
    assert node.where("a", "c") == node.key_where("a")
    assert node.where("z") == node.span
    assert node["a"].key_where("c") == node["a"].span


def test_columns_count_characters_not_bytes():
    assert tree("ä: ß")["ä"].span.column == 4
    assert tree("日本: 語")["日本"].span.column == 5


plain = st.from_regex(r"[A-Za-z][A-Za-z0-9]{0,8}", fullmatch=True)


@given(st.dictionaries(plain, plain | st.lists(plain, max_size=3), min_size=1, max_size=5))
def test_the_text_under_a_span_is_the_text_of_the_node(values):
    lines = []
    for key, value in values.items():
        lines.append(
            f"{key}: {value}" if isinstance(value, str) else f"{key}: [{', '.join(value)}]"
        )
    text = "\n".join(lines)
    node = tree(text)
    assert plain_value(node) == values
    for key, value in node.items():
        assert under(text, node.key_where(key)) == key
        for each in [value] if isinstance(value, YamlScalar) else value:
            assert under(text, each.span) == each


@given(st.text(max_size=60))
def test_no_text_whatever_raises(text):
    node, findings = read_tree(text, "a.yaml")
    assert node is None or isinstance(node, YamlScalar | YamlMapping | YamlSequence)
    assert node is not None or findings


def test_a_repeated_key_is_found_and_the_first_is_kept():
    node, findings = read_tree("a: 1\nb: 2\na: 3\n", "a.yaml")
    assert [finding.code.id for finding in findings] == ["SG102"]
    assert findings[0].at.span.line == 3
    assert findings[0].labels[0].span.line == 1
    assert isinstance(node, YamlMapping)
    assert node["a"] == "1"


def test_keys_of_different_mappings_may_be_alike():
    assert codes("- a: 1\n- a: 2\n") == []


def test_an_alias_repeats_what_its_anchor_names():
    assert plain_value(tree("a: &x {b: c}\nd: *x\n")) == {"a": {"b": "c"}, "d": {"b": "c"}}


def test_aliases_that_grow_without_bound_are_stopped_soon():
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 12)]
    assert codes("\n".join(lines)) == ["SG103"]


def test_an_alias_inside_what_it_names_is_found():
    assert codes("a: &x\n  b: *x\n") == ["SG103"]


def test_an_alias_of_nothing_is_found():
    assert codes("a: *x\n") == ["SG101"]


@pytest.mark.parametrize("text", ["[" * 5000, "{a: " * 5000, "- " * 5000 + "x"])
def test_deep_nesting_is_found_and_breaks_nothing(text):
    assert codes(text)[0] in ("SG101", "SG103")


def test_nesting_as_deep_as_definitions_go_is_read():
    assert codes("[" * 40 + "]" * 40) == []


@pytest.mark.parametrize(
    "text", ["a: !!int 3", "a: !secret x", "!!map {a: b}", "a: !!python/name:os x"]
)
def test_tags_are_refused(text):
    assert codes(text) == ["SG104"]


@pytest.mark.parametrize("text", ["[a, b]: c", "{a: b}: c", "? [a]\n: b"])
def test_a_key_that_is_no_word_is_found_once_and_dropped(text):
    node, findings = read_tree(f"first: x\n{text}\nlast: y\n", "a.yaml")
    assert [finding.code.id for finding in findings] == ["SG104"]
    assert plain_value(node) == {"first": "x", "last": "y"}


def test_a_second_document_leaves_nothing_half_read():
    node, findings = read_tree("a: 1\n---\nb: 2\n", "a.yaml")
    assert node is None
    assert [finding.code.id for finding in findings] == ["SG104"]


@pytest.mark.parametrize("text", ["", "\n", "# only a comment\n", "---\n", "---\n...\n"])
def test_a_file_without_a_definition_is_found(text):
    assert codes(text) == ["SG105"]


@pytest.mark.parametrize(
    "text", ["a: [1", "a: 'x", "a:\n\tb: c", "a: b: c", "a: 1\n b: 2", "\x00", "a: \x07"]
)
def test_text_that_is_not_yaml_is_found_within_the_file(text):
    node, findings = read_tree(text, "a.yaml")
    assert node is None
    assert [finding.code.id for finding in findings] == ["SG101"]
    span = findings[0].at.span
    assert 1 <= span.line <= text.count("\n") + 1


def test_a_place_beyond_the_end_of_the_text_is_its_end():
    _, findings = read_tree("a: 1\nb: [2,", "a.yaml")
    assert (findings[0].at.span.line, findings[0].at.span.column) == (2, 4)
    _, findings = read_tree("a: 1\nb: *c", "a.yaml")
    assert (findings[0].at.span.end_line, findings[0].at.span.end_column) == (2, 6)
