"""What leads out of a project is told and never read, whatever folder it lies in."""

import os
import re
import socket
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from specgen.cli import main
from specgen.document.prose.texts import read_texts
from specgen.document.shelf import templates_of
from specgen.files import gate
from specgen.files.gate import NotOpened, WhyNotOpened
from specgen.messages.catalogue import language_of, languages_for
from specgen.site.attachments import attachments
from specgen.source import NoProject, find_project, read_project
from tests.cli.conftest import written
from tests.cli.test_site_command import tiny
from tests.timing import NO_HANG, first, stopwatch

SECRET = "root-of-all-secrets"
PLACES = (
    "specgen.yaml",
    "kinds/x.yaml",
    "values/x.yaml",
    "catalog/x.yaml",
    "platforms/x.yaml",
    "configured/deep/x.yml",
    "pages/x.md",
    "pages/x.txt",
    "pages/x.svg",
    "prose/lantern/introduction.md",
    "templates/sheet.md",
    "templates/parts/x.md",
    "templates/texts/cautions.yaml",
    "translations/de.po",
)


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """The small project with few pages, which hands out no files."""
    written(tmp_path / "project", tiny())
    (tmp_path / "outside").mkdir()
    (tmp_path / "outside/secret").write_text(f"{SECRET}: [\n# {SECRET}\n", encoding="utf-8")
    return tmp_path / "project"


def put(project: Path, name: str, make: Callable[[Path], object]) -> None:
    path = project / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.unlink(missing_ok=True)
    make(path)


def told(project: Path) -> list[tuple[str, str]]:
    return [(each.code.id, each.at.span.file) for each in read_project(project).findings]


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("absolute", first(1, [True, False]))
def test_a_link_that_leads_out_is_told_and_never_read(
    project: Path, place: str, absolute: bool, capfd: pytest.CaptureFixture[str]
) -> None:
    secret = project.parent / "outside/secret"
    put(project, place, lambda path: path.symlink_to(secret if absolute else _way(path, secret)))
    assert ("SG106", place) in told(project)
    for words in (["check"], ["check", "--format", "sarif"], ["check", "--format", "json"]):
        assert main([*words, "--project", str(project)]) in (1, 2)
        said = "".join(capfd.readouterr())
        assert "SG106" in said
        assert SECRET not in said


def _way(path: Path, to: Path) -> str:
    return os.path.relpath(to, path.parent)


@pytest.mark.parametrize("folder", ["catalog", "pages", "prose", "templates", "prose/lantern"])
def test_a_folder_that_leads_out_is_told_and_never_read(project: Path, folder: str) -> None:
    outside = project.parent / "outside"
    for name in ("x.yaml", "x.md", "introduction.md", "sheet.md"):
        (outside / name).write_text(SECRET, encoding="utf-8")
    for path in sorted((project / folder).rglob("*"), reverse=True):
        path.rmdir() if path.is_dir() else path.unlink()
    if (project / folder).exists():
        (project / folder).rmdir()
    put(project, folder, lambda path: path.symlink_to(outside, target_is_directory=True))
    assert ("SG106", folder) in told(project)
    read = read_project(project)
    assert not [file for file in read.files if SECRET in file.text]
    assert not [text for text in read_texts(project)[0] if SECRET in text.text]
    assert attachments(project).contents == {}
    environment = templates_of(project).environment
    assert SECRET not in environment.loader.get_source(environment, "sheet.md")[0]


def test_nothing_behind_a_link_reaches_the_site(project: Path) -> None:
    secret = project.parent / "outside/secret"
    for place in PLACES[6:]:
        put(project, place, lambda path: path.symlink_to(secret))
    site = project.parent / "site"
    assert main(["site", "-q", "--project", str(project), "-o", str(site)]) == 1
    for path in site.rglob("*"):
        assert path.is_dir() or SECRET.encode() not in path.read_bytes(), path


def test_a_link_to_its_own_folder_ends_at_once(project: Path) -> None:
    for folder in ("pages", "prose/lantern", "templates", "catalog"):
        put(project, f"{folder}/again", lambda path: path.symlink_to("."))
        put(project, f"{folder}/up", lambda path: path.symlink_to(".."))
    put(project, "pages/self.md", lambda path: path.symlink_to("self.md"))
    used = stopwatch()
    found = told(project)
    assert used() < NO_HANG
    assert found.count(("SG100", "pages/again")) == 1
    assert ("SG100", "catalog/up") in found
    assert ("SG100", "pages/self.md") in found
    site = project.parent / "site"
    assert main(["site", "-q", "--project", str(project), "-o", str(site)]) == 1
    assert not list(site.rglob("again*"))


def test_a_link_within_the_project_is_read_unless_it_leads_to_something_hidden(
    project: Path,
) -> None:
    put(project, "pages/a.md", lambda path: path.write_text("# A\n", encoding="utf-8"))
    put(project, "pages/b.md", lambda path: path.symlink_to("a.md"))
    put(project, ".git/config", lambda path: path.write_text(SECRET, encoding="utf-8"))
    put(project, "pages/c.md", lambda path: path.symlink_to("../.git/config"))
    assert told(project) == [("SG106", "pages/c.md")]
    assert [text.file for text in read_texts(project)[0]] == ["pages/a.md", "pages/b.md"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes in folders")
@pytest.mark.parametrize("name", ["catalog/x.yaml", "pages/x.md", "prose/lantern/x.md", "pages/x"])
def test_what_is_no_file_is_told_and_not_waited_for(project: Path, name: str) -> None:
    put(project, name, os.mkfifo)
    assert told(project) == [("SG100", name)]
    (project / name).unlink()
    with socket.socket(socket.AF_UNIX) as listening:
        here = Path.cwd()
        os.chdir((project / name).parent)  # a socket's path may have a hundred letters
        try:
            listening.bind(Path(name).name)
        finally:
            os.chdir(here)
        assert told(project) == [("SG100", name)]


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="this system has no such device")
def test_a_device_is_told_and_never_read(project: Path) -> None:
    put(project, "pages/x.md", lambda path: path.symlink_to("/dev/zero"))
    assert told(project) == [("SG106", "pages/x.md")]
    if hasattr(os, "mknod"):
        try:
            put(
                project, "pages/x.md", lambda p: os.mknod(p, stat.S_IFCHR | 0o600, os.makedev(1, 5))
            )
        except PermissionError:
            return
        assert told(project) == [("SG100", "pages/x.md")]


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="all is open to root")
def test_a_folder_that_may_not_be_read_is_told(project: Path) -> None:
    (project / "pages").mkdir()
    (project / "pages").chmod(0)
    assert told(project) == [("SG100", "pages")]


def test_a_folder_that_cannot_be_read_is_told(
    project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (project / "pages/deep").mkdir(parents=True)
    scan = os.scandir

    def deny(path: Path) -> object:
        if path == project / "pages/deep":
            raise PermissionError(13, "Permission denied")
        return scan(path)

    monkeypatch.setattr(gate.os, "scandir", deny)
    (found,) = read_project(project).findings
    assert (found.code.id, found.at.span.file) == ("SG100", "pages/deep")
    assert "permission" in str(found.message)


def test_a_name_that_cannot_be_shown_is_told(
    project: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    (project / "pages").mkdir()
    taken = 0
    for name in (
        b"a\nb.md", b"a\xe2\x80\xaeb.md", b"a\xff.md", b"a\x1b]0;x.md", b"a\\b.md", b"\x7f.md"
    ):  # fmt: skip
        try:
            (project / "pages" / os.fsdecode(name)).write_bytes(b"# A\n")
        except OSError:
            continue  # this file system takes no such name
        taken += 1
        found = told(project)
        assert len({file for _, file in found}) == taken, name
        for code, file in found:
            assert code == "SG100"
            assert file.isascii()
            assert "\n" not in file
    if not taken:
        pytest.skip("this file system takes no such name")
    for form in ("text", "json", "sarif"):
        assert main(["check", "--format", form, "--project", str(project)]) == 1
    said = "".join(capfd.readouterr())
    assert not re.search("[\x1b\x7f\u202e\ufffd]", said)
    assert main(["site", "-q", "--project", str(project), "-o", str(project.parent / "s")]) == 1


def test_a_huge_file_is_told_and_not_held(project: Path) -> None:
    for name in ("catalog/x.yaml", "pages/x.pdf", "pages/x.md"):
        put(project, name, lambda path: path.touch())
        with (project / name).open("r+b") as file:
            file.truncate(gate.LARGEST + 1)
    assert ("SG100", "catalog/x.yaml") in told(project)
    texts, found = read_texts(project)
    assert not texts
    assert [each.code.id for each in found] == ["SG100"]
    assert [each.code.id for each in attachments(project).findings] == ["SG100"]


def test_the_builds_of_nobody_are_no_project(tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere/specgen.yaml").write_text("title: A\n")
    (tmp_path / "here").mkdir()
    (tmp_path / "here/builds").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    with pytest.raises(NoProject):
        find_project(None, tmp_path / "here")
    named = find_project(str(tmp_path / "here/builds"))  # who runs the program may say so
    assert named == (tmp_path / "elsewhere").resolve()


def test_new_files_are_not_written_through_links(project: Path) -> None:
    for path in (project / "catalog").iterdir():
        path.unlink()
    (project / "catalog").rmdir()
    (project / "catalog").symlink_to(project.parent / "outside", target_is_directory=True)
    assert main(["new", "part", "y", "--kind", "fan", "--project", str(project)]) == 2
    assert [path.name for path in (project.parent / "outside").iterdir()] == ["secret"]


@pytest.mark.parametrize("tag", ["../../outside/secret", "/etc/passwd", "de/../../x", "x\0y"])
def test_a_language_is_no_path(project: Path, tag: str) -> None:
    (project / "translations").mkdir(parents=True)
    (project.parent / "outside/secret.po").write_text('msgid "a"\nmsgstr "b"\n', encoding="utf-8")
    assert language_of(tag, project).text("a") == "a"
    assert tag not in languages_for(project)


def test_what_is_read_is_what_was_judged(project: Path) -> None:
    put(project, "pages/a.md", lambda path: path.symlink_to("/etc/passwd"))
    with pytest.raises(NotOpened) as caught:
        gate.read(project, project / "pages/a.md")
    assert caught.value.reason is WhyNotOpened.OUTSIDE
    assert not gate.is_file(project, project / "pages/a.md")
    with pytest.raises(NotOpened):
        gate.read(project, project / "pages/../../outside/secret")
