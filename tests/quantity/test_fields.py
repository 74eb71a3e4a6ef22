"""Quantities as fields of a dataclass that pydantic fills, and under a type checker."""

import re
from dataclasses import dataclass
from pathlib import Path

import jsonschema
import pydantic
import pytest
from mypy import api

from specgen.diagnostics.bad_quantities import described
from specgen.quantity import QUANTITIES, DataSize, Power, QuantityError, show


class Written(str):
    """A text that knows where it stood, as the reader of definitions hands it over."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Supply:
    rating: Power
    cache: DataSize | None = None


ADAPTER = pydantic.TypeAdapter(Supply)


def test_a_field_is_read_from_text():
    supply = ADAPTER.validate_python({"rating": Written("750 W"), "cache": "8 GiB"})
    assert supply == Supply(Power.of(750), DataSize.of(8, "GiB"))
    assert show(supply.rating) == "750\u202fW"


def test_a_quantity_passes_through():
    rating = Power.of(750)
    assert ADAPTER.validate_python({"rating": rating}).rating is rating


@pytest.mark.parametrize(
    ("value", "problem", "message", "help_"),
    [
        ("40", "no-unit", "power value without a unit", "write `40 W`"),
        (40, "no-unit", "power value without a unit", "write `40 W`"),
        ([], "no-unit", "power value without a unit",
         "write power with its unit, such as `750 W`"),
        (None, "no-unit", "power value without a unit",
         "write power with its unit, such as `750 W`"),
        (DataSize.of(1), "no-unit", "power value without a unit",
         "write power with its unit, such as `750 W`"),
        ("5 {message}", "unknown-unit", "no unit of power is named `{message}`",
         "units of power: `W`, `mW`, `kW`, `MW`, `BTU/h`"),
    ],
)  # fmt: skip
def test_a_mistake_reaches_pydantic_with_its_parts(value, problem, message, help_):
    with pytest.raises(pydantic.ValidationError) as caught:
        ADAPTER.validate_python({"rating": value})
    (error,) = caught.value.errors()
    assert error["type"] == "quantity"
    assert error["loc"] == ("rating",)
    mistake = error["ctx"]["error"]
    assert mistake.problem == problem
    _, *words = described(mistake)
    assert [str(each) for each in words] == [message, help_]


def test_the_json_schema_describes_the_text():
    schema = ADAPTER.json_schema()["properties"]["rating"]
    assert schema["type"] == "string"
    assert schema["description"] == "power with its unit, such as `750 W`"
    assert schema["examples"] == ["750 W"]


@pytest.mark.parametrize("kind", QUANTITIES, ids=lambda kind: kind.__name__)
def test_the_schema_s_pattern_accepts_what_is_read_and_nothing_else(kind):
    schema = pydantic.TypeAdapter(kind).json_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    pattern = re.compile(schema["pattern"])
    base = kind.dimension.base
    for text in (
        kind.dimension.example, f"5{base}", f"5.25\u202f{base}", f"\u22125 {base}", f"5 {base}x",
        f"5,5 {base}", "5", base, f"1e3 {base}", f"5. {base}", f"5 {base} 5", "5 KB", "5 \u00b0C",
    ):  # fmt: skip
        assert bool(pattern.search(text)) == reads(kind, text), text


def reads(kind, text: str) -> bool:
    try:
        kind.parse(text)
    except QuantityError:
        return False
    return True


TYPED = """
from decimal import Decimal
from specgen.quantity import DataSize, Mass, Power, Temperature, TemperatureDifference
p, m = Power.of(1), Mass.of(1)
reveal_type(p + p)
reveal_type(sum([p], Power.zero()))
reveal_type(p / 2)
reveal_type(p / p)
reveal_type(2 * p)
reveal_type(max(p, p))
reveal_type(Temperature.of(1) - Temperature.of(1))
p + m
p < m
p / m
Power.of(0.1)
Temperature.of(1) + Temperature.of(1)
"""


@pytest.mark.slow
def test_a_type_checker_tells_power_from_mass(tmp_path: Path):
    snippet = tmp_path / "snippet.py"
    snippet.write_text(TYPED, encoding="utf-8")
    out, _, _ = api.run(["--strict", "--no-error-summary", "--config-file=", str(snippet)])
    lines = [
        re.sub(r"^.*?snippet\.py:(\d+): (\w+): ", r"\1 \2 ", line) for line in out.splitlines()
    ]
    revealed = [line.split('"')[1].split(".")[-1] for line in lines if "Revealed" in line]
    assert revealed == [
        "Power",
        "Power",
        "Power",
        "Decimal",
        "Power",
        "Power",
        "TemperatureDifference",
    ]
    wrong = sorted({int(line.split()[0]) for line in lines if line.split()[1] == "error"})
    assert wrong == [12, 13, 14, 15, 16]  # fmt: skip
