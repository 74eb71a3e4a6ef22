"""Altitudes that no operating class reaches."""

from tests.projects import edited, project

FULL = "configured/lantern-full.yaml"
CONDITIONS = "conditions: {inlet: 30 degC, redundancy: 1+1}"


def test_above_the_highest_elevation_of_the_classes_no_system_is_sound():
    files = edited(FULL, CONDITIONS, "conditions: {altitude: 6000 m}")
    checked = project(files)
    assert checked.codes == ["SG335"]
    assert "3050 m" in str(checked.findings[0].at.text)


def test_at_the_highest_elevation_the_limit_still_holds():
    # Source: ASHRAE TC 9.9, 5th ed. 2021: 3050 m for classes A1 to A4
    files = edited(FULL, CONDITIONS, "conditions: {altitude: 3050 m}")
    assert project(files).codes == []
