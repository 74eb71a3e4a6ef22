"""`specgen check` reads the templates that the project uses, without filling them in."""

from pathlib import Path

import pytest

from tests.cli.conftest import Run

SHEET = "builds/templates/sheet.md"


@pytest.mark.parametrize(
    ("name", "line", "told"),
    [
        ("sheet", '{{ table("drive") }}', "no table is named `drive`"),
        ("sheet", '{{ fact("power.maximun") }}', "did you mean `power.maximum`?"),
        ("sheet", '{{ facts("reviw") }}', "did you mean `review`?"),
        ("sheet", '{{ fact_list("A", ["power.maximun"]) }}', "did you mean `power.maximum`?"),
        (
            "sheet",
            '{{ fact_list("A", [("B", "{power.maximun}") if has("power.idle") else none]) }}',
            "no fact is named",
        ),
        ("sheet", '{{ fact_table("A", over="volum", columns=[]) }}', "did you mean `volume`?"),
        ("sheet", '{{ fact_table("A", over="volume", colums=[]) }}', "did you mean `columns`?"),
        ("sheet", '{{ table("drives", short=true) }}', "`table` has no argument `short`"),
        ("sheet", "{{ figure(3) }}", "`name` of `figure` needs text"),
        ("sheet", '{{ choices("drive", "riser") }}', "takes other arguments"),
        ("sheet", '{{ prose("walk", subjct="lantern") }}', "did you mean `subject`?"),
        ("sheet", '{{ fact_rows("A", ["B"], ["power.maximum"]) }}', "a row has 2 cells"),
        ("sheet", '{{ figure("topologi") }}', "did you mean `topology`?"),
        ("sheet", "{{ build.nam }}", "did you mean `name`?"),
        ("sheet", "{{ bild.name }}", "did you mean `build`?"),
        ("sheet", "{{ build.name | uper }}", "there is no filter `uper`"),
        ("sheet", "{% if build.name %}", "error[SG401]"),
        ("sheet", "{{ build.name", "error[SG401]"),
        ("sheet", '{% include "foot.md" %}', "template `foot.md` not found"),
        ("sheet", '{{ audience("custmer") }}', "did you mean `customer`?"),
        ("sheet", '{{ audience("buyer") }}', "no audience is called `buyer`"),
        ("sheet", '{{ table("notes") }}', "is for internal readers, and this document is for"),
        ("sheet", "{{ source_note() }}", "`source_note()` is for engineers"),
        ("sheet", '{{ facts("review") }}', "for customers"),
        ("part", "{{ part.nothing }}", "there is no `nothing` on this value"),
        ("part", '{{ table("drives") }}', "no table is named `drives`"),
        ("platform", '{{ fact("mechanics.mas") }}', "did you mean `mechanics.mass`?"),
        ("start", '{{ table("bilds") }}', "no table is named `bilds`"),
        ("builds", "{{ build.name }}", "`build` is not known here"),
        ("builds", '{{ build_table("A", ["storage.rav"]) }}', "did you mean `storage.raw`?"),
        ("start", '{{ platform_table("A", [("B", "sumary")]) }}', "did you mean `summary`?"),
        ("platform", '{{ build_table("A", ["storage.rav"]) }}', "did you mean `storage.raw`?"),
    ],
)
def test_what_would_stop_a_template_is_found_at_its_line(
    run: Run, here: Path, name: str, line: str, told: str
):
    (here / "builds/templates").mkdir()
    (here / f"builds/templates/{name}.md").write_text(f"# Title\n\n{line}\n")
    got = run("check")
    assert got.status == 1
    assert told in got.out
    assert "error[SG401]" in got.out
    assert f"builds/templates/{name}.md:3:" in got.out or "{% if" in line
    if "{% if" not in line:
        assert f"3 | {line}" in got.out  # the excerpt


@pytest.mark.parametrize(
    "text",
    [
        "{% set x = build.name %}{{ x }}{% for each in documents %}{{ each }}{% endfor %}",
        '{% if remark is defined %}{{ remark }}{% endif %}{{ build.date | default("none") }}',
        '{{ fact("power.maximum") }}{{ fact_list("", ["power."]) }}',
        '{{ audience("internal") }}{{ facts("review") }}{{ table("notes") }}',
        '{{ audience("engineer") }}{{ source_note() }}',
        "{% set part = namespace(nothing=1) %}{{ part.nothing }}",
        '{% macro row(a) %}{{ a.b }}{% endmacro %}{% set y = 1 %}{% include "foot.md" %}',
    ],
)
def test_a_template_that_works_has_nothing_said_of_it(run: Run, here: Path, text: str):
    (here / "builds/templates").mkdir()
    (here / SHEET).write_text(f"# Title\n\n{text}\n")
    (here / "builds/templates/foot.md").write_text("{{ y }}{{ platform.name }}\n")
    got = run("check")
    assert (got.status, got.err) == (0, "")
    assert "SG401" not in got.out


def test_an_included_template_is_read_too(run: Run, here: Path):
    (here / "builds/templates").mkdir()
    (here / SHEET).write_text('# Title\n\n{% include "foot.md" %}\n')
    (here / "builds/templates/foot.md").write_text("one\n{{ nothing_here }}\n")
    got = run("check")
    assert got.status == 1
    assert "builds/templates/foot.md:2:" in got.out


def test_a_template_that_stops_a_sheet_is_shown_with_its_line(run: Run, here: Path):
    (here / "builds/templates").mkdir()
    (here / SHEET).write_text("# Title\n\n{{ build.nam }}\n")
    got = run("sheet", "lantern-full")
    assert got.status == 1
    assert "3 | {{ build.nam }}" in got.err
