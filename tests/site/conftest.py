from collections.abc import Callable
from pathlib import Path

import pytest
import site_samples

from specgen.site.assemble import publish_site


def contents_of(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


@pytest.fixture(scope="session")
def sample_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sample")
    pages = (*site_samples.pages(), site_samples.written_by_hand())
    publish_site(pages, site_samples.shell(), folder / "out")
    return folder / "out"


@pytest.fixture
def read_folder() -> Callable[[Path], dict[str, bytes]]:
    return contents_of
