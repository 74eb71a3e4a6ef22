"""Templates read without being filled in: what would stop them, found before anything is made.

Syntax, names, filters, blocks and figures that a template writes out are looked up; what only a
run can tell (a name that is put together, a value that is missing) is left to the run.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping

from jinja2 import TemplateError, TemplateNotFound, meta, nodes

from specgen.diagnostics import Finding, arrange, did_you_mean, question
from specgen.document.blocks.makers import family_makers, machine_makers, part_makers
from specgen.document.blocks.tables import MACHINE_LISTS, MACHINE_TABLES, PART_LISTS, PART_TABLES
from specgen.document.case import Case, FamilyCase, PartCase
from specgen.document.documents import machine_variables
from specgen.document.faults import finding_at
from specgen.document.maker import AuthorError
from specgen.document.pictures import DRAWINGS
from specgen.document.sandbox import MissingNameError
from specgen.document.template import Templates
from specgen.document.texts import mistakes
from specgen.frozen import frozen
from specgen.model import Build, Conditions, Definitions, Family, Platform, Project
from specgen.model.part import Part

OF_FAMILY = ("start", "builds", "parts", "platforms")
Classes = Mapping[str, tuple[type[object], ...]]
_CLASSES: Classes = {
    "project": (Project,),
    "platform": (Platform,),
    "family": (Family,),
    "build": (Build,),
    "conditions": (Conditions,),
}


def _classes(definitions: Definitions) -> Classes:
    """What the names of templates hold, for those whose fields are known."""
    return {**_CLASSES, "part": (Part, *definitions.kinds.values())}


@frozen
class Desk:
    """What templates of one sort may use: names, and by block the names that it knows.

    `figures` are the keys that `fact` and `facts` know; None where nothing can be said.
    """

    names: frozenset[str]
    blocks: Mapping[str, Collection[str]]
    figures: Collection[str] | None = None


def proofread(
    templates: Templates, definitions: Definitions, builds: Iterable[Case], bare: Iterable[Case]
) -> tuple[Finding, ...]:
    """What would stop the templates that the project uses.

    `builds` and `bare` platforms are the machines to look up facts in.
    """
    found: list[Finding] = []
    there, classes = set(templates.names()), _classes(definitions)
    for name, desk in _desks(definitions, templates, tuple(builds), tuple(bare)):
        if name in there:
            found += _read(f"{name}.md", templates, desk, classes)
    found += mistakes(templates.texts, definitions)
    return arrange(dict.fromkeys(found))


def _desks(
    definitions: Definitions,
    templates: Templates,
    builds: tuple[Case, ...],
    bare: tuple[Case, ...],
) -> Iterator[tuple[str, Desk]]:
    own = ("subtitle", "meta", "say")
    family = family_makers(FamilyCase(definitions, {}, {}))
    lists = ("platforms", "builds", "parts")
    of_family = Desk(frozenset((*own, *family, "project")), {"table": lists})
    for name in OF_FAMILY:
        yield name, of_family
    yield "findings", Desk(frozenset((*own, "table", "project", "name")), {})
    for part in tuple(definitions.parts.values())[:1]:
        makers = part_makers(PartCase(definitions, part, ()))
        of_part = {"table": PART_TABLES, "facts": PART_LISTS}
        yield "part", Desk(frozenset((*own, *makers, "project", "part")), of_part)
    blocks: Mapping[str, Collection[str]] = {
        "table": MACHINE_TABLES,
        "figure": DRAWINGS,
        "family_table": lists,
    }
    for machines, names in ((builds, definitions.project.documents), (bare, ("platform", "guide"))):
        for example in machines[:1]:
            known = {
                *own,
                "prose",
                *machine_makers(example, {}, templates.texts),
                *machine_variables(example),
            }
            known |= {"family_table"} if example.build is None else set()
            keys = frozenset(key for machine in machines for key in machine.facts)
            for name in names:
                yield name, Desk(frozenset(known), blocks, keys)


def _read(
    name: str, templates: Templates, desk: Desk, classes: Classes, seen: tuple[str, ...] = ()
) -> Iterator[Finding]:
    """Findings in a template and in what it includes; the first that cannot be read is the last.

    The shipped ones are not read: tests of ours do that.
    """
    if templates.ours(name):
        return
    sandbox = templates.environment
    try:
        assert sandbox.loader is not None
        tree = sandbox.parse(sandbox.loader.get_source(sandbox, name)[0], name)
        others = _others(tree)
        taken = {node.name for node in tree.find_all(nodes.Name) if node.ctx != "load"}
        undeclared = meta.find_undeclared_variables(tree) - desk.names - set(sandbox.globals)
        wrong = [
            *_names(tree, undeclared),
            *_fields(tree, taken, classes),
            *_calls(tree, taken, desk),
        ]
        sandbox.compile(tree, name, raw=True)
    except (TemplateError, UnicodeDecodeError) as error:
        line = getattr(error, "lineno", None) or 1
        yield finding_at(error, name, line, templates, desk.names)
        return
    for line, mistake in wrong:
        yield finding_at(mistake, name, line, templates, desk.names)
    inner = Desk(desk.names | taken, desk.blocks, desk.figures)
    for line, other in others:
        if other in (*seen, name):
            continue
        if other not in sandbox.list_templates():
            yield finding_at(TemplateNotFound(other), name, line, templates, desk.names)
        else:
            yield from _read(other, templates, inner, classes, (*seen, name))


def _others(tree: nodes.Template) -> list[tuple[int, str]]:
    """The templates that a template names outright; one that may be missing is left out."""
    return [
        (node.lineno, node.template.value)
        for node in tree.find_all(nodes.Stmt)
        if isinstance(node, nodes.Extends | nodes.Include | nodes.Import | nodes.FromImport)
        and isinstance(node.template, nodes.Const)
        and isinstance(node.template.value, str)
        and not (isinstance(node, nodes.Include) and node.ignore_missing)
    ]


def _names(tree: nodes.Template, undeclared: set[str]) -> Iterator[tuple[int, Exception]]:
    asked = {
        id(node.node)
        for node in tree.find_all((nodes.Test, nodes.Filter))
        if node.name in ("defined", "undefined", "default", "d")
    }
    spared = {node.name for node in tree.find_all(nodes.Name) if id(node) in asked}
    for node in tree.find_all(nodes.Name):
        if node.name in undeclared - spared:
            yield node.lineno, MissingNameError(None, node.name, None)


def _fields(
    tree: nodes.Template, taken: set[str], known: Classes
) -> Iterator[tuple[int, Exception]]:
    """Fields that no value of the name's class has."""
    for node in tree.find_all(nodes.Getattr):
        if isinstance(node.node, nodes.Name) and node.node.name not in taken:
            classes = known.get(node.node.name, ())
            if classes and not any(node.attr in dir(each) for each in classes):
                yield node.lineno, MissingNameError(None, node.attr, classes[0])


def _calls(tree: nodes.Template, taken: set[str], desk: Desk) -> Iterator[tuple[int, Exception]]:
    """Blocks and figures, called by a name that is written out and that nothing has."""
    for node in tree.find_all(nodes.Call):
        if not isinstance(node.node, nodes.Name) or node.node.name in taken:
            continue
        block = node.node.name
        names = [each.value for each in node.args if isinstance(each, nodes.Const)]
        texts = [name for name in names if isinstance(name, str)]
        if block in desk.blocks:
            known = desk.blocks[block]
            word = {"facts": "list", "family_table": "table"}.get(block, block)
            for name in texts[:1]:
                if name not in known:
                    help_ = question(did_you_mean(name, known)) or f"there are {', '.join(known)}"
                    told = f"no {word} is named `{name}`"
                    yield node.lineno, AuthorError(told, help_, word=name)
        elif block in ("fact", "facts") and desk.figures is not None:
            yield from ((node.lineno, each) for each in _figures(block, texts, desk.figures))


def _figures(block: str, keys: list[str], known: Collection[str]) -> Iterator[AuthorError]:
    if block == "facts" and len(keys) == 1 and keys[0] in MACHINE_LISTS:
        return
    for key in keys:
        beginning = block == "facts" and key.endswith(".")
        if any(each.startswith(key) for each in known) if beginning else key in known:
            continue
        candidates = (*known, *MACHINE_LISTS) if block == "facts" else tuple(known)
        hint = question(did_you_mean(key, candidates))
        yield AuthorError(f"no figure is named `{key}`", hint, word=key)
