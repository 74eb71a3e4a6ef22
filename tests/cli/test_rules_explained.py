"""`specgen explain` with the code of a declared rule."""

from tests.cli.conftest import Run, written
from tests.declared.ruled import one, with_rules


def test_a_rule_is_reported_in_words_with_its_reason_and_its_place(run: Run, tmp_path):
    rule = one(require="drives.count <= 8", because="The cage is small")
    written(tmp_path, with_rules(rule))
    ran = run("explain", "QW-1", "--project", tmp_path)
    assert ran.status == 0
    got, because, place = ran.out.strip().split("\n\n")
    assert got == "QW-1 (error): Up to eight drives may be fitted."
    assert because == "The cage is small"
    assert "platforms/lantern.yaml:" in place


def test_a_rule_that_nobody_declares_is_a_usage_error(run: Run, tmp_path):
    written(tmp_path, with_rules(one(require="drives.count <= 8")))
    ran = run("explain", "QW-2", "--project", tmp_path)
    assert ran.status == 2
    assert "QW-1" in ran.err


def test_rules_that_cannot_be_read_are_reported_by_check(run: Run, tmp_path):
    written(tmp_path, with_rules(one(require="drivse.count <= 8")))
    ran = run("check", "--project", tmp_path)
    assert ran.status == 1
    assert "SG133" in ran.out
    assert "did you mean `drives`" in ran.out
