"""What is said of a mistake, to the last label: one break of each code, as a terminal prints it.

`mutated/test_breaks.py` holds code and line of every break; which further places a finding points
at, its reasons and its repair stand here.
"""

from tests.golden.conftest import Golden
from tests.mutated.breaks import BREAKS, Break
from tests.mutated.contradicting_breaks import CONTRADICTING
from tests.mutated.said import said_of


def _read() -> list[Break]:
    """The first break of each code."""
    found: dict[str, Break] = {}
    for case in (*BREAKS, *CONTRADICTING):
        found.setdefault(case.expected[0][0], case)
    return [found[code] for code in sorted(found)]


def test_a_finding_of_each_code_in_full(golden: Golden):
    texts = (f"# {case.name}\n\n{said_of(case).text}\n" for case in _read())
    golden("findings.txt", "\n".join(texts))
