"""What the expected values of checks rest on, counted apart at the end of a run.

A check that is marked names its topic and what it rests on:

    @pytest.mark.published("air", "ISO 2533 through ambiance")
    @pytest.mark.arithmetic("acoustics", "1 B = 10 dB")
    @pytest.mark.practice("power supplies", "supplies share a load equally")
    @pytest.mark.memory("panels", "EIA-310: panel height")

`published` means that somebody has read the value, or the formula with its constants, in the
document named or in print that quotes it: such documents stand in `READ`. `arithmetic` needs no
document: units, sums, definitions that the check spells out. `practice` is common practice without
a source. `memory` names a document that nobody could look up. Where rows of one table rest on
different things, `rest_on(mark, rows)` says so.
"""

from collections.abc import Iterable, Iterator
from typing import Any, Final

import pytest

SORTS: Final = {
    "published": "checks against published sources",
    "arithmetic": "checks by arithmetic",
    "practice": "checks of common practice, without a source",
    "memory": "checks from memory, with a source that could not be read",
}
"""The marks, and the heads of what is counted under each."""

READ: Final = {
    "80 PLUS": "levels by an encyclopaedia; the newest level by the technical press",
    "ASHRAE TC 9.9": "the reference card of the 5th edition, 2021",
    "CoolProp": "the library, asked by the check",
    "DMTF": "schemas and mock-ups of Redfish, release 2025.4",
    "EIA-310": "rack units, through DMTF Redfish RackUnits",
    "Hardware press": "names and peaks of memory in print",
    "IDEMA LBA1-02": "the text, with its worked example",
    "IEC 60320-1": "through DMTF Circuit PlugType and a table after AS/NZS 60320.1",
    "IEC 80000-13": "through NIST, Prefixes for binary multiples",
    "IEEE 802.3": "reaches by a university's chart of media",
    "INCITS": "rates of SAS through encyclopaedias",
    "ISO 2533": "through the libraries named, asked by the check",
    "ISO 9296:2017": "its scope, and Ecma's page on ECMA-109",
    "Information Storage and Management": "2nd edition, section 3.5, as quoted",
    "International Table BTU": "through scipy.constants",
    "NEC (NFPA 70)": "210.20(A) as a bulletin quotes it",
    "PCI Express Base": "rates and coding through teaching material and the technical press",
    "PCI Express CEM": "version 1.1 through an encyclopaedia; later text as a reader quotes it",
    "PsychroLib": "the library, asked by the check",
    "Public pages": "examples that several of them print",
    "Regulation (EU) 2019/424": "a copy of the consolidated text of 2021-05-01",
    "Revised NIOSH lifting equation": "the load constant, on a university's page",
    "SFF": "connectors and lanes through an encyclopaedia",
    "SFF-8447": "16 TB as kernels and partition tools log it",
    "Serial ATA": "rates through encyclopaedias",
    "ambiance": "the library, asked by the check",
    "engineeringtoolbox.com": "Adding Decibels",
    "fluids": "the library, asked by the check",
}
"""What was read of each source that a published check names, by how its name begins."""


def rest_on(mark: pytest.MarkDecorator, rows: Iterable[tuple[object, ...]]) -> list[Any]:
    """Rows of values for `parametrize` that rest on something else than the rest of the table."""
    return [pytest.param(*row, marks=mark) for row in rows]


def mark_of(item: pytest.Item) -> pytest.Mark | None:
    """What a check rests on: the mark of its row, else of its function, else of its module."""
    marks = (*reversed(item.own_markers), *item.iter_markers())
    return next((mark for mark in marks if mark.name in SORTS), None)


ALL: Final = "in all"

Check = tuple[str, str, str]
"""Sort, topic, and what the check rests on."""


def table(checks: Iterable[Check]) -> Iterator[tuple[str, list[str]]]:
    """For each sort its head and lines: topic, how many checks, what they rest on; the sum."""
    counts: dict[str, dict[str, list[str]]] = {}
    for sort, topic, rests in checks:
        counts.setdefault(sort, {}).setdefault(topic, []).append(rests)
    for sort in (each for each in SORTS if each in counts):
        topics = counts[sort]
        width = max(map(len, (*topics, ALL)))
        lines = [
            f"{topic:{width}} {len(rests):5}  {'; '.join(sorted(set(rests)))}"
            for topic, rests in sorted(topics.items())
        ]
        lines.append(f"{ALL:{width}} {sum(map(len, topics.values())):5}")
        yield SORTS[sort], lines
