import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.site.page import Page
from specgen.site.search import Index, encode, terms
from tests.site.finder import Finder
from tests.timing import tries

DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"


def decode(written: str) -> dict[int, int]:
    found: dict[int, int] = {}
    for group in filter(None, written.split(".")):
        weight, slot, gap, shift = DIGITS.index(group[0]), 0, 0, 0
        for digit in group[1:]:
            value = DIGITS.index(digit)
            gap |= (value & 31) << shift
            shift += 5
            if not value & 32:
                slot += gap
                found[slot] = max(weight, found.get(slot, 0))
                gap = shift = 0
    return found


def pages() -> list[Page]:
    return [
        Page("platforms/lantern.html", "Lantern", "platforms", "", "Value, one rack unit"),
        Page("builds/lantern-a.html", "Lantern A", "builds", "", "Records", (("Corvane C32", 5),)),
        Page("builds/boathouse-a.html", "Boathouse A", "builds", "", "Ice", (("Corvane C64", 5),)),
        Page("parts/c32.html", "Corvane C32", "parts", "", "A processor", (("lantern", 1),)),
    ]


def reader(made: list[Page] | None = None) -> Finder:
    return Finder(Index().files(made if made is not None else pages(), {"parts": "Parts"}))


@pytest.mark.parametrize(
    ("query", "first"),
    [
        ("lantern", "platforms/lantern.html"),
        ("lant", "platforms/lantern.html"),
        ("LANTERN a", "builds/lantern-a.html"),
        ("c32", "parts/c32.html"),
        ("corvane boa", "builds/boathouse-a.html"),
        ("procéssor", "parts/c32.html"),
    ],
)
def test_the_page_that_is_meant_comes_first(query: str, first: str) -> None:
    assert reader().find(query)[0] == first


def coded() -> list[Page]:
    words = (("QB-104", 9), ("5600 MT/s 64\u202fGiB", 1), ("BOAT-01", 1))
    return [
        Page("builds/a.html", "Boathouse one", "builds", "", "", words),
        Page(
            "builds/b.html", "Boathouse two", "builds", "", "", (("QB-103 has 104 of 5600 W", 1),)
        ),
        Page("builds/c.html", "Three", "builds", "", "", (("BOAT-02 01", 1),)),
    ]


@pytest.mark.parametrize(
    "query",
    [
        "QB-104",
        "qb-104",
        "qb-10 boat-01",
        "BOAT-01",
        "5600 MT/s",
        "5600MT/s",
        "64GiB",
        "64 gib",
    ],
)
def test_codes_and_values_with_units_are_found_whole(query: str) -> None:
    assert reader(coded()).find(query)[0] == "builds/a.html"


def test_a_value_with_another_unit_is_not_meant() -> None:
    assert reader(coded()).find("5600 MT/s") == ["builds/a.html"]


def test_a_code_is_found_by_pieces_too() -> None:
    assert "builds/a.html" in reader(coded()).find("104 qb")


def test_pages_with_all_words_come_alone_else_the_best_of_them() -> None:
    assert reader().find("lantern c32") == ["builds/lantern-a.html", "parts/c32.html"]
    assert set(reader().find("ice c32")) == {
        *("parts/c32.html", "builds/lantern-a.html", "builds/boathouse-a.html")
    }
    assert reader().find("") == []


@pytest.mark.parametrize(
    ("typed", "first"),
    [("lanternn", "platforms/lantern.html"), ("lantren", "platforms/lantern.html"),
     ("corvnae", "builds/boathouse-a.html"), ("corvan", "parts/c32.html")],
)  # fmt: skip
def test_one_or_two_wrong_letters_are_read_as_they_were_meant(typed: str, first: str) -> None:
    assert first in reader().find(typed)


@settings(max_examples=tries(20))
@given(st.text("ab", min_size=4, max_size=9), st.data())
def test_a_word_with_one_wrong_letter_finds_its_page(word: str, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(word) - 1))
    typed = word[:at] + data.draw(st.sampled_from(["", "q", word[at] + "q"])) + word[at + 1 :]
    found = reader([Page("a.html", word, "parts", "")]).find(typed)
    assert found == ["a.html"] or len(typed) < 4


def test_words_of_a_language_without_blanks_are_found_within_others() -> None:
    made = [
        Page("a.html", "最大消費電力", "parts", ""),
        Page("b.html", "電源ユニットの効率", "parts", ""),
    ]
    assert reader(made).find("消費電力") == ["a.html"]
    assert reader(made).find("ユニット") == ["b.html"]
    assert reader(made).find("源") == ["b.html"]


def test_letters_that_no_word_begins_with_find_nothing() -> None:
    assert reader().find("zzz") == []
    assert reader([]).find("lantern") == []


def test_words_are_taken_apart_alike_in_title_and_question() -> None:
    assert terms("E3.S ×16, Höhe_2 U") == ("e3", "s", "16", "hohe", "2", "u")


def test_shards_are_plain_ascii_files_with_safe_names() -> None:
    files = Index().files([Page("a.html", "Ünïx con 日本 Ω", "parts", "")], {})
    assert all(text.isascii() for text in files.values())
    assert all(re.fullmatch(r"search/[a-z0-9_-]+\.js", name) for name in files)
    assert "search/w-c.js" in files
    assert "search/w-_65e5_.js" in files


def test_markup_in_a_title_stays_text() -> None:
    (chunk,) = [
        text
        for name, text in Index().files([Page("a.html", "<b>&", "parts", "")], {}).items()
        if name.startswith("search/p-")
    ]
    assert '"<b>&"' in chunk


@given(st.dictionaries(st.integers(0, 2**21), st.integers(1, 63)))
def test_written_postings_read_back_as_they_were(postings: dict[int, int]) -> None:
    assert decode(encode(postings)) == postings


KINDS = ("processor", "memory module", "drive", "storage controller", "network adapter", "riser")


def many(count: int) -> Iterator[Page]:
    """Seeded pages of a large catalog: builds and parts with order names and values."""
    yield Page("index.html", "Quillmere servers", "start", "")
    for number in range(count // 2):
        platform = ("Pocket", "Lantern", "Beacon", "Boathouse", "Capstan")[number % 5]
        yield Page(
            f"builds/{platform.lower()}-{number}.html",
            f"{platform} {number}",
            "builds",
            "",
            f"A {platform} build for station {number}, with Corvane C{16 * (number % 6 + 1)}",
            (
                (f"{platform.lower()}-{number} Corvane C{16 * (number % 6 + 1)}", 8),
                (f"{number * 37 % 4096} GiB {number * 11 % 3000} W {number % 25} drives", 4),
                ("mirrored boot hot-swap rack unit inlet altitude supply network ports", 2),
            ),
        )
    for number in range(count - count // 2 - 1):
        kind = KINDS[number % len(KINDS)]
        yield Page(
            f"parts/qw-{number:05}.html",
            f"Tarn {number} {kind}",
            "parts",
            "",
            f"{kind}, order name qw-{number:05}, made for Lantern and Beacon",
            ((f"qw-{number:05} qw{number:05} {kind}", 9), (f"used in {number % 90} builds", 2)),
        )


@pytest.fixture(scope="module")
def large() -> dict[str, str]:
    return Index().files(many(10_000), {})


@pytest.mark.slow
@pytest.mark.parametrize(
    ("query", "found"),
    [
        ("l", "builds/lantern-1.html"),
        ("lantern", "builds/lantern-1.html"),
        ("qw", None),
        ("qw-04711", "parts/qw-04711.html"),
        ("tarn 4711", "parts/qw-04711.html"),
        ("corvane c32 mirrored boot hot swap", None),
        ("network adapter lantern", None),
        ("boathouse 2048 gib", None),
        ("1", None),
    ],
)
def test_a_first_query_among_ten_thousand_pages_loads_under_200_kb(
    large: dict[str, str], query: str, found: str | None
) -> None:
    asking = Finder(large)
    results = asking.find(query)
    assert results
    if found and len(terms(query)) > 1:
        assert results[0] == found
    assert sum(asking.loaded.values()) < 200_000


@pytest.mark.slow
def test_no_file_of_a_large_index_is_large(large: dict[str, str]) -> None:
    assert max(map(len, large.values())) < 45_000
    assert len(large) < 3_000
    assert sum(map(len, large.values())) < 5_000_000


def changed(one: dict[str, str], other: dict[str, str]) -> list[str]:
    return sorted(name for name in {*one, *other} if one.get(name) != other.get(name))


def test_one_changed_page_changes_few_shards() -> None:
    made = list(many(1_000))
    before = Index().files(made, {})
    made[700] = replace(made[700], summary="Another summary")
    assert len(changed(before, Index().files(made, {}))) < 20


def test_one_new_page_leaves_the_other_pages_their_places() -> None:
    made = [*many(1_000), Page("parts/zz-new.html", "Zeppelin", "parts", "")]
    files = changed(Index().files(made[:-1], {}), Index().files(made, {}))
    assert "search/start.js" in files
    assert len(files) < 8


def test_the_index_does_not_depend_on_the_order_of_pages() -> None:
    made = list(many(300))
    assert Index().files(made, {}) == Index().files(reversed(made), {})


def test_the_site_names_the_sections_of_results(sample_site: Path) -> None:
    text = (sample_site / "search/start.js").read_text()
    assert (
        '"sections":["Start","Platforms","Builds","Parts","Notes","Rules","Limits","Compare"]'
        in text
    )


def numbered(count: int) -> list[Page]:
    return [
        Page(f"parts/part-{n}.html", f"Fan {n}", "parts", "", f"Blows {n % 7}", ((f"qw-{n}", 9),))
        for n in range(count)
    ]


def test_the_index_follows_one_changed_page_and_makes_few_shards_anew() -> None:
    pages = numbered(3000)
    index = Index()
    before = index.files(pages, {})
    assert len(index.remade) == len(before) - 2  # all but the two that are made every time
    pages[17] = replace(pages[17], title="Fan of brass")
    after = index.files(pages, {})
    assert after == Index().files(pages, {})
    assert 0 < len(index.remade) < len(before) / 10
    index.files(pages, {})
    assert index.remade == ()


@given(st.lists(st.lists(st.tuples(st.integers(0, 40), st.sampled_from("abc")), max_size=30)))
def test_an_index_that_follows_is_the_one_that_is_made_anew(
    states: list[list[tuple[int, str]]],
) -> None:
    index = Index()
    for state in states:
        titles = dict(state)
        pages = [
            Page(f"parts/{n}.html", f"{title} {n % 5}", "parts", "") for n, title in titles.items()
        ]
        assert index.files(pages, {}) == Index().files(pages, {})


def test_pages_that_others_lead_to_are_not_found_by_words() -> None:
    pages = [*numbered(3), Page("builds/x/facts.html", "Brass", "builds", "", searched=False)]
    assert "brass" not in "".join(Index().files(pages, {}).values()).lower()
