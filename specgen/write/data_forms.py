"""The data of builds and the parts of orders as files: the forms there are, by name.

Forms for programs are the same in every language; those for spreadsheets are in the one asked for.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Final

from specgen.document.case import Case
from specgen.document.data import BuildData, PartsList, parts_list
from specgen.frozen import frozen
from specgen.messages import Language
from specgen.messages.catalogue import language_of
from specgen.model import Build, Paper, Project
from specgen.write import csv, json, redfish, xlsx
from specgen.write.worksheets import facts_sheet, parts_sheet, values_sheet

Order = Sequence[tuple[Case, int]]


@frozen
class Manner:
    """How a form for spreadsheets is written: its language, and the paper it is printed on."""

    language: Language
    paper: Paper = "a4"


@frozen
class DataForm:
    """A format of data: `write` makes a file of a build, of its plain values. What is `binary` is
    no text for a terminal."""

    write: Callable[[Case, BuildData, Manner], bytes]
    binary: bool = False


def _values(case: Case, manner: Manner) -> bytes:
    return csv.for_spreadsheet(values_sheet(case.facts.values(), manner.language), manner.language)


def _workbook(case: Case, data: BuildData, manner: Manner) -> bytes:
    build, project = case.build, case.definitions.project
    assert build is not None, "a platform alone is no build"
    sheets = (
        parts_sheet(parts_list([(case, 1)]), manner.language),
        values_sheet(case.facts.values(), manner.language),
    )
    about = ", ".join(filter(None, (data.number, data.revision)))
    made = imprint(project, data.name, about, build, manner)
    return xlsx.workbook(made, sheets, manner.language)


def imprint(
    project: Project, title: str, about: str, build: Build | None, manner: Manner
) -> xlsx.Imprint:
    """What a workbook says of itself; its day is the build's, else the project's."""
    day = (build.date if build is not None else None) or project.date
    date = day.isoformat() if day else ""
    return xlsx.Imprint(title, about, project.publisher.name, date, manner.paper)


def order_workbook(order: Order, parts: PartsList, manner: Manner) -> bytes:
    """The parts of an order as a workbook."""
    project = order[0][0].definitions.project
    title = ", ".join(f"{each.count} × {each.name}" for each in parts.builds)
    only = order[0][0].build if len(parts.builds) == 1 else None
    made = imprint(project, title, (only.number or "") if only else "", only, manner)
    return xlsx.workbook(made, [parts_sheet(parts, manner.language)], manner.language)


OF_BUILDS: Final[Mapping[str, DataForm]] = {
    "json": DataForm(lambda _, data, __: json.text(data)),
    "csv": DataForm(lambda _, data, __: csv.table(facts_sheet(data))),
    "csv-spreadsheet": DataForm(lambda case, _, manner: _values(case, manner)),
    "xlsx": DataForm(_workbook, binary=True),
    "redfish": DataForm(lambda _, data, __: redfish.text(data)),
}
"""What `specgen data` writes, by name."""

OF_ORDERS: Final[Mapping[str, Callable[[Order, PartsList, Manner], bytes]]] = {
    "csv": lambda _, parts, __: csv.table(parts_sheet(parts)),
    "csv-spreadsheet": lambda _, parts, manner: csv.for_spreadsheet(
        parts_sheet(parts, manner.language), manner.language
    ),
    "xlsx": order_workbook,
    "json": lambda _, parts, __: json.text(parts),
}
"""What `specgen parts` writes, by name."""

FORMS: Final[Mapping[str, Callable[[Case, BuildData], bytes]]] = {
    "json": lambda case, data: OF_BUILDS["json"].write(case, data, _own(case)),
    "csv": lambda case, data: OF_BUILDS["csv"].write(case, data, _own(case)),
    "parts.csv": lambda case, _: csv.table(parts_sheet(parts_list([(case, 1)]))),
    "xlsx": lambda case, data: _workbook(case, data, _own(case)),
    "redfish.json": lambda case, data: OF_BUILDS["redfish"].write(case, data, _own(case)),
}
"""Every file beside a build's page by what follows its id and a point: `ID.json`."""


def _own(case: Case) -> Manner:
    project = case.definitions.project
    return Manner(language_of(project.language), project.paper)
