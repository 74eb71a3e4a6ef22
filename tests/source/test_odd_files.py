"""What lies in a project's folders and is no text file."""

import os
from pathlib import Path

import pytest

from specgen.source import read_project


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes in folders")
def test_a_pipe_is_reported_of_and_not_waited_for(tmp_path: Path) -> None:
    (tmp_path / "specgen.yaml").write_text("title: t\n", encoding="utf-8")
    (tmp_path / "catalog").mkdir()
    os.mkfifo(tmp_path / "catalog" / "pipe.yaml")
    findings = read_project(tmp_path).findings
    assert [finding.code.id for finding in findings] == ["SG100"]


def test_a_link_that_leads_nowhere_is_reported_of(tmp_path: Path) -> None:
    (tmp_path / "specgen.yaml").write_text("title: t\n", encoding="utf-8")
    (tmp_path / "catalog").mkdir()
    (tmp_path / "catalog" / "gone.yaml").symlink_to("nowhere.yaml")
    (finding,) = read_project(tmp_path).findings
    assert finding.code.id == "SG100"
    assert "permissions" not in str(finding.help)
