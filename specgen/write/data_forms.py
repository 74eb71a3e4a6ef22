"""The files beside a build's page: its data in every form."""

from collections.abc import Callable, Mapping
from typing import Final

from specgen.document.case import Case
from specgen.document.data import BuildData, build_data, parts_list
from specgen.write import csv, json, redfish, xlsx
from specgen.write.worksheets import facts_sheet, parts_sheet

FORMS: Final[Mapping[str, Callable[[Case, BuildData], bytes]]] = {
    "json": lambda _, data: json.text(data),
    "csv": lambda _, data: csv.table(facts_sheet(data)),
    "parts.csv": lambda case, _: csv.table(parts_sheet(parts_list([(case, 1)]))),
    "xlsx": lambda case, data: _workbook(case, data),
    "redfish.json": lambda _, data: redfish.text(data),
}
"""Every file of a build by what follows its id and a point: `ID.json`."""


def downloads(case: Case) -> Mapping[str, bytes]:
    """File names and contents for a build.

    Empty where a finding is an error: its values could be wrong.
    """
    if case.build is None or not case.sound:
        return {}
    data = build_data(case)
    return {f"{case.build.id}.{form}": write(case, data) for form, write in FORMS.items()}


def _workbook(case: Case, data: BuildData) -> bytes:
    sheets = (parts_sheet(parts_list([(case, 1)])), facts_sheet(data))
    return xlsx.workbook(data.name, sheets)
