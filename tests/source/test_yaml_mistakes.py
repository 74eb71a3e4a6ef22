"""What keeps a text from being YAML is told where it was written, not where the parser gave up."""

import pytest

from specgen.source import read_tree

MISTAKES = (
    # text, line and column of the cause, words of the message, words of the help
    ("a: 1\nb: [2,", 2, 4, "`[` that is not closed", "`]`"),
    ("a: [1, 2\nb: 3\n", 1, 4, "`[` that is not closed", "`]`"),
    ("a: {b: 1, c: 2\nd: 3\ne: {f: 4}\n", 1, 4, "`{` that is not closed", "`}`"),
    ("a:\n  - {b: 1, c: {d: 2}\n  - {b: 2}\n", 2, 5, "`{` that is not closed", "`}`"),
    ("a: {b: 1, c: [1, 2}\n", 1, 14, "`[` that is not closed", "`]`"),
    ("a: {b: 1\n  c: 2}\n", 1, 9, "no comma", "comma"),
    ("a: 'x\nb: 1\n", 1, 4, "a quote that is not closed", "`'`"),
    ('a: "x\nb: 1\nc: 2\n', 1, 4, "a quote that is not closed", '`"`'),
    ('a: "x\nb: "y"\nc: 2\n', 1, 4, "a quote that is not closed", '`"`'),
    ("a: {b: 'x, c: 1}\nd: 'y'\n", 1, 8, "a quote that is not closed", "`'`"),
    ("a: |\n  it's\n  'x\nb: [1\n", 4, 4, "`[` that is not closed", "`]`"),
    ("a: 'it's'\n", 1, 8, "text after the closing quote", "twice"),
    ("a: {x: 'it's'}\n", 1, 12, "text after the closing quote", "twice"),
    ("a: b: c\n", 1, 5, "second colon", '`a: "b: c"`'),
    ("a: 1\nb c\nd: 2\n", 2, 1, "a line without a colon", "`b: c`"),
    ("a: 1\nb:c\nd: 2\n", 2, 1, "no space after the colon", "`b: c`"),
    ("a: 1\n b: 2\n", 2, 2, "indented", "indent"),
    ("a:\n  b: 1\n c: 2\n", 3, 2, "indent", "column"),
    ("a:\n\tb: 1\n", 2, 1, "a tab in the indent", "spaces"),
    ("a: @x\n", 1, 4, "cannot begin with `@`", "quotes"),
    ("a: >x\n", 1, 4, "cannot begin with `>`", "quotes"),
    ('a: "x\\q"\n', 1, 6, "backslash", "single quotes"),
    ("- a\nb: 1\n", 2, 1, "without `- `", "begin each entry"),
)


@pytest.mark.parametrize("case", MISTAKES, ids=lambda case: repr(case[0]))
def test_the_cause_is_told_at_its_line(case: tuple[str, int, int, str, str]):
    text, line, column, message, help_ = case
    tree, findings = read_tree(text, "a.yaml")
    assert tree is None
    (finding,) = findings
    assert (finding.at.span.line, finding.at.span.column) == (line, column), finding
    assert message in str(finding.message)
    assert help_ in str(finding.help)
