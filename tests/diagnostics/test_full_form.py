"""The full form: what an author reads, to the letter."""

from textwrap import dedent

import pytest

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.diagnostics.as_text import full, one_line, report, summary
from specgen.diagnostics.paint import Style

BUILD = "configured/lantern-a.yaml"
CATALOG = "catalog/power.yaml"

TEXTS = {
    BUILD: "platform: lantern\n" + "# more\n" * 9 + "conditions:\n  redundancy: 1+1\nplatform: b\n",
    CATALOG: "kind: power supply\nid: q-2000\noutput: 2000 W",
}


def at(file: str, line: int, column: int, length: int) -> Span:
    return Span(file, line, column, line, column + length)


def one(text: str, span: Span, words: str = "here", *labels: Label) -> str:
    """The full form of a small finding in one file `a.yaml`, without its first two rows."""
    printed = full(Finding(codes.NO_UNIT, "m", Label(span, words), labels), {"a.yaml": text})
    return "\n".join(printed.split("\n")[2:])


def text(block: str) -> str:
    return dedent(block).strip("\n")


def test_one_place_in_one_file() -> None:
    found = Finding(
        codes.NO_UNIT,
        "power value without a unit",
        Label(at("catalog/fans.yaml", 3, 9, 2), "watts or kilowatts?"),
        notes=("every value carries its unit in the file",),
        help="write `40 W`",
    )
    assert full(found, {"catalog/fans.yaml": "kind: fan\nload:\n  peak: 40\n"}) == text(
        """
        error[SG121]: power value without a unit
         --> catalog/fans.yaml:3:9
          |
        3 |   peak: 40
          |         ^^ watts or kilowatts?
          = note: every value carries its unit in the file
          = help: write `40 W`
        """
    )


def test_two_files_share_one_gutter_and_the_printed_paths_are_the_callers() -> None:
    found = Finding(
        codes.REDUNDANCY_LOST,
        "one power supply cannot carry the build alone",
        Label(at(BUILD, 12, 15, 3), "1 of 2 must be enough"),
        (Label(at(CATALOG, 3, 9, 6), "each gives 2000 W"),),
        ("the load is 2310 W", "one is lost,\nand 310 W too many stay"),
        "use a supply of 2310 W or more",
    )
    assert full(found, TEXTS, shown=lambda file: f"builds/{file}") == text(
        """
        error[SG354]: one power supply cannot carry the build alone
          --> builds/configured/lantern-a.yaml:12:15
           |
        12 |   redundancy: 1+1
           |               ^^^ 1 of 2 must be enough
          ::: builds/catalog/power.yaml:3:9
           |
         3 | output: 2000 W
           |         ------ each gives 2000 W
           = note: the load is 2310 W
           = note: one is lost,
                   and 310 W too many stay
           = help: use a supply of 2310 W or more
        """
    )


def test_distant_lines_of_one_file_are_parted_and_the_main_place_comes_first() -> None:
    found = Finding(
        codes.DUPLICATE_KEY,
        "`platform` appears twice in one mapping",
        Label(at(BUILD, 13, 1, 8), "second `platform`"),
        (Label(at(BUILD, 1, 1, 8), "first `platform`"),),
    )
    assert full(found, TEXTS) == text(
        """
        error[SG102]: `platform` appears twice in one mapping
          --> configured/lantern-a.yaml:13:1
           |
        13 | platform: b
           | ^^^^^^^^ second `platform`
           ...
           |
         1 | platform: lantern
           | -------- first `platform`
        """
    )


def test_near_lines_are_shown_in_one_piece_and_marks_of_one_line_below_each_other() -> None:
    printed = one(
        "a: 1\nb: 2\nc: {x: 1, y: 2}\n",
        at("a.yaml", 3, 11, 1),
        "this",
        Label(at("a.yaml", 3, 5, 1), "that"),
        Label(at("a.yaml", 1, 1, 1), "and that"),
    )
    assert printed.split("\n") == [
        "  |",
        "1 | a: 1",
        "  | - and that",
        "2 | b: 2",
        "3 | c: {x: 1, y: 2}",
        "  |           ^ this",
        "  |     - that",
    ]


def test_wide_letters_take_two_columns_and_combining_marks_none() -> None:
    assert one("name: 東京e\u0301 40\n", at("a.yaml", 1, 12, 2)).split("\n") == [
        "  |",
        "1 | name: 東京e\u0301 40",
        "  |             ^^ here",
    ]
    assert one("name: 東京\n", at("a.yaml", 1, 7, 2)).split("\n")[-1] == "  |       ^^^^ here"


def test_a_tab_is_shown_as_spaces_up_to_its_stop() -> None:
    assert one("\tab\tc: 40\n", at("a.yaml", 1, 1, 1)).split("\n") == [
        "  |",
        "1 |     ab  c: 40",
        "  | ^^^^ here",
    ]
    assert one("\tab\tc: 40\n", at("a.yaml", 1, 8, 2)).split("\n")[-1] == "  |            ^^ here"


def test_a_long_span_is_marked_on_its_first_and_last_line_with_something_on_it() -> None:
    lines = "fan:\n  a: 1\n  b: 2\n  c: 3\n  d: 4  \n\n\nnext: 1\n"
    assert one(lines, Span("a.yaml", 1, 1, 8, 1), "all of it").split("\n") == [
        "  |",
        "1 | fan:",
        "  | ^^^^",
        "  ...",
        "  |",
        "5 |   d: 4",
        "  |   ^^^^ all of it",
    ]


def test_a_span_of_three_lines_is_marked_on_each() -> None:
    assert one("x: [a,\n  b,\n  c]\n", Span("a.yaml", 1, 4, 3, 5), "list").split("\n") == [
        "  |",
        "1 | x: [a,",
        "  |    ^^^",
        "2 |   b,",
        "  |   ^^",
        "3 |   c]",
        "  |   ^^ list",
    ]


def test_the_end_of_a_file_and_of_a_line_can_be_marked() -> None:
    assert one("a: [1", Span("a.yaml", 1, 6, 1, 6)).split("\n") == [
        "  |",
        "1 | a: [1",
        "  |      ^ here",
    ]
    assert one("a: 1\n", Span("a.yaml", 2, 1, 2, 1)).split("\n") == [
        "  |",
        "2 |",
        "  | ^ here",
    ]
    assert one("", Span("a.yaml", 1, 1, 1, 1)).split("\n")[-1] == "  | ^ here"


def test_a_missing_file_or_line_leaves_the_place_and_the_words() -> None:
    found = Finding(
        codes.UNREADABLE,
        "the file is not text in UTF-8",
        Label(Span("catalog/gone.yaml", 4, 1, 4, 2), "byte 0xff"),
        (Label(Span(CATALOG, 99, 1, 99, 2), "named here"), Label(Span("b.yaml", 1, 1, 1, 1))),
    )
    assert full(found, TEXTS) == text(
        """
        error[SG100]: the file is not text in UTF-8
         --> catalog/gone.yaml:4:1
          | byte 0xff
         ::: catalog/power.yaml:99:1
          | named here
         ::: b.yaml:1:1
        """
    )


def test_a_very_long_line_is_cut_round_the_caret() -> None:
    line = "a: " + "x" * 300 + "HERE" + "y" * 300
    rows = one(line, at("a.yaml", 1, 304, 4)).split("\n")
    shown = rows[1].removeprefix("1 | ")
    assert shown.startswith("…")
    assert shown.endswith("…")
    assert len(shown) == 100
    begin = rows[2].removeprefix("  | ").index("^")
    assert shown[begin : begin + 4] == "HERE"
    assert rows[2].endswith("^^^^ here")
    assert one(line, at("a.yaml", 1, 1, 1)).split("\n")[1].startswith("1 | a: xxx")
    assert one(line, at("a.yaml", 1, 604, 4)).split("\n")[1].endswith("yyy")


def test_a_mark_outside_the_part_of_a_long_line_that_is_shown_stands_at_its_edge() -> None:
    line = "x" * 1000
    rows = one(line, at("a.yaml", 1, 500, 1), "main", Label(at("a.yaml", 1, 990, 2), "far"))
    assert all(len(row) < 120 for row in rows.split("\n"))
    assert rows.endswith("- far")


def test_nothing_from_a_file_steers_the_terminal() -> None:
    printed = one("a: \x1b[31mred\x07\x9b\u202e\x7f\n", at("a.yaml", 1, 4, 1), "\x1b[0m\nx")
    assert printed.split("\n") == [
        "  |",
        "1 | a: ␛[31mred␇<U+009B><U+202E>␡",
        "  |    ^ ␛[0m x",
    ]


def test_the_one_line_form_is_a_link_for_editors() -> None:
    found = Finding(codes.UNKNOWN_PART, "no part is\nnamed `x\x1b`", Label(at(BUILD, 7, 9, 4)))
    assert (
        one_line(found, shown=lambda file: f"builds/{file}")
        == "builds/configured/lantern-a.yaml:7:9: error[SG201] no part is named `x␛`"
    )


def test_a_report_prints_the_first_findings_in_order_and_counts_the_rest() -> None:
    found = [Finding(codes.NO_UNIT, "m", Label(at("a.yaml", line, 1, 1))) for line in (3, 1, 2, 2)]
    assert (
        report(found, {"a.yaml": "a\nb\nc\n"}, limit=2)
        == text(
            """
        error[SG121]: m
         --> a.yaml:1:1
          |
        1 | a
          | ^

        error[SG121]: m
         --> a.yaml:2:1
          |
        2 | b
          | ^

        ... and 1 finding more

        3 errors
        """
        )
        + "\n"
    )
    assert report([], {}) == ""
    many = [Finding(codes.NO_UNIT, "m", Label(at("a.yaml", line, 1, 1))) for line in range(1, 62)]
    assert report(many, {}).count("error[") == 50
    assert "... and 11 findings more" in report(many, {})


def test_notes_never_crowd_an_error_out_of_a_report() -> None:
    notes = [Finding(codes.LINK_NARROWED, "m", Label(at("a.yaml", n, 1, 1))) for n in range(1, 60)]
    error = Finding(codes.NO_UNIT, "the one error", Label(at("z.yaml", 1, 1, 1)))
    printed = report([*notes, error], {})
    assert "the one error" in printed
    assert "... and 10 findings more" in printed


def test_the_sum_counts_by_weight() -> None:
    label = Label(at("a.yaml", 1, 1, 1))
    error, warning, note = (
        Finding(code, "m", label)
        for code in (codes.NO_UNIT, codes.UNUSED_ALLOW, codes.LINK_NARROWED)
    )
    assert summary([]) == "no findings"
    assert summary([warning, error, error]) == "2 errors, 1 warning"
    assert summary([note, warning]) == "1 warning, 1 note"


def test_paint_gets_every_piece_with_its_style_and_the_text_stays_the_same() -> None:
    seen: set[Style] = set()

    def paint(style: Style, piece: str) -> str:
        seen.add(style)
        return piece

    findings = [
        Finding(code, "m", Label(at(BUILD, 1, 1, 3)), (Label(at(CATALOG, 1, 1, 3)),), ("n",), "h")
        for code in (codes.NO_UNIT, codes.UNUSED_ALLOW, codes.LINK_NARROWED)
    ]
    assert report(findings, TEXTS, paint=paint) == report(findings, TEXTS)
    assert seen == set(Style)


@pytest.mark.parametrize("breaks", ["\n", "\r\n", "\r", "\u2028"])
def test_lines_are_counted_as_the_yaml_reader_counts_them(breaks: str) -> None:
    printed = one(breaks.join(("\ufeffa: 1", "b: 2", "c: 3")), at("a.yaml", 2, 4, 1))
    assert printed.split("\n")[1:] == ["2 | b: 2", "  |    ^ here"]
