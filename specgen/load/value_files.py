"""Values of a project that stand in files of their own, `values/*.yaml`, beside its specgen.yaml.

A file holds one value, a list of them, or a list under `values:`, as they stand in specgen.yaml.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from specgen.diagnostics import Finding, Label, codes
from specgen.load.decode import decode
from specgen.messages import say
from specgen.model import OwnValue
from specgen.source import SourceFile, YamlMapping, YamlNode, YamlSequence, is_marked

VALUES: Final = "values"


def values_of_files(
    files: Iterable[SourceFile],
) -> tuple[tuple[YamlMapping, ...], tuple[Finding, ...]]:
    """The values that can be read, in the order of the files, and what is wrong with the others."""
    values: list[YamlMapping] = []
    findings: list[Finding] = []
    for file in files:
        if file.folder != VALUES or file.tree is None:
            continue
        for entry in _entries(file.tree):
            if not isinstance(entry, YamlMapping):
                findings.append(_no_value(entry))
                continue
            value, problems = decode(OwnValue, entry)
            findings += problems
            if value is not None:
                values.append(entry)
    return tuple(values), tuple(findings)


def _entries(tree: YamlNode) -> Iterator[YamlNode]:
    if isinstance(tree, YamlMapping) and [*tree] == [VALUES]:
        tree = tree[VALUES]
    if isinstance(tree, YamlSequence):
        yield from tree
    else:
        yield tree


def _no_value(node: YamlNode) -> Finding:
    return Finding(
        codes.WRONG_TYPE,
        say("a value needs a mapping of fields"),
        Label(node.span),
        help=say("write `key: …`, `label: …` and `expression: …`"),
    )


def with_values(project: YamlMapping, more: Sequence[YamlMapping]) -> YamlMapping:
    """The tree of a project with further values behind its own, each at its own place."""
    own = project.get(VALUES, YamlSequence())
    if not more or not isinstance(own, YamlSequence):
        return project
    joined = YamlSequence([*own, *more])
    joined.span = getattr(own, "span", project.span)
    joined.marked = any(map(is_marked, joined))
    whole = YamlMapping({**project, VALUES: joined})
    whole.span, whole.marked = project.span, is_marked(project) or joined.marked
    whole.key_spans = {**project.key_spans}
    whole.key_spans.setdefault(VALUES, project.span)
    return whole
