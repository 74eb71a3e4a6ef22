import errno
import os
import shutil
import signal
import subprocess
import sys
import textwrap
from collections.abc import Callable
from pathlib import Path

import pytest
import site_samples

from specgen.site import publish
from specgen.site.assemble import publish_site
from specgen.site.mkdocs_engine import MkDocsEngine
from specgen.site.others_files import MARKER
from specgen.site.publish import CannotPublish, publishing

Reader = Callable[[Path], dict[str, bytes]]


def put(target: Path, text: str) -> None:
    with publishing(target) as folder:
        (folder / "index.html").write_text(text, encoding="utf-8")


def left_beside(target: Path) -> list[str]:
    return sorted(each.name for each in target.parent.iterdir() if each != target)


@pytest.fixture
def old(tmp_path: Path) -> Path:
    target = tmp_path / "site"
    put(target, "old")
    return target


@pytest.fixture(params=["exchange", "two renames"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    if request.param == "two renames":
        monkeypatch.setattr(publish, "exchange", lambda one, other: False)
    return str(request.param)


def test_a_new_site_appears_whole_with_our_marker(tmp_path: Path) -> None:
    put(tmp_path / "deep/er/site", "new")
    assert (tmp_path / "deep/er/site/index.html").read_text() == "new"
    assert (tmp_path / "deep/er/site" / MARKER).is_file()
    assert left_beside(tmp_path / "deep/er/site") == []


def test_the_next_site_replaces_the_whole_old_one(old: Path, way: str) -> None:
    with publishing(old) as folder:
        (folder / "other.html").write_text("new")
        assert (old / "index.html").read_text() == "old"
    assert sorted(each.name for each in old.iterdir()) == [MARKER, "other.html"]
    assert left_beside(old) == []


def test_an_empty_folder_may_be_published_to(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    put(tmp_path / "site", "new")
    assert (tmp_path / "site/index.html").read_text() == "new"


def test_a_folder_of_somebody_else_is_refused(tmp_path: Path) -> None:
    (tmp_path / "work").mkdir()
    (tmp_path / "work/thesis.txt").write_text("dear")
    with pytest.raises(CannotPublish, match="not empty and was not published") as caught:
        put(tmp_path / "work", "new")
    assert caught.value.help
    assert (tmp_path / "work/thesis.txt").read_text() == "dear"
    assert left_beside(tmp_path / "work") == []


@pytest.mark.parametrize("name", [".git/HEAD", ".git", "CNAME", ".nojekyll", ".well-known/a.txt"])
def test_a_folder_of_nothing_but_what_hosts_want_may_be_published_to(
    tmp_path: Path, way: str, name: str
) -> None:
    target = tmp_path / "site"
    for each in (name, ".gitignore"):
        (target / each).parent.mkdir(parents=True, exist_ok=True)
        (target / each).write_text("dear")
    for text in ("first", "second"):
        put(target, text)
        assert (target / "index.html").read_text() == text
        assert (target / name).read_text() == "dear"
        assert (target / ".gitignore").read_text() == "dear"
    assert left_beside(target) == []
    (tmp_path / "work").mkdir()
    for each in (".git", ".notes", "a.txt"):
        (tmp_path / "work" / each).write_text("dear")
    with pytest.raises(CannotPublish, match=r"`\.notes`"):
        put(tmp_path / "work", "new")


def test_such_a_folder_moved_aside_by_a_killed_run_comes_back(tmp_path: Path) -> None:
    old = tmp_path / ".site.specgen/old"
    old.mkdir(parents=True)
    (old / "CNAME").write_text("dear")
    put(tmp_path / "site", "new")
    assert (tmp_path / "site/CNAME").read_text() == "dear"
    assert (tmp_path / "site/index.html").read_text() == "new"
    assert left_beside(tmp_path / "site") == []


# --- what others have put there ---


def others(target: Path) -> None:
    (target / ".git/objects/ab").mkdir(parents=True)
    (target / ".git/objects/ab/cd").write_bytes(b"\0object")
    (target / ".git/HEAD").write_text("ref: refs/heads/pages")
    (target / ".git/HEAD").chmod(0o640)
    (target / ".git/refs").mkdir()
    (target / "CNAME").write_text("specs.example")
    (target / "parts").mkdir(exist_ok=True)
    (target / "parts/notes.txt").write_text("dear")
    (target / "latest").symlink_to("index.html")
    (target / "away").symlink_to("/nowhere", target_is_directory=True)
    (target / "two\nlines").write_text("odd")


def of_others(target: Path) -> dict[str, tuple[int, bytes]]:
    names = (".git/HEAD", ".git/objects/ab/cd", "CNAME", "parts/notes.txt", "two\nlines")
    return {name: ((target / name).stat().st_mode, (target / name).read_bytes()) for name in names}


def test_files_of_others_in_the_published_folder_stay(old: Path, way: str) -> None:
    with publishing(old) as folder:
        (folder / "parts").mkdir()
        (folder / "parts/gone.html").write_text("old")
    others(old)
    before = of_others(old)
    for text in ("new", "newer"):  # and are nobody else's the next time
        put(old, text)
        assert of_others(old) == before
        assert (old / "latest").readlink() == Path("index.html")
        assert (old / "away").readlink() == Path("/nowhere")
        assert (old / ".git/refs").is_dir()
        assert (old / "index.html").read_text() == text
        assert not (old / "parts/gone.html").exists()
    assert left_beside(old) == []


def test_files_of_others_are_there_without_a_pause(
    old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In the step in which the folders change places, both hold them."""
    others(old)
    before = of_others(old)
    real = publish.exchange

    def looking(one: Path, other: Path) -> bool:
        assert of_others(one) == of_others(other) == before
        return real(one, other)

    monkeypatch.setattr(publish, "exchange", looking)
    put(old, "new")
    assert of_others(old) == before


def test_what_a_new_page_would_overwrite_is_refused(old: Path) -> None:
    (old / "other.html").write_text("dear")
    with pytest.raises(CannotPublish, match="the same name"), publishing(old) as folder:
        (folder / "other.html").write_text("new")
    assert (old / "other.html").read_text() == "dear"
    assert (old / "index.html").read_text() == "old"
    (old / "other.html").unlink()
    (old / "parts").write_text("dear")
    with pytest.raises(CannotPublish, match="parts"), publishing(old) as folder:  # noqa: PT012
        (folder / "parts").mkdir()
        (folder / "parts/fan.html").write_text("new")
    assert (old / "parts").read_text() == "dear"
    assert left_beside(old) == []


@pytest.mark.skipif(sys.platform == "win32", reason="no pipes in folders there")
def test_a_pipe_in_the_published_folder_is_refused(old: Path) -> None:
    os.mkfifo(old / "pipe")
    with pytest.raises(CannotPublish, match="is no file"):
        put(old, "new")
    assert (old / "pipe").is_fifo()


def test_odd_names_that_we_publish_are_ours(old: Path) -> None:
    for text in ("one", "two"):
        with publishing(old) as folder:
            for name in ("a\nb.html", "a\\nb.html", "ü.html"):
                (folder / name).write_text(text)
        assert (old / "a\nb.html").read_text() == text
    put(old, "new")
    assert sorted(each.name for each in old.iterdir()) == [MARKER, "index.html"]


def test_a_marker_cut_short_takes_nothing_for_ours(old: Path) -> None:
    (old / MARKER).write_text("This folder")
    with pytest.raises(CannotPublish, match="the same name"):
        put(old, "new")
    assert (old / "index.html").read_text() == "old"


def test_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "site").write_text("dear")
    with pytest.raises(CannotPublish, match="is a file"):
        put(tmp_path / "site", "new")


def test_the_current_folder_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(CannotPublish, match="current folder"):
        put(Path(), "new")


def test_a_link_to_a_folder_stays_a_link(old: Path, tmp_path: Path) -> None:
    (tmp_path / "www").symlink_to(old, target_is_directory=True)
    put(tmp_path / "www", "new")
    assert (tmp_path / "www").is_symlink()
    assert (old / "index.html").read_text() == "new"


@pytest.mark.parametrize("problem", [RuntimeError, KeyboardInterrupt, SystemExit])
def test_a_failed_run_leaves_the_old_site_whole(
    old: Path, read_folder: Reader, problem: type[BaseException]
) -> None:
    before = read_folder(old)
    with pytest.raises(problem), publishing(old) as folder:  # noqa: PT012  # the body is the run
        (folder / "index.html").write_text("half")
        raise problem
    assert read_folder(old) == before
    assert left_beside(old) == []


def test_an_engine_that_raises_half_way_leaves_the_old_site_whole(
    old: Path, read_folder: Reader
) -> None:
    class HalfWay(MkDocsEngine):
        def render(self, pages, shell, folder) -> tuple[str, ...]:  # type: ignore[no-untyped-def]
            super().render(pages, shell, folder)
            raise RuntimeError("half way")

    before = read_folder(old)
    with pytest.raises(RuntimeError, match="half way"):
        publish_site(site_samples.pages(), site_samples.shell(), old, engine=HalfWay())
    assert read_folder(old) == before


def test_a_full_disk_is_reported_plainly_and_leaves_the_old_site_whole(
    old: Path, read_folder: Reader, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = read_folder(old)
    written: list[str] = []
    real = Path.write_bytes

    def full(self: Path, data: bytes) -> int:
        written.append(self.name)
        if len(written) > 3:
            raise OSError(errno.ENOSPC, "No space left on device", str(self))
        return real(self, data)

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(CannotPublish, match="No space left on device") as caught:
        publish_site(site_samples.pages(), site_samples.shell(), old)
    assert "unchanged" in str(caught.value.help)
    assert read_folder(old) == before
    assert left_beside(old) == []


def test_a_swap_that_fails_half_way_puts_the_old_site_back(
    old: Path, read_folder: Reader, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = read_folder(old)
    real = Path.rename

    def failing(self: Path, target: Path) -> Path:
        if self.name == "new":
            raise OSError(errno.EIO, "Input/output error", str(self))
        return real(self, target)

    monkeypatch.setattr(publish, "exchange", lambda one, other: False)
    monkeypatch.setattr(Path, "rename", failing)
    with pytest.raises(CannotPublish, match="Input/output error"):
        put(old, "new")
    assert read_folder(old) == before


def test_a_site_marked_while_we_worked_is_not_taken_for_ours(tmp_path: Path) -> None:
    target = tmp_path / "site"
    with pytest.raises(CannotPublish), publishing(target) as folder:  # noqa: PT012
        (folder / "index.html").write_text("new")
        target.mkdir()
        (target / "thesis.txt").write_text("dear")
    assert (target / "thesis.txt").read_text() == "dear"


def test_two_publishers_at_once_do_not_meet(old: Path) -> None:
    with publishing(old) as folder:
        (folder / "index.html").write_text("first")
        with pytest.raises(CannotPublish, match="another run is publishing"):
            put(old, "second")
    assert (old / "index.html").read_text() == "first"
    assert left_beside(old) == []


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGKILL there")
def test_what_a_killed_run_left_is_cleared_by_the_next(old: Path, read_folder: Reader) -> None:
    before = read_folder(old)
    script = """
        import os, signal, sys
        from pathlib import Path
        from specgen.site.publish import publishing
        with publishing(Path(sys.argv[1])) as folder:
            (folder / "index.html").write_text("half")
            os.kill(os.getpid(), signal.SIGKILL)
    """
    command = [sys.executable, "-c", textwrap.dedent(script), str(old)]
    assert subprocess.run(command, check=False).returncode == -signal.SIGKILL
    assert read_folder(old) == before
    assert left_beside(old) == [".site.specgen"]
    put(old, "new")
    assert (old / "index.html").read_text() == "new"
    assert left_beside(old) == []


def test_an_old_site_moved_aside_by_a_killed_run_comes_back(old: Path) -> None:
    workshop = old.parent / ".site.specgen"
    workshop.mkdir()
    old.rename(workshop / "old")
    shutil.copytree(workshop / "old", workshop / "new")
    with pytest.raises(RuntimeError), publishing(old):  # noqa: PT012
        assert (old / "index.html").read_text() == "old"
        raise RuntimeError
    assert (old / "index.html").read_text() == "old"


def test_the_published_folder_keeps_its_permissions(old: Path) -> None:
    old.chmod(0o750)
    put(old, "new")
    assert old.stat().st_mode & 0o777 == 0o750


def test_a_reader_never_misses_the_site(old: Path) -> None:
    """The site is asked for without a pause while it is replaced thirty times."""
    script = """
        import sys
        from pathlib import Path
        from specgen.site.publish import publishing
        for number in range(30):
            with publishing(Path(sys.argv[1])) as folder:
                (folder / "index.html").write_text("x" * 5000)
    """
    command = [sys.executable, "-c", textwrap.dedent(script), str(old)]
    with subprocess.Popen(command) as publisher:
        asked = 0
        while publisher.poll() is None:
            text = (old / "index.html").read_text()
            assert text == "old" or len(text) == 5000
            asked += 1
    assert publisher.returncode == 0
    assert asked > 30
    assert left_beside(old) == []
