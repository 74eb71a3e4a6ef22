"""What Regulation (EU) 2019/424 asks to be stated of a server, as far as it is declared."""

from specgen.document.blocks.cells import cell_of, column, head, number, table
from specgen.document.case import Case
from specgen.document.tree import Cell, Table, words

Row = tuple[str, str, str, str]
"""Words, the fact, the fact it is held against, where the regulation says so."""

ROWS: tuple[Row, ...] = (
    ("Product type", "regulation.product_type", "", "table 3"),
    ("Idle power, measured", "regulation.idle", "regulation.idle_limit", "point 2"),
    ("Base allowance", "regulation.idle_base", "", "table 3"),
    ("Allowance for processors", "regulation.idle_performance", "", "table 4"),
    ("Allowance for redundant supplies", "regulation.idle_supplies", "", "table 4"),
    ("Allowance for drives", "regulation.idle_drives", "", "table 4"),
    ("Allowance for memory above 4 GB", "regulation.idle_memory", "", "table 4"),
    ("Allowance for channels above 8", "regulation.idle_channels", "", "table 4"),
    ("Allowance for ports beyond two", "regulation.idle_ports", "", "table 4"),
    ("Maximum power, measured", "regulation.maximum", "", "3.1"),
    ("Idle power at the class's upper temperature", "regulation.idle_warm", "", "3.1"),
    ("Active state efficiency", "regulation.efficiency_active", "", "3.1"),
    ("Rated output of a supply", "regulation.rated_output", "", "3.1"),
    *(
        (
            f"Supply efficiency at {load} % load",
            f"regulation.efficiency_{load}",
            f"regulation.least_efficiency_{load}",
            "1.1.1",
        )
        for load in (10, 20, 50, 100)
    ),
    (
        "Power factor at 50 % load",
        "regulation.power_factor_50",
        "regulation.least_power_factor",
        "1.1.2",
    ),
    ("Operating class", "conditions.operating_class", "", "table 6"),
    ("Highest inlet temperature", "regulation.inlet_highest", "", "table 6"),
    ("Lowest inlet temperature", "regulation.inlet_lowest", "", "table 6"),
    ("Highest dew point", "regulation.dew_point", "", "table 6"),
    ("Not declared", "regulation.missing", "", "3.1"),
)


def regulation(case: Case) -> Table | None:
    """Each item with its value, what it is held against, and where the regulation asks it."""
    rows: list[tuple[Cell, ...]] = [
        (
            words(label),
            cell_of(case.facts, key, "none" if key == "regulation.missing" else "not declared"),
            cell_of(case.facts, against, "") if against else words(""),
            words(where),
        )
        for label, key, against, where in ROWS
    ]
    columns = (head("Item"), number("Value"), number("Held against"), column("Annex II"))
    nature = case.facts.value("regulation.nature")
    note = f"Regulation (EU) 2019/424: {nature}." if isinstance(nature, str) else ""
    return table("Ecodesign data for servers", columns, rows, "regulation-table", note)
