"""Pages of limits, from limits that are handed in."""

from pathlib import Path

import pytest

from specgen.diagnostics import Span
from specgen.limits.limit import Limit, Status
from specgen.limits.reach import Reach
from specgen.limits.reason import Reason, ReasonKind
from specgen.pipeline import read
from specgen.site.pages import Pages, make_pages
from tests.projects import BASE


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Pages:
    """The base project with limits that its own builds reach."""
    loaded = read(BASE).loaded
    assert loaded.definitions is not None
    builds = loaded.definitions.builds
    proved = Limit(
        "drives",
        "Drives",
        "Drives",
        True,
        8,
        8,
        Status.PROVED,
        builds["lantern-full"],
        "",
        1,
    )
    found = Limit(
        "slots",
        "Card slots",
        "Card slots",
        True,
        2,
        3,
        Status.FOUND,
        builds["lantern-small"],
        "",
        4,
    )
    none = Limit(
        "ports",
        "Ethernet ports",
        "Ethernet ports",
        True,
        None,
        None,
        Status.NOTHING,
        None,
        "",
        1,
    )
    at = Span("platforms/lantern.yaml", 7, 1, 7, 2)

    def binds(platform: str, limit: Limit) -> tuple[Reason, ...]:
        assert platform == "lantern"
        return (
            (Reason(ReasonKind.POSITION, "there is no other bay", at),) if limit is proved else ()
        )

    definitions = loaded.definitions
    solved = (proved, found, none)
    reach = Reach(definitions, definitions.platforms["lantern"], lambda *_: solved)
    return make_pages(
        BASE,
        loaded,
        tmp_path_factory.mktemp("limits"),
        jobs=1,
        cache=None,
        done=lambda _: None,
        reach={"lantern": reach},
        binds=binds,
    )


def body(made: Pages, path: str) -> str:
    return next(page for page in made.pages if page.path == path).html()


def test_the_table_leads_from_each_limit_to_its_build(made: Pages) -> None:
    page = body(made, "limits.html")
    assert 'href="limits/lantern.html#drives"' in page
    assert "no build" in page


def test_what_is_not_proved_is_reported_apart(made: Pages) -> None:
    page = body(made, "limits.html")
    assert '<a href="limits/lantern.html#slots"><em>' in page
    assert "not proved" in page
    assert "best found, max. " in body(made, "limits/lantern.html")


def test_a_limit_shows_what_binds_it_and_the_parts_that_reach_it(made: Pages) -> None:
    section = body(made, "limits/lantern.html").split('id="drives"')[1].split("<h2")[0]
    assert "there is no other bay" in section
    assert "platforms/lantern.yaml:7" in section
    assert 'href="../parts/e3-3840.html"' in section


def test_limits_stand_in_the_menu_and_in_the_comparison(made: Pages) -> None:
    assert "limits.html" in [entry.path for entry in made.shell.menu]
    assert 'href="limits/lantern.html#drives"' in body(made, "compare.html")


def test_without_limits_there_is_no_page_of_them(tmp_path: Path) -> None:
    loaded = read(BASE).loaded
    plain = make_pages(BASE, loaded, tmp_path, jobs=1, cache=None, done=lambda _: None)
    assert not [page.path for page in plain.pages if page.path.startswith("limits")]
    assert "limits.html" not in [entry.path for entry in plain.shell.menu]


def test_a_page_of_limits_lists_what_sets_the_inlet_temperature(made: Pages) -> None:
    section = body(made, "limits/lantern.html").split('id="inlet"')[1]
    assert "What sets the maximum inlet temperature" in section
    assert "class A2" in section
    assert 'data-fact="cooling.class_limit"' in section
