"""A file is written whole or not at all."""

from pathlib import Path

import pytest

from specgen.files.whole import keep, write_whole


def test_the_old_file_stays_where_writing_is_stopped(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    file = tmp_path / "sheet.pdf"
    write_whole(file, b"old")

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "replace", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_whole(file, b"new")
    assert file.read_bytes() == b"old"
    assert [each.name for each in tmp_path.iterdir()] == ["sheet.pdf"]


def test_a_file_takes_the_place_of_the_old_one(tmp_path: Path):
    file = tmp_path / "sheet.pdf"
    file.write_bytes(b"old")
    write_whole(file, b"new")
    assert file.read_bytes() == b"new"
    assert [each.name for each in tmp_path.iterdir()] == ["sheet.pdf"]


def test_a_cache_that_cannot_be_written_is_no_error(tmp_path: Path):
    (tmp_path / "cache").write_text("a file where a folder should be")
    keep(tmp_path / "cache" / "entry", b"content")
    keep(tmp_path / "made" / "entry", b"content")
    assert (tmp_path / "made" / "entry").read_bytes() == b"content"
