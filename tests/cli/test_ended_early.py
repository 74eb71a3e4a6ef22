"""Runs that are killed, and readers that leave: nothing of them stays behind."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from specgen.site.scratch import LOCK, clear_abandoned, scratch
from tests.cli.conftest import Run, written
from tests.cli.test_site_command import SMALL, content, tiny

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")

SLOW = """
import os, sys, time
from specgen.site import build_pages
quick = build_pages.build_page
def slow(shop, name):
    (shop.scratch / f"worker-{os.getpid()}").touch()
    time.sleep(20)
    return quick(shop, name)
build_pages.build_page = slow
from specgen.cli import main
sys.exit(main(sys.argv[1:]))
"""


@pytest.fixture
def busy(tmp_path: Path) -> Iterator[tuple[subprocess.Popen[bytes], Path]]:
    """A publishing whose two workers are busy for long; its folder for temporary things."""
    files = tiny()
    for number in range(6):
        files[f"configured/n{number}.yaml"] = files[SMALL].replace("lantern-small", f"n{number}")
    written(tmp_path / "builds", files)
    (tmp_path / "tmp").mkdir()
    (tmp_path / "public").mkdir()
    (tmp_path / "public/.specgen-site").touch()
    (tmp_path / "public/index.html").write_text("the site before")
    run = subprocess.Popen(
        [sys.executable, "-c", SLOW, "site", "--jobs", "2"],
        cwd=tmp_path,
        env={**os.environ, "TMPDIR": str(tmp_path / "tmp")},
        stderr=subprocess.PIPE,
    )
    try:
        until(lambda: len(workers(tmp_path / "tmp")) == 2)
        yield run, tmp_path
    finally:
        if run.poll() is None:
            run.kill()
        run.communicate()


def workers(folder: Path) -> list[int]:
    return [int(path.name.split("-")[1]) for path in folder.glob("specgen-*/files/worker-*")]


def until(holds: Callable[[], bool], seconds: float = 60) -> None:
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end
        time.sleep(0.05)


def alive(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    status = Path(f"/proc/{process}/stat")
    try:
        return status.read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return not Path("/proc/self").exists()


@pytest.mark.parametrize(
    ("number", "status"), [(signal.SIGTERM, 143), (signal.SIGINT, 130), (signal.SIGHUP, 129)]
)
def test_a_run_that_is_reported_to_end_clears_up(
    busy: tuple[subprocess.Popen[bytes], Path], number: signal.Signals, status: int
):
    run, place = busy
    started = workers(place / "tmp")
    run.send_signal(number)
    assert run.wait(60) == status
    assert run.stderr is not None
    assert b"Traceback" not in run.stderr.read()
    until(lambda: not any(map(alive, started)))
    assert list((place / "tmp").iterdir()) == []
    assert (place / "public/index.html").read_text() == "the site before"
    assert sorted(path.name for path in place.iterdir()) == ["builds", "public", "tmp"]


def test_workers_end_with_their_parent_and_the_next_run_clears_up(
    busy: tuple[subprocess.Popen[bytes], Path],
):
    run, place = busy
    started = workers(place / "tmp")
    run.kill()
    run.wait(60)
    until(lambda: not any(map(alive, started)))
    assert (place / "public/index.html").read_text() == "the site before"
    assert len(list((place / "tmp").iterdir())) == 1
    clear_abandoned(place / "tmp")
    assert list((place / "tmp").iterdir()) == []


def test_clearing_up_takes_only_what_is_ours_and_unused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    for name in ("specgen-old", "specgen-notes", "another"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "text").touch()
    (tmp_path / "specgen-old" / LOCK).touch()
    (tmp_path / "another" / LOCK).touch()
    (tmp_path / "specgen-link").symlink_to(tmp_path / "another")
    with scratch() as mine, scratch() as second:
        assert mine.is_dir()
        assert second.is_dir()
        left = {path.name for path in tmp_path.iterdir()}
        assert left == {"specgen-notes", "another", "specgen-link"} | {
            mine.parent.name,
            second.parent.name,
        }
    assert {path.name for path in tmp_path.iterdir()} == {
        "specgen-notes",
        "another",
        "specgen-link",
    }
    assert (tmp_path / "another/text").is_file()


def specgen(place: Path, *words: str, **more: object) -> subprocess.Popen[bytes]:
    return subprocess.Popen(  # type: ignore[call-overload,no-any-return]
        [sys.executable, "-m", "specgen", *words],
        cwd=place,
        stderr=subprocess.PIPE,
        **more,
    )


@pytest.mark.parametrize("words", [("facts", "lantern-full"), ("--help",)], ids=" ".join)
def test_a_reader_that_leaves_ends_it_quietly(here: Path, words: tuple[str, ...]):
    reading, writing = os.pipe()
    os.close(reading)
    run = specgen(here, *words, stdout=writing)
    os.close(writing)
    _, got = run.communicate()
    # 128 and SIGPIPE's number, as shells have it for programs that the signal ends
    assert (run.returncode, got) == (141, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device of Linux")
@pytest.mark.parametrize(
    "words", [("facts", "lantern-full"), ("check", "lantern-full"), ("sheet", "lantern-full")]
)
def test_a_full_disk_is_reported_plainly(here: Path, words: tuple[str, ...]):
    with Path("/dev/full").open("wb") as full:
        run = specgen(here, *words, stdout=full)
        _, got = run.communicate()
    assert run.returncode == 2
    assert got == b"Error: cannot write the output: No space left on device\n"


def test_a_file_cut_off_before_its_id_costs_no_published_page(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    written(tmp_path / "builds", tiny())
    monkeypatch.chdir(tmp_path)
    assert run("site", "-q").status == 0
    before = content(tmp_path / "public")
    for cut in ("id: [", "# nothing yet\n", "platform: lantern\n"):
        (tmp_path / "builds" / SMALL).write_text(cut)
        got = run("site", "-q")
        assert got.status == 1
        assert "error[SG" in got.err
        assert "nothing was published" in got.err
        assert "builds/lantern-small.html" in got.err
        assert content(tmp_path / "public") == before
