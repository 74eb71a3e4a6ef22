"""A maker of storage shelves whose parts are of kinds that the project itself declares."""

from functools import cache
from pathlib import Path

from specgen.document.case import Case
from specgen.pipeline import Survey, survey

SHELF = Path(__file__).parent / "shelf"
KINDS = "kinds/shelf.yaml"
PARTS = "catalog/shelf.yaml"
PLATFORM = "platforms/saltpan.yaml"
BUILDS = "configured/saltpan.yaml"


def shelf_files() -> dict[str, str]:
    """The texts of the project, by file name."""
    return {
        path.relative_to(SHELF).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(SHELF.rglob("*.yaml"))
    }


def edited_shelf(name: str, old: str, new: str) -> dict[str, str]:
    """The project with one edit; what is replaced must stand there exactly once."""
    files = shelf_files()
    assert files[name].count(old) == 1, f"{old!r} stands {files[name].count(old)} times in {name}"
    files[name] = files[name].replace(old, new)
    return files


@cache
def shelf() -> Survey:
    """The project, read and judged; once for all tests."""
    return survey(SHELF)


def full() -> Case:
    """Its build with every position filled."""
    return shelf().cases["saltpan-full"]
