"""Publishing that is killed at any moment, on a disk that fails, by two at once: the site is whole.

`SPECGEN_FAULTS=200` tries so many; all are slow, since each publishes several times (in every run
`test_ended_early.py` kills at each thing that is asked of the disk). Each is made from its number
alone. What holds after every one:

- the published site is the old one or the new one, file by file, with what others put there;
- nothing of the project is touched;
- no process of the run is alive;
- the next run publishes the new site and leaves nothing else: beside it, in the folder for
  temporary things, in the cache.
"""

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.cli.conftest import written
from tests.cli.test_site_command import content, tiny
from tests.timing import NO_HANG

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="looks for processes in /proc")

FAULTS = int(os.environ.get("SPECGEN_FAULTS", "12"))
OTHERS = {"CNAME": "specs.example", ".git/HEAD": "ref: refs/heads/pages", "parts/notes.txt": "dear"}


@dataclass(frozen=True)
class Sites:
    """An old and a new project, what they are published as, and how long that takes."""

    old: Path
    new: Path
    site: Path
    before: dict[str, str]
    after: dict[str, str]
    cache: Path
    seconds: float


def files_of(title: str) -> dict[str, str]:
    files = tiny("[pdf, csv, json, redfish, xlsx]")
    files["specgen.yaml"] = files["specgen.yaml"].replace("Servers for a coast", title)
    files["pages/hand.md"] = "# By hand\n\nDear.\n"
    small = "configured/lantern-small.yaml"
    files["configured/n1.yaml"] = files[small].replace("lantern-small", "n1")
    return files


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> Sites:
    home = tmp_path_factory.mktemp("sites")
    old, new = written(home / "old", files_of("Old")), written(home / "new", files_of("New"))
    (home / "tmp").mkdir()
    published(old, home / "one", home)
    began = time.monotonic()
    published(new, home / "two", home)
    seconds = time.monotonic() - began
    one, two = content(home / "one"), content(home / "two")
    return Sites(old, new, home / "one", one, two, home / "cache", seconds)


def command(project: Path, target: Path, jobs: int = 2) -> list[str]:
    words = ["site", "--project", str(project), "-o", str(target), "--jobs", str(jobs)]
    return [sys.executable, "-m", "specgen", *words]


def surroundings(home: Path) -> dict[str, str]:
    names = {"TMPDIR": str(home / "tmp"), "SPECGEN_CACHE": str(home / "cache")}
    return {**os.environ, **names, "SPECGEN_TEST_RUN": str(home)}


def published(project: Path, target: Path, home: Path) -> None:
    done = subprocess.run(
        command(project, target), env=surroundings(home), capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr


def running(home: Path) -> list[int]:
    """The processes of a run that are alive."""
    mark = f"SPECGEN_TEST_RUN={home}\0".encode()
    found = []
    for process in Path("/proc").glob("[0-9]*"):
        try:
            if mark in (process / "environ").read_bytes() + b"\0":
                state = (process / "stat").read_text().rsplit(")", 1)[1].split()[0]
                found += [int(process.name)] if state != "Z" else []
        except OSError:
            continue
    return found


Fault = Callable[[Sites, Path, random.Random], str]
AIMED = Path(__file__).parent / "aimed"


AIMS: dict[str, tuple[tuple[str, int], ...]] = {
    "reading": (("specgen.source.yaml_tree:read_tree", 11),),
    "limits": (("specgen.limits.limit_tables:table_of", 1),
               ("specgen.limits.limit_tables:_one", 3)),
    "pages": (("specgen.write.html:page", 8), ("specgen.document.compose:compose", 8)),
    "PDFs": (("specgen.write.pdf:compiled", 2),),
    "data": (("specgen.write.redfish:text", 1), ("specgen.write.xlsx:workbook", 1)),
    "shell and search": (("specgen.site.assemble:write_site", 1),
                         ("specgen.site.assemble:_write_search", 1)),
    "what others put there": (("specgen.site.others_files:mark", 1),
                              ("specgen.site.others_files:_link", 3)),
    "swapping": (("specgen.site.publish:_swap", 1), ("specgen.site.folder_swap:exchange", 1)),
    "clearing": (("specgen.site.publish:_sweep", 2), ("specgen.files.scratch:clear_abandoned", 1)),
}  # fmt: skip
"""What is called in each phase of a run, and how often at most it is waited for."""
AT_THE_END = ("swapping", "clearing")


def killed(sites: Sites, home: Path, chance: random.Random, phase: str = "") -> str:
    """Killed within a phase, alone or with all its processes; says in which."""
    phase = phase or chance.choice([*AIMS])
    whom = chance.choice(("alone", "all"))
    function, most = chance.choice(AIMS[phase])
    # at once, or somewhat later: what is long is hit within, what is short at its seams
    later = chance.choice((0.0, 0.0, chance.uniform(0, 0.05) * sites.seconds))
    later = 0.0 if phase in AT_THE_END else later
    aim = f"{function}:{chance.randint(1, most)}:{later:.6f}:{whom}"
    with (home / "err").open("wb") as err:
        run = subprocess.Popen(
            command(sites.new, home / "site"),
            env={**surroundings(home), "PYTHONPATH": str(AIMED), "SPECGEN_TEST_AIM": aim},
            stdout=subprocess.DEVNULL,
            stderr=err,
            start_new_session=True,
        )
        status = run.wait(NO_HANG)
    assert status in (0, -signal.SIGKILL), (home / "err").read_text()
    (home / "err").unlink()
    if status == 0:  # what is kept of limits, say, leaves nothing to do in the phase
        (home / "hit").unlink(missing_ok=True)
        return f"ended before: {phase}"
    (home / "hit").unlink()
    return f"killed {'with all' if whom == 'all' else 'alone'}: {phase}"


def two_at_once(sites: Sites, home: Path, chance: random.Random) -> str:
    runs = []
    for project in (sites.new, sites.old):
        runs.append(
            subprocess.Popen(
                command(project, home / "site", 1),
                env=surroundings(home),
                stdout=subprocess.DEVNULL,
                stderr=subprocess.PIPE,
            )
        )
        time.sleep(chance.uniform(0, 1) * sites.seconds)
    for run in runs:
        _, err = run.communicate()
        assert run.returncode == 0 or b"another run is publishing" in err, err.decode()
        assert b"Traceback" not in err
    return "two at once"


def failing(home: Path, words: list[str], limits: str, wanted: tuple[bytes, ...]) -> None:
    done = subprocess.run(["sh", "-c", f"{limits}; exec \"$@\"", "sh", *words],
                          env=surroundings(home), capture_output=True)  # fmt: skip
    assert done.returncode in (0, 1, 2), done.stderr.decode()
    assert b"Traceback" not in done.stderr
    assert done.returncode == 0 or any(each in done.stderr for each in wanted), done.stderr


def files_too_large(sites: Sites, home: Path, chance: random.Random) -> str:
    blocks = chance.choice((0, 1, 8, 64, 200))
    failing(home, command(sites.new, home / "site"), f"ulimit -f {blocks}", (b"File too large",))
    return "no more room in files"


def _mounting(
    home: Path, mount: str, words: list[str], wanted: tuple[bytes, ...], after: str = "true"
) -> bool:
    """With something mounted for this run alone, where the system lets us."""
    if subprocess.run(["unshare", "-rm", "true"], capture_output=True).returncode:
        return False
    script = f'{mount} || exit 77; "$@"; status=$?; {after} || exit 77; exit $status'
    done = subprocess.run(
        ["unshare", "-rm", "sh", "-c", script, "sh", *words],
        env=surroundings(home),
        capture_output=True,
    )
    assert done.returncode in (0, 2), done.stderr.decode()
    assert b"Traceback" not in done.stderr
    assert done.returncode == 0 or any(each in done.stderr for each in wanted), done.stderr
    return True


def size_of(folder: Path) -> int:
    """In kilobytes, as blocks of 4 of them hold it."""
    return sum(-(-each.lstat().st_size // 4096) * 4 + 4 for each in folder.rglob("*"))


def full_disk(sites: Sites, home: Path, chance: random.Random) -> str:
    """The disk of temporary things, or that of the site, has so much room and no more."""
    share, size = chance.uniform(0, 1.3), size_of(home / "site")
    words, wanted = command(sites.new, home / "site"), (b"No space left",)
    if chance.random() < 0.5:
        mount = f"mount -t tmpfs -o size={16 + int(share * size)}k none {home}/tmp"
        return "full disk" if _mounting(home, mount, words, wanted) else "cannot mount"
    disk, seen = home / "disk", home / "seen"
    disk.mkdir()
    mount = f"mount -t tmpfs -o size={int((1.3 + share) * size)}k none {disk}"
    mount += f" && cp -a {home}/site {disk}/site"
    after = f"cp -a {disk} {seen}"
    tried = _mounting(home, mount, command(sites.new, disk / "site"), wanted, after)
    if tried:
        assert ours(seen / "site") in (sites.before, sites.after)
        assert [each.name for each in seen.iterdir()] == ["site"]
        shutil.rmtree(seen)
    disk.rmdir()
    return "full disk" if tried else "cannot mount"


def read_only(sites: Sites, home: Path, chance: random.Random) -> str:
    place = home / chance.choice(("tmp", "site", "."))
    mount = f"mount --bind {place} {place} && mount -o remount,ro,bind {place}"
    wanted = (b"Read-only file system", b"Device or resource busy", b"No usable temporary")
    tried = _mounting(home, mount, command(sites.new, home / "site"), wanted)
    return "read-only" if tried else "cannot mount"


def spoilt_cache(sites: Sites, home: Path, chance: random.Random) -> str:
    """Entries cut short, changed, of other content; and the clock is set back a year."""
    for path in sorted((home / "cache").rglob("*")):
        if path.is_file():
            whole = path.read_bytes()
            path.write_bytes(
                chance.choice((whole[: chance.randrange(len(whole) + 1)], b"", b"\xff\0[{", whole))
            )
    later = time.time() + 366 * 24 * 3600
    for folder in ("cache", "site", "tmp"):
        for path in (home / folder).rglob("*"):
            os.utime(path, (later, later))
    return f"{killed(sites, home, chance)}, cache spoilt"


KINDS: tuple[Fault, ...] = (
    *(killed,) * 10, spoilt_cache, spoilt_cache, two_at_once, files_too_large, full_disk, read_only,
)  # fmt: skip
FIRST: tuple[Fault, ...] = (spoilt_cache, full_disk)
"""What the first are."""

TOLD: Counter[str] = Counter()


@pytest.fixture(scope="module", autouse=True)
def _counted() -> Iterator[None]:
    yield
    for what, times in sorted(TOLD.items()):
        sys.stderr.write(f"{times:5} {what}\n")


@pytest.mark.slow
@pytest.mark.parametrize("number", range(FAULTS))
def test_the_published_site_is_whole_whatever_happens(sites: Sites, tmp_path: Path, number: int):
    chance = random.Random(number)
    fault = FIRST[number] if number < len(FIRST) else chance.choice(KINDS)
    home = tmp_path
    (home / "tmp").mkdir()
    if chance.random() < 0.5:  # else limits are proved first
        shutil.copytree(sites.cache, home / "cache")
    shutil.copytree(sites.site, home / "site")
    for name, text in OTHERS.items():
        (home / "site" / name).parent.mkdir(parents=True, exist_ok=True)
        (home / "site" / name).write_text(text)
    by_hand = (content(sites.old), content(sites.new))
    # What the next run finds may be left by several.
    for turn in range(chance.choice((1, 2, 4, 8)) if number else 1):
        if fault is killed:
            phase = [*AIMS][(number + 4 * turn) % len(AIMS)]
            TOLD[killed(sites, home, chance, phase)] += 1
        else:
            TOLD[fault(sites, home, chance)] += 1
        end = time.monotonic() + NO_HANG
        while running(home) and time.monotonic() < end:
            time.sleep(0.05)
        assert running(home) == []
        assert ours(home / "site") in (sites.before, sites.after)
        assert (content(sites.old), content(sites.new)) == by_hand

    published(sites.new, home / "site", home)
    assert ours(home / "site") == sites.after
    assert sorted(each.name for each in home.iterdir()) == ["cache", "site", "tmp"]
    assert list((home / "tmp").iterdir()) == []
    assert [each for each in (home / "cache").iterdir() if each.name.startswith(".")] == []


def ours(site: Path) -> dict[str, str]:
    """What is published, less what others have put there, which has to be there as it was."""
    for name, text in OTHERS.items():
        assert (site / name).read_text() == text
    return {name: digest for name, digest in content(site).items() if name not in OTHERS}
