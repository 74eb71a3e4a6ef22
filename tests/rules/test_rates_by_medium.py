"""Operations at random of a hard drive are not held against those of SSDs."""

from specgen.diagnostics import codes
from tests.projects import base, project

DRIVES = "catalog/drives.yaml"
RATES = {
    "id: sas-1600": (2000, 400_000),
    "id: sas-3200": (2200, 450_000),
    "id: sata-960": (540, 95_000),
    "id: e3-3840": (13_000, 2_500_000),
}


def test_the_only_hard_drive_of_a_catalogue_is_no_odd_ssd():
    files = base()
    text = files[DRIVES]
    for at, (read, operations) in RATES.items():
        text = text.replace(at, f"{at}, read: {read} MB/s, random_reads: {operations}", 1)
    files[DRIVES] = f"{text.rstrip()}\n  read: 260 MB/s\n  random_reads: 210\n"
    found = project(files)
    assert [each for each in found.findings if each.code is codes.DOUBTFUL_UNIT] == []
