"""Runs that are killed, and readers that leave: nothing of them stays behind."""

import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from specgen.files.locks import Lock
from specgen.files.scratch import clear_abandoned, scratch
from specgen.files.whole import keep, write_whole
from specgen.site.others_files import mark
from specgen.site.publish import publishing
from tests.cli.conftest import Run, written
from tests.cli.test_site_command import SMALL, content, tiny
from tests.projects import base
from tests.timing import NO_HANG, first

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")

SLOW = """
import os, sys, time
from specgen.site import build_pages
quick = build_pages.build_page
def slow(shop, name):
    (shop.scratch / f"worker-{os.getpid()}").touch()
    time.sleep(600)
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
    (tmp_path / "public/index.html").write_text("the site before")
    mark(tmp_path / "public")
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
    return [int(path.name.split("-")[1]) for path in folder.glob("specgen-run-*/worker-*")]


def until(holds: Callable[[], bool], seconds: float = NO_HANG) -> None:
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


@pytest.mark.parametrize("number", first(1, (signal.SIGTERM, signal.SIGINT, signal.SIGHUP)))
def test_a_run_that_is_reported_to_end_clears_up(
    busy: tuple[subprocess.Popen[bytes], Path], number: signal.Signals
):
    run, place = busy
    started = workers(place / "tmp")
    run.send_signal(number)
    assert run.wait(NO_HANG) == 128 + number
    assert run.stderr is not None
    assert b"Traceback" not in run.stderr.read()
    until(lambda: not any(map(alive, started)))
    assert list((place / "tmp").iterdir()) == []
    assert (place / "public/index.html").read_text() == "the site before"
    assert sorted(path.name for path in place.iterdir()) == ["builds", "public", "tmp"]


def test_an_interrupt_after_a_run_of_the_solver_reaches_us():
    """The solver would else leave the process to be ended by it, with nothing cleared up."""
    code = """
import signal
from specgen.limits.solver import Logic, run
logic = Logic()
run(logic, logic.model)
try:
    signal.raise_signal(signal.SIGINT)
except KeyboardInterrupt:
    print("ours")
"""
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, timeout=NO_HANG)
    assert (run.returncode, run.stdout) == (0, b"ours\n")


def test_workers_end_with_their_parent_and_the_next_run_clears_up(
    busy: tuple[subprocess.Popen[bytes], Path],
):
    run, place = busy
    started = workers(place / "tmp")
    run.kill()
    run.wait(NO_HANG)
    until(lambda: not any(map(alive, started)))
    assert (place / "public/index.html").read_text() == "the site before"
    assert len(list((place / "tmp").iterdir())) == 2  # a folder and its lock

    def cleared() -> bool:  # a second thread of a process may hold its files a little longer
        clear_abandoned(place / "tmp")
        return list((place / "tmp").iterdir()) == []

    until(cleared)


LIMITS = """
import os, sys, time
from pathlib import Path
from specgen.limits import limit_tables
def slow(*_, **__):
    Path(f"busy-{os.getpid()}").touch()
    time.sleep(600)
limit_tables.limit_of = slow
from specgen.cli import main
sys.exit(main(sys.argv[1:]))
"""


@pytest.mark.slow
def test_workers_that_solve_end_with_their_parent(tmp_path: Path):
    written(tmp_path / "builds", tiny())
    environment = {**os.environ, "TMPDIR": str(tmp_path), "SPECGEN_CACHE": ""}
    command = [sys.executable, "-c", LIMITS, "site", "--jobs", "2"]
    run = subprocess.Popen(command, cwd=tmp_path, env=environment, stderr=subprocess.DEVNULL)
    try:
        until(lambda: len(list(tmp_path.glob("busy-*"))) == 2)
    finally:
        run.kill()
        run.wait(NO_HANG)
    started = [int(path.name.split("-")[1]) for path in tmp_path.glob("busy-*")]
    assert run.pid not in started
    until(lambda: not any(map(alive, started)))


def test_a_worker_whose_parent_s_end_no_kernel_tells_ends_by_its_pipe(tmp_path: Path):
    code = """
import os, sys, time
from pathlib import Path
from specgen import workers
workers._end_by_kernel = lambda parent: None
def work(_):
    Path(f"busy-{os.getpid()}").touch()
    time.sleep(600)
with workers.workers(3, workers.processes(forking=True)) as pool:
    list(pool.map(work, range(3)))
"""
    run = subprocess.Popen([sys.executable, "-c", code], cwd=tmp_path)
    until(lambda: len(list(tmp_path.glob("busy-*"))) == 3)
    run.kill()
    run.wait(NO_HANG)
    started = [int(path.name.split("-")[1]) for path in tmp_path.glob("busy-*")]
    until(lambda: not any(map(alive, started)))


def test_clearing_up_takes_only_what_is_ours_and_unused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    left, linked = "specgen-run-0123456789abcdef", "specgen-run-fedcba9876543210"
    theirs = {"specgen-notes", "another", "specgen-run-notes", "specgen-run-notes.lock"}
    for name in (left, "specgen-notes", "another", "specgen-run-notes"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "text").touch()
    (tmp_path / f"{left}.lock").touch()
    (tmp_path / "specgen-run-notes.lock").touch()
    (tmp_path / linked).symlink_to(tmp_path / "another")
    (tmp_path / f"{linked}.lock").symlink_to(tmp_path / "another/text")
    theirs |= {linked, f"{linked}.lock"}
    live = "specgen-run-00112233445566ff"
    (tmp_path / live).mkdir()
    held = Lock(tmp_path / f"{live}.lock")  # another run's
    theirs |= {live, f"{live}.lock"}
    with scratch() as mine, scratch() as second:
        assert mine.is_dir()
        assert second.parent == mine, "within the first, as whatever a library makes"
        assert Path(tempfile.mkdtemp()).parent == mine
        there = {path.name for path in tmp_path.iterdir()}
        assert there == theirs | {mine.name, f"{mine.name}.lock"}
    assert {path.name for path in tmp_path.iterdir()} == theirs
    assert (tmp_path / "another/text").is_file()
    held.release()


MOMENTS = {"open", "os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link", "os.chmod"}


def working(place: Path, moment: int) -> int:
    """In a process that ends itself before the n-th thing that it asks of the disk."""
    process = os.fork()
    if process:
        return os.waitstatus_to_exitcode(os.waitpid(process, 0)[1])
    left = [moment]

    def hook(event: str, _: object) -> None:
        if event in MOMENTS:
            left[0] -= 1
            if left[0] < 0:
                os.kill(os.getpid(), signal.SIGKILL)

    try:
        os.chdir(place)
        os.environ["TMPDIR"], tempfile.tempdir = str(place / "tmp"), None
        sys.addaudithook(hook)
        with scratch() as folder:
            (folder / "half").write_text("half")
            keep(Path("cache/entry"), b"new")
            write_whole(Path("sheet.html"), b"new")
            with publishing(Path("site")) as staged:
                (staged / "index.html").write_text("new")
        os._exit(0)
    finally:
        os._exit(1)


def test_whatever_moment_a_run_is_killed_at_the_next_clears_up(tmp_path: Path):
    """Before each single thing that it asks of the disk: nothing is half, nothing stays."""

    def there() -> set[str]:
        return {path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*")}

    (tmp_path / "tmp").mkdir()
    assert working(tmp_path, 10_000) == 0
    whole = there()
    assert whole == {"tmp", "cache", "cache/entry", "sheet.html", "site", "site/index.html",
                     "site/.specgen-site"}  # fmt: skip
    (tmp_path / "site/CNAME").write_text("specs.example")
    for moment in range(200):
        (tmp_path / "sheet.html").write_text("old")
        (tmp_path / "site/index.html").write_text("old")
        ended = working(tmp_path, moment)
        assert ended in (0, -signal.SIGKILL)
        for file in ("sheet.html", "site/index.html"):
            assert (tmp_path / file).read_text() in ("old", "new")
        assert (tmp_path / "site/CNAME").read_text() == "specs.example"
        assert (tmp_path / "site/.specgen-site").is_file()
        assert (tmp_path / "cache/entry").read_bytes() == b"new"
        if ended == 0:
            break
        if moment % 5 == 0:  # what several killed runs have left, too
            assert working(tmp_path, 10_000) == 0
            assert there() == whole | {"site/CNAME"}
    assert moment > 15
    assert ended == 0
    assert there() == whole | {"site/CNAME"}


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
    "words",
    first(2, (("facts", "lantern-full"), ("check", "lantern-full"), ("sheet", "lantern-full"))),
)
def test_a_full_disk_is_reported_plainly(here: Path, words: tuple[str, ...]):
    with Path("/dev/full").open("wb") as full:
        run = specgen(here, *words, stdout=full)
        _, got = run.communicate()
    assert run.returncode == 2
    assert got == b"Error: cannot write the output: No space left on device\n"


CLOSED = [
    (">&-", ("check",), 2), (">&-", ("check", "--format", "sarif"), 2), (">&-", ("--help",), 2),
    (">&-", ("sheet", "lantern-full"), 2), (">&-", ("site", "-q"), 0), (">&-", ("facts", "no"), 2),
    ("2>&-", ("check",), 0), ("2>&-", ("facts", "no"), 2), ("2>&-", ("sheet", "lantern-full"), 0),
    ("2>&-", ("site",), 0), ("<&-", ("check",), 0), (">&- 2>&- <&-", ("check",), 2),
    (">&- 2>&- <&-", ("site", "-q", "--jobs", "2"), 0),
    ("2>/dev/full", ("check",), 0), ("2>/dev/full", ("facts", "no"), 2),
    (">/dev/full 2>/dev/full", ("check",), 2), ("| true", ("facts", "lantern-full"), 0),
]  # fmt: skip


@pytest.mark.parametrize("case", first(4, CLOSED), ids=str)
def test_closed_streams_are_told_plainly_where_they_are_missed(
    tmp_path: Path, case: tuple[str, tuple[str, ...], int]
):
    """A stream that is closed, or takes nothing: no fault of ours, and no file takes its number."""
    closed, words, status = case
    written(tmp_path / "builds", base() if "lantern-full" in words else tiny())
    command = [sys.executable, "-m", "specgen", *words]
    done = subprocess.run(
        ["sh", "-c", f'"$@" {closed}', "sh", *command], cwd=tmp_path, capture_output=True
    )
    assert done.returncode == status, done.stderr
    assert b"itself went wrong" not in done.stderr
    assert b"Traceback" not in done.stderr + done.stdout
    if status and "2>" not in closed and "no" not in words:
        assert b"cannot write the output" in done.stderr
    if words[0] == "site":
        assert (tmp_path / "public/index.html").read_text().startswith("<!DOCTYPE html>")
    left = {path.name for path in tmp_path.iterdir()} - {"builds", "public"}
    assert left == set()


@pytest.mark.slow
def test_a_fault_of_ours_keeps_its_status_where_nobody_can_be_told(tmp_path: Path):
    written(tmp_path / "builds", tiny())
    code = """
import sys
from specgen import pipeline
from specgen.cli import main
def went_wrong(*_):
    raise ValueError("no room")
pipeline.judge = went_wrong
sys.exit(main(["check"]))
"""
    environment = {**os.environ, "TMPDIR": str(tmp_path)}
    for closed in ("2>&-", "2>/dev/full", ">/dev/full", ">&- 2>&-"):
        command = ["sh", "-c", f'"$@" {closed}', "sh", sys.executable, "-c", code]
        done = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True)
        assert done.returncode == 3, (closed, done.stderr)
        assert b"Traceback" not in done.stderr + done.stdout


WORDS = [
    ("check",), ("facts", "lantern-full"), ("site", "-q"), ("sheet", "lantern-full", "-o", "a"),
    ("schema", "out"), ("limits", "lantern"), ("data", "lantern-full"), ("new", "build", "x"),
]  # fmt: skip


@pytest.mark.parametrize("words", WORDS, ids=" ".join)
def test_a_deleted_working_folder_is_named(
    here: Path, run: Run, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
):
    (here / "gone").mkdir()
    monkeypatch.chdir(here / "gone")
    (here / "gone").rmdir()
    for project in ((), ("--project", here / "builds")):
        got = run(*words, *project)
        assert got.status == 2
        assert got.err == (
            "Error: the folder that this runs in is gone: change to one that exists\n"
        )


@pytest.mark.slow
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
