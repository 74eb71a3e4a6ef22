"""A project is found from anywhere in it, and every file of it is read whatever the others hold."""

import pytest

from specgen.source import NoProject, find_project, read_project


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "specgen.yaml").write_text("title: A\n")
    (tmp_path / "catalog" / "deep").mkdir(parents=True)
    (tmp_path / "catalog" / "b.yaml").write_text("id: b\n")
    (tmp_path / "catalog" / "deep" / "a.yml").write_text("id: a\n")
    (tmp_path / "catalog" / "notes.txt").write_text("not read")
    return tmp_path


def test_files_are_read_in_the_order_of_their_names(folder):
    read = read_project(folder)
    assert [file.name for file in read.files] == [
        "specgen.yaml",
        "catalog/b.yaml",
        "catalog/deep/a.yml",
    ]
    assert read.findings == ()
    assert [file.folder for file in read.files] == ["", "catalog", "catalog"]


def test_hidden_files_and_folders_are_not_read(folder):
    (folder / "catalog" / ".saved").mkdir()
    (folder / "catalog" / ".saved" / "x.yaml").write_text("id: x\n")
    (folder / "catalog" / ".y.yaml").write_text("id: y\n")
    assert len(read_project(folder).files) == 3


def test_a_file_that_cannot_be_read_does_not_stop_the_others(folder):
    (folder / "catalog" / "b.yaml").write_bytes(b"\xff")
    read = read_project(folder)
    assert [finding.code.id for finding in read.findings] == ["SG100"]
    assert len(read.files) == 3


def test_a_byte_order_mark_and_foreign_line_ends_are_no_text(folder):
    (folder / "catalog" / "b.yaml").write_bytes("\ufeffid: b\r\nname: x\r\n".encode())
    file = read_project(folder).files[1]
    assert file.text == "id: b\nname: x\n"


def test_a_project_is_found_from_a_folder_inside_it(folder):
    assert find_project(None, folder / "catalog" / "deep") == folder.resolve()


def test_a_project_is_found_in_builds(folder, tmp_path_factory):
    outside = tmp_path_factory.mktemp("outside")
    (outside / "builds").mkdir()
    (outside / "builds" / "specgen.yaml").write_text("title: A\n")
    assert find_project(None, outside) == (outside / "builds").resolve()


def test_a_project_may_be_named_by_its_file(folder):
    assert find_project(str(folder / "specgen.yaml")) == folder.resolve()


def test_a_folder_without_a_project_says_so(tmp_path):
    with pytest.raises(NoProject) as caught:
        find_project(str(tmp_path))
    assert caught.value.help
    with pytest.raises(NoProject):
        find_project(None, tmp_path)


def test_a_misspelt_folder_is_guessed(tmp_path):
    (tmp_path / "builds").mkdir()
    with pytest.raises(NoProject) as caught:
        find_project(str(tmp_path / "buidls"))
    assert "`builds`" in str(caught.value.help)
