"""Small systems that draw so much from so many power supplies."""

from specgen.facts import Facts
from tests.facts.systems import calculated

FLAT = "[{{load: 0, efficiency: {0}, power_factor: {1}}}, {{load: 1, efficiency: {0}, power_factor: {1}}}]"  # noqa: E501
TITANIUM = (
    "[{load: 0.1, efficiency: 0.90, power_factor: 0.9}, {load: 0.2, efficiency: 0.94,"
    " power_factor: 0.95}, {load: 0.5, efficiency: 0.96, power_factor: 0.98},"
    " {load: 1, efficiency: 0.91, power_factor: 0.99}]"
)


def system(
    load: object,
    *,
    line: object = 230,
    count: int = 1,
    output: object = 2000,
    curve: str = FLAT.format("0.94", "0.98"),
    redundancy: str = "none",
    inlet: str = "C14",
    conditions: str = "",
    outputs: str = "",
    more: str = "",
    curve_at: str = "230 V",
    assumptions: str = "",
    on_platform: str = "",
) -> Facts:
    """A system that draws so much from so many supplies."""
    ranges = outputs or f"[{{from: 100 V, to: 277 V, output: {output} W}}]"
    return calculated(
        f"  - {{name: CPU1, takes: processor}}\n  - {{name: PSU 1..{count}, takes: power-supply}}\n"
        "  - {name: LOAD, takes: fan}\n  - {name: CORD, takes: power-cord}\n",
        f"  CPU1: processor\n  PSU 1..{count}: supply\n  LOAD: load{more}",
        catalog=f"""
- {{kind: power-supply, id: supply, name: Supply, source: {{document: s}}, form: m-crps-60,
   inlet: {inlet}, outputs: {ranges}, curve_at: {curve_at}, curve: {curve}}}
- {{kind: fan, id: load, name: Load, form: fan-40, source: {{document: l}},
   power: {{idle: {load} W, typical: {load} W, maximum: {load} W}}}}
- {{kind: power-cord, id: cord, name: Cord, source: {{document: c}}, form: C13, plug: C14,
   current: 10 A}}
""",
        conditions=f"{{line: {line} V, redundancy: {redundancy}{conditions}}}",
        assumptions=assumptions,
        board=on_platform,
    )
