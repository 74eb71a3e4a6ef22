"""No input ends in an exception or runs on, and all that is found has its place.

Each input of a small sound project is changed at random: its YAML, the expressions of its rules and
values, its templates, prose and pages, and the catalogues of translations. `SPECGEN_FUZZ=10000`
tries so many of each, new ones every time; a few are tried in every run, always the same.
"""

import os
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from specgen.cli.check import _of_texts
from specgen.diagnostics import Finding
from specgen.diagnostics.as_sarif import sarif_text
from specgen.diagnostics.as_text import report
from specgen.document.shelf import templates_of
from specgen.drawings import LayoutEngine, nowhere
from specgen.facts.rule_book import statement_of
from specgen.messages.po import read_catalogue
from specgen.pipeline import Survey, compose, survey, write
from specgen.shipped import templates_folder
from specgen.write.writer_options import options_of
from tests.cli.conftest import written
from tests.fuzzed.mutations import TOKENS, mutated
from tests.projects import base, checked, sources
from tests.timing import NO_HANG, stopwatch

WANTED = int(os.environ.get("SPECGEN_FUZZ", "0"))
TRIED: Counter[str] = Counter()
Fuzz = Callable[[Callable[..., None]], Callable[..., None]]


def fuzz(few: int) -> Fuzz:
    """So many examples in every run, else as many as are wanted."""
    return settings(
        max_examples=WANTED or few,
        derandomize=not WANTED,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )


@pytest.fixture(scope="module", autouse=True)
def _counted() -> Iterator[None]:
    yield
    if WANTED:
        print(dict(TRIED))


class bounded:  # noqa: N801
    """Counts one input; fails where it runs on."""

    def __init__(self, what: str) -> None:
        self.what = what

    def __enter__(self) -> None:
        self.used = stopwatch()

    def __exit__(self, *raised: object) -> None:
        TRIED[self.what] += 1
        assert self.used() < NO_HANG


def told(findings: tuple[Finding, ...], texts: dict[str, str]) -> None:
    """All that was found stands at a line and a column of a file, and can be told in each form."""
    for found in findings:
        at = found.at.span
        assert at.file
        assert at.line >= 1
        assert at.column >= 1
    assert sarif_text(findings)
    report(findings, texts)


# --- definitions ---


@st.composite
def wrong_project(draw: DrawFn) -> dict[str, str]:
    files = base()
    for _ in range(draw(st.integers(1, 2))):
        name = draw(st.sampled_from(sorted(files)))
        files[name] = draw(mutated(files[name]))
    return files


@fuzz(40)
@given(wrong_project())
def test_any_definitions_are_read_or_told_about(files: dict[str, str]) -> None:
    with bounded("YAML"):
        got = checked(sources(files))
        told(got.findings, dict(got.sources.texts))


# --- expressions ---

RULES = (
    'count(d for d in drives if d.medium == "disk") > 12', "processors.count == 2 and not has('x')",
    'part("CPU1").tdp <= "205 W" or altitude > "1800 m"', 'all(p.cores > 4 for p in processors)',
    'max(o.output for o in power_supplies) >= "1400 W"', 'inlet in ("25 degC", "30 degC")',
    'platform.rack_units >= 2 and filled("DIMM A1..A8")', 'fact("processors.cores") / 2 > 3 - 1',
    'any(f.airflow * 2 >= "90 CFM" for f in fans if f.position in ("FAN 1", "FAN 2"))',
    'sum(m.capacity for m in memory_modules) >= "64 GB"',
    'part("SLOT 1").attributes["colour"] == "x"',
)  # fmt: skip
WORDS = st.lists(st.sampled_from((*TOKENS, *" ".join(RULES).split(" "))), max_size=9).map(" ".join)
EXPRESSION = st.one_of(st.sampled_from(RULES).flatmap(mutated), WORDS)


SMALL: list[Survey] = []
"""The small project; no argument of a test, since it is long when a failing one is printed."""


@pytest.fixture(scope="module", autouse=True)
def _small(tmp_path_factory: pytest.TempPathFactory) -> None:
    files = base()
    files["prose/lantern/introduction.md"] = PROSE
    files["pages/hand.md"] = PROSE
    SMALL[:] = [survey(written(tmp_path_factory.mktemp("small"), files))]


@fuzz(150)
@given(text=EXPRESSION)
def test_any_expression_is_read_or_refused(text: str) -> None:
    definitions = SMALL[0].definitions
    assert definitions is not None
    with bounded("expressions"):
        statement, findings = statement_of(text, definitions, definitions.platforms["lantern"])
        assert (statement is None) == bool(findings)
        for found in findings:
            assert str(found.message)


@fuzz(15)
@given(rule=EXPRESSION, value=EXPRESSION)
def test_any_rule_and_any_value_is_judged_or_told_about(rule: str, value: str) -> None:
    files = base()
    quoted = [text.replace("'", "''").replace("\n", " ") for text in (rule, value)]
    files["specgen.yaml"] += (
        f"rules:\n  - {{code: QW-1, forbid: '{quoted[0]}', because: No.}}\n"
        f"values:\n  - {{key: house.x, label: X, expression: '{quoted[1]}'}}\n"
    )
    with bounded("rules and values"):
        got = checked(sources(files))
        told(got.findings, dict(got.sources.texts))


# --- texts ---

PROSE = """# By hand

It holds {{ lantern-full processors.cores }} and `{{ limit lantern cores }}`; see [it](site:x).

| a | b |
| --- | ---: |
| 1 | *2* |

> A quotation with 24 cores, 768 GB of memory and a [link](https://example.org).

1. one
   - two `code`

![A picture](picture.png)
"""


@fuzz(40)
@given(text=mutated(PROSE))
def test_any_prose_and_page_is_printed_or_told_about(text: str) -> None:
    (small,) = SMALL
    for name in ("prose/lantern/introduction.md", "pages/hand.md"):
        (small.root / name).write_text(text, encoding="utf-8", errors="surrogatepass", newline="")
    with bounded("prose and pages"):
        told(_of_texts(small, None), dict(small.sources.texts))
        composed("sheet", '# T\n\n{{ prose("introduction") }}\n')


TEMPLATES = ("sheet", "guide", "parts-list", "compare", "site-preparation")
SHIPPED = {
    path.stem: path.read_text(encoding="utf-8") for path in sorted(templates_folder().glob("*.md"))
}
ENGINE = LayoutEngine()


def composed(name: str, template: str) -> None:
    """What becomes of a template, in every form of document."""
    (small,) = SMALL
    folder = small.root / "templates"
    folder.mkdir(exist_ok=True)
    path = folder / f"{name}.md"
    path.write_text(template, encoding="utf-8", errors="surrogatepass", newline="")
    case = small.cases["lantern-full"]
    try:
        document, findings = compose(name, templates_of(small.root), case, ENGINE, nowhere)
        told(findings, dict(small.sources.texts))
        assert document is not None or findings
        for form in ("html", "md") if document is not None else ():
            write(document, form, options_of(case.definitions))
    finally:
        path.unlink()


@st.composite
def wrong_template(draw: DrawFn) -> str:
    """A shipped template, or the first lines of one, with some places changed."""
    text = SHIPPED[draw(st.sampled_from(sorted(set(TEMPLATES) & set(SHIPPED))))]
    if draw(st.booleans()):
        text = "\n".join(text.split("\n")[: draw(st.integers(3, 20))])
    return draw(mutated(text))


@fuzz(12)
@given(template=wrong_template())
def test_any_template_is_a_document_or_told_about(template: str) -> None:
    with bounded("templates"):
        composed("sheet", template)


# --- translations ---

CATALOGUE = (templates_folder() / "languages/de.po").read_text(encoding="utf-8")
PIECE = CATALOGUE[:1500] + CATALOGUE[-1500:]


@fuzz(60)
@given(text=mutated(PIECE), name=st.sampled_from(("de", "ja", "xx", "pt-BR", "")))
def test_any_catalogue_is_read_or_passed_over(text: str, name: str) -> None:
    with bounded("catalogues"):
        messages, _ = read_catalogue(text.encode("utf-8", "surrogatepass"), name)
        assert all(isinstance(each, str) for forms in messages.values() for each in forms)


@pytest.mark.parametrize("plural", ["n", "n != 1);", "", "n n", "(" * 300, "1x"])
def test_a_catalogue_with_a_broken_rule_of_plurals_is_passed_over(plural: str) -> None:
    right = "plural=(n != 1);"
    assert right in PIECE
    text = PIECE.replace(right, f"plural={plural}")
    messages, rule = read_catalogue(text.encode(), "de")
    assert (rule is None) == (messages == {})


def test_mutations_change_something(tmp_path: Path) -> None:
    """The texts that are changed are sound as they are: what is found comes of the change."""
    assert checked(sources(base())).findings == ()
