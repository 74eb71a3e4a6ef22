"""Limits worked out once and kept: what was proved stays proved while nothing that it rests on
changes.

Only the bound is taken from what was kept, and only under our own tag (`vouched`). Builds are made
again and judged by the checks; where these find an error, where the entry cannot be read or says
what cannot be, the limit is solved anew.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import fields
from functools import cache
from pathlib import Path
from typing import Any, Final

from specgen.assembly import assemble
from specgen.diagnostics import Severity, worst
from specgen.facts import facts_of
from specgen.files.vouched import keep_vouched, read_vouched
from specgen.limits.build_text import text_of
from specgen.limits.limit import Limit, Status, reached
from specgen.limits.limit_tables import table_of
from specgen.limits.objectives import objectives_of, printed
from specgen.model import ANYWHERE, Build, Conditions, Definitions, Fill, Platform
from specgen.quantity import Quantity
from specgen.rules import judge

ROOMS: Final = (
    "assembly",
    "expressions",
    "extended",
    "facts",
    "fitness",
    "formats",
    "grouped",
    "limits",
    "model",
    "quantity",
    "rules",
)

OF_PAGES: Final = frozenset(
    {
        "title",
        "summary",
        "edition",
        "language",
        "documents",
        "downloads",
        "sources",
        "pages",
        "terms",
    }
)
"""What a project says of its documents and its site alone: no limit rests on it."""


def kept_limits(
    definitions: Definitions,
    platform: Platform,
    folder: Path | None,
    *,
    keys: tuple[str, ...] | None = None,
    at: Conditions = ANYWHERE,
    jobs: int = 1,
    shown: bool = False,
) -> tuple[Limit, ...]:
    """Several limits of a platform, from `folder` where they are kept. Raises what `Solver` does.

    Without `keys`, those that pages print. None as folder keeps nothing. A folder that cannot be
    written is no mistake. Those whose builds can be `shown` are kept apart, and do for whoever
    shows none.
    """
    path = None
    keys = printed(definitions, platform) if keys is None else keys
    if folder is not None:
        name = _digest(definitions, platform, keys, at)
        tidy, path = (folder / f"{sort}-{name}.json" for sort in ("examples", "limits"))
        for each in (tidy,) if shown else (tidy, path):
            found = _read(definitions, platform, each, keys, at)
            if found is not None:
                return found
        path = tidy if shown else path
    limits = table_of(definitions, platform, keys, at, jobs, shown=shown)
    if path is not None:
        _write(path, limits)
    return limits


def _digest(
    definitions: Definitions, platform: Platform, keys: tuple[str, ...], at: Conditions
) -> str:
    """A name for all that limits rest on: the program, the platform, the parts, the rules."""
    text = hashlib.sha256(_program())
    project = {
        each.name: getattr(definitions.project, each.name)
        for each in fields(definitions.project)
        if each.repr and each.name not in OF_PAGES
    }
    for piece in (project, definitions.declared, platform, definitions.parts, keys, at):
        text.update(repr(piece).encode("utf-8", "surrogatepass"))
    return text.hexdigest()[:32]


@cache
def _program() -> bytes:
    own = hashlib.sha256()
    package = Path(__file__).resolve().parent.parent
    for room in ROOMS:
        for path in sorted((*package.glob(f"{room}.py"), *(package / room).rglob("*.py"))):
            own.update(path.read_bytes())
    return own.digest()


def _read(
    definitions: Definitions,
    platform: Platform,
    path: Path,
    keys: tuple[str, ...],
    at: Conditions,
) -> tuple[Limit, ...] | None:
    content = read_vouched(path)
    if content is None:
        return None
    try:
        entries = json.loads(content)
        limits = tuple(_limit(definitions, platform, entry, at) for entry in entries)
    except (ValueError, LookupError, TypeError, AttributeError, ArithmeticError,
            RecursionError):  # fmt: skip
        return None
    return limits if tuple(limit.key for limit in limits) == keys else None


def _limit(
    definitions: Definitions, platform: Platform, entry: Mapping[str, Any], at: Conditions
) -> Limit:
    """A limit from its entry.

    Raises `ValueError` where its build does not pass any more, or does not reach what was proved.
    """
    objective = objectives_of(definitions)[entry["key"]]
    bound = entry["bound"]
    if bound is not None:
        bound = objective.quantity.parse(bound) if objective.quantity else int(bound)
    build = value = None
    if entry["fit"] is not None:
        fit = {name: Fill(part=part, to=to) for name, (part, to) in entry["fit"].items()}
        build = Build(
            id=entry["id"], name=entry["name"], platform=platform.id,
            summary=entry["summary"], fit=fit,
        )  # fmt: skip
        assembly = assemble(definitions, platform, build, at)
        facts = facts_of(assembly)
        if worst(judge(assembly, facts)) is Severity.ERROR:
            raise ValueError("kept build with errors")
        value = reached(objective, assembly, facts)
    text = "" if build is None else text_of(build, at)
    status = Status(entry["status"])
    if status is Status.PROVED and (value is None or value != bound):
        raise ValueError("proved, and its build does not reach the bound")
    return Limit(
        objective.key, objective.name, objective.label, objective.most, value, bound,
        status, build, text, entry["rounds"],
    )  # fmt: skip


def _write(path: Path, limits: tuple[Limit, ...]) -> None:
    text = json.dumps([_entry(limit) for limit in limits], indent=1, ensure_ascii=False)
    keep_vouched(path, f"{text}\n".encode())


def _entry(limit: Limit) -> dict[str, Any]:
    return {
        "key": limit.key,
        "bound": None if limit.bound is None else _exact(limit.bound),
        "status": limit.status.value,
        "rounds": limit.rounds,
        "id": limit.build and limit.build.id,
        "name": limit.build and limit.build.name,
        "summary": limit.build and limit.build.summary,
        "fit": limit.build and dict(_fit(limit.build)),
    }


def _fit(build: Build) -> Iterator[tuple[str, tuple[str, str | None]]]:
    for name, fill in build.fit.items():
        yield name, (fill.part, fill.to)


def _exact(amount: int | Quantity) -> str:
    if isinstance(amount, Quantity):
        return f"{amount.in_unit(amount.unit.symbol):f} {amount.unit.symbol}"
    return str(amount)
