"""The small sound project of `tests/mutated/base` with rules put into it."""

import re

from specgen.diagnostics import Finding
from specgen.load.definitions import load
from specgen.rules.declared import CompiledRule, rule_book
from tests.projects import Checked, base, project, sources

PLATFORM = "platforms/lantern.yaml"
FULL = "configured/lantern-full.yaml"
SMALL = "configured/lantern-small.yaml"


def quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def one(**fields: str) -> str:
    """A rule as YAML, on one line; conditions are quoted."""
    fields = {"code": "QW-1", **fields}
    words = ("when", "require", "forbid", "because")
    pieces = (
        f"{name.rstrip('_')}: {quoted(text) if name in words else text}"
        for name, text in fields.items()
    )
    return "{" + ", ".join(pieces) + "}"


def with_rules(*rules: str, on: str = "platform", files: dict[str, str] | None = None):
    """The files with rules on the project, the family, the platform or a part (its id)."""
    files = dict(files or base())
    listed = "[" + ", ".join(rules) + "]"
    if on == "project":
        files["specgen.yaml"] += f"rules: {listed}\n"
    elif on == "family":
        anchor = "summary: Servers for weather stations"
        files["specgen.yaml"] = files["specgen.yaml"].replace(anchor, f"{anchor}, rules: {listed}")
    elif on == "platform":
        files[PLATFORM] += f"rules: {listed}\n"
    else:
        short, long = f"id: {on},", f"- id: {on}\n"
        (name,) = (name for name, text in files.items() if short in text or long in text)
        text = files[name].replace(short, f"{short} rules: {listed},")
        place = re.search(rf"^( *){re.escape(long)}", text, re.MULTILINE)
        if place is not None:
            text = text.replace(long, f"{long}{place[1]}  rules: {listed}\n")
        files[name] = text
    return files


def ruled(*rules: str, on: str = "platform", files: dict[str, str] | None = None) -> Checked:
    """The project with these rules, read and checked."""
    return project(with_rules(*rules, on=on, files=files))


def broken(found: Checked, code: str = "QW-1") -> list[Finding]:
    """The findings of one declared rule."""
    return [finding for finding in found.findings if finding.code.id == code]


def fires(condition: str, build: str = FULL) -> bool:
    """Whether a build breaks a rule that forbids this."""
    found = ruled(one(forbid=condition))
    got = [finding for finding in found.findings if finding.code.id != "QW-1"]
    assert got == [], got
    return any(finding.at.span.file == build for finding in broken(found))


def the_rule(found: Checked) -> CompiledRule:
    assert found.loaded.definitions is not None
    (rule,) = rule_book(found.loaded.definitions).rules
    return rule


def read(**fields: str) -> CompiledRule:
    """One rule, compiled; no build is judged by it."""
    definitions = load(sources(with_rules(one(**fields)))).definitions
    assert definitions is not None
    (rule,) = rule_book(definitions).rules
    return rule
