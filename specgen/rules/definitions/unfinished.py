"""What is left to do in definitions: a warning each, an error where it is published."""

from collections.abc import Collection, Iterator
from functools import lru_cache

from specgen.assembly import Assembly
from specgen.diagnostics import Code, Finding, Label, codes
from specgen.facts import Facts
from specgen.messages import say
from specgen.model import Build, Definitions, Origin, Part, Platform, Position
from specgen.source import YamlMapping, YamlScalar, is_marked
from specgen.source.unfinished_marks import unfinished as says_so

HELP = say("write what belongs there, and take the mark away")


def unfinished(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG127: what is left to do in a published build, its platform, its parts and their kinds."""
    build, definitions = assembly.build, assembly.definitions
    if build is None or not build.published:
        return
    origins = [build.origin, assembly.platform.origin, definitions.project.origin]
    kinds = set()
    for _, part in assembly.everything():
        origins.append(part.origin)
        kinds.add(part.kind)
    origins += [each.origin for each in definitions.declared if each.id in kinds]
    for origin in dict.fromkeys(origins):
        yield from left_within(origin, codes.TO_DO_PUBLISHED)


def left_to_do(definitions: Definitions) -> Iterator[Finding]:
    """SG126: what is left to do in what no published build uses."""
    used = _in_published(definitions)
    d = definitions
    things: list[Part | Platform | Build] = [
        *d.parts.values(),
        *d.platforms.values(),
        *d.builds.values(),
    ]
    if not used:
        yield from left_within(d.project.origin, codes.TO_DO)
    kinds = {d.parts[name].kind for name in used if name in d.parts}
    for kind in d.declared:
        if kind.id not in kinds:
            yield from left_within(kind.origin, codes.TO_DO)
    for thing in things:
        if thing.id not in used:
            yield from left_within(thing.origin, codes.TO_DO)


@lru_cache(maxsize=4)
def _in_published(definitions: Definitions) -> frozenset[str]:
    """The ids of published builds and of what they are made of."""
    found: set[str] = set()
    waiting: list[str] = []
    for build in definitions.builds.values():
        if build.published:
            found |= {build.id, build.platform}
            waiting += [fill.part for fill in build.fit.values()]
            platform = definitions.platforms.get(build.platform)
            waiting += _come_along(() if platform is None else platform.positions)
    while waiting:
        name = waiting.pop()
        part = definitions.parts.get(name)
        if part is not None and name not in found:
            found.add(name)
            waiting += _come_along(part.brings.positions)
    return frozenset(found)


def _come_along(positions: Collection[Position]) -> list[str]:
    """Parts that positions hold without being asked."""
    return [name for each in positions for name in (each.fixed, each.blank) if name]


def left_within(origin: Origin, code: Code) -> Iterator[Finding]:
    """What one definition says itself is not finished, once a line: of a line whose comment says
    it, what says it too."""
    tree = origin.tree
    told: dict[tuple[str, int], tuple[str, YamlScalar]] = {}
    for field, text in _texts(tree) if is_marked(tree) and tree is not None else ():
        at = text.span.file, text.span.line
        if at not in told or (says_so(text) and not says_so(told[at][1])):
            told[at] = field, text
    for field, text in told.values():
        message = say("`{field}` is left to do", field=field)
        yield Finding(code, message, Label(text.span), help=HELP)


def _texts(tree: YamlMapping) -> Iterator[tuple[str, YamlScalar]]:
    """The texts of a definition that are marked, with their fields, without recursion."""
    waiting: list[tuple[str, object]] = [(key, value) for key, value in tree.items()]
    waiting.reverse()
    while waiting:
        field, node = waiting.pop()
        if not is_marked(node):
            continue
        if isinstance(node, YamlScalar):
            yield field, node
        elif isinstance(node, dict):
            waiting += reversed([(str(key), value) for key, value in node.items()])
        elif isinstance(node, list):
            waiting += reversed([(field, value) for value in node])
