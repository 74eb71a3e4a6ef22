"""What each word of a rule means to the solver: a wish that the rule just lets pass, and one that
it refuses. One unit, three positions; a slow fan of 20 CFM and a fast one of 40 CFM."""

import pytest

from specgen.limits.wish import granted
from tests.limits.small import COMMON, HEAD, PROJECT, defined

FAN = "kind: fan, form: fan-40, mass: 1 kg"
PARTS = (
    f"{FAN}, id: slow, name: Slow, airflow: 20 CFM, power: {{maximum: 8 W}}",
    f"{FAN}, id: fast, name: Fast, airflow: 40 CFM, power: {{maximum: 16 W}}",
    "kind: blank, id: cover, name: Cover, form: fan-40, mass: 0.05 kg",
)
BOTH = 'has("slow") and has("fast")'
FIRST = 'part("FAN 1").airflow'
CASES = (
    ("require: 'fans.count != 2'", "fans.count == 3", "fans.count == 2"),
    ("require: 'fans.count < 3'", "fans.count == 2", "fans.count == 3"),
    ("require: 'fans.count <= 2'", "fans.count == 2", "fans.count == 3"),
    ("require: 'fans.count > 1'", "fans.count == 2", "fans.count == 1"),
    ("require: 'fans.count >= 2'", "fans.count == 2", "fans.count == 1"),
    ("require: 'fans.count == 2'", "fans.count == 2", "fans.count == 3"),
    ("require: 'fans.count + 1 <= 3'", "fans.count == 2", "fans.count == 3"),
    ("require: 'not has(\"slow\")'", 'has("fast")', 'has("slow")'),
    (
        "require: 'all(f.airflow >= \"40 CFM\" for f in fans)'",
        'fans.count == 3 and has("fast")',
        BOTH,
    ),
    (
        "require: 'all(f.airflow > \"20 CFM\" for f in fans)'",
        'has("fast")',
        'has("slow")',
    ),
    (
        "require: 'any(f.airflow < \"40 CFM\" for f in fans)'",
        BOTH,
        'has("fast") and fans.count == 1',
    ),
    (
        'require: \'filled("FAN 1") and filled("FAN 2")\'',
        "fans.count == 2",
        'fans.count == 2 and empty("FAN 2")',
    ),
    (
        'require: \'filled("FAN 1") or filled("FAN 2")\'',
        'empty("FAN 1") and fans.count == 1',
        'empty("FAN 1") and empty("FAN 2")',
    ),
    (
        'when: \'filled("FAN 1")\', require: \'part("FAN 1").airflow > "20 CFM"\'',
        f'filled("FAN 1") and {FIRST} == "40 CFM"',
        f'filled("FAN 1") and {FIRST} == "20 CFM"',
    ),
    (
        'when: \'filled("FAN 1")\', forbid: \'part("FAN 1").airflow != "20 CFM"\'',
        f'filled("FAN 1") and {FIRST} == "20 CFM"',
        f'filled("FAN 1") and {FIRST} == "40 CFM"',
    ),
    (
        "require: 'sum(f.airflow for f in fans) <= \"60 CFM\"'",
        f"{BOTH} and fans.count == 2",  # 20 + 40
        f"{BOTH} and fans.count == 3",  # 20 + 20 + 40
    ),
    (
        "require: 'min(f.airflow for f in fans) == max(f.airflow for f in fans)'",
        "fans.count == 3",
        BOTH,
    ),
    ('forbid: \'has("slow") and has("fast")\'', 'fans.count == 3 and has("slow")', BOTH),
    (
        "when: 'fans.count == 3', require: 'has(\"fast\")'",
        "fans.count == 3",
        'fans.count == 3 and not has("fast")',
    ),
    ("require: 'platform.rack_units == 1'", "fans.count == 3", "fans.count == 4"),
    ("when: 'platform.rack_units == 1', forbid: 'has(\"slow\")'", 'has("fast")', 'has("slow")'),
)


@pytest.mark.parametrize(("rule", "passes", "refused"), CASES, ids=lambda text: text)
def test_a_wish_that_a_rule_lets_pass_and_one_that_it_refuses(rule, passes, refused):
    definitions = defined(
        {
            "specgen.yaml": PROJECT % "none",
            "platforms/small.yaml": (
                f"{HEAD}positions: [{{name: FAN 1..3, takes: fan, blank: cover}}]\n"
                f"rules: [{{code: QW-1, {rule}}}]\n"
            ),
            "catalog/parts.yaml": "".join(f"- {{{each}, {COMMON}}}\n" for each in PARTS),
        }
    )
    small = definitions.platforms["small"]
    found, findings = granted(definitions, small, passes)
    assert findings == ()
    assert found is not None
    assert found.build is not None
    found, findings = granted(definitions, small, refused)
    assert findings == ()
    assert found is not None
    assert found.ruled_out
