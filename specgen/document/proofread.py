"""Templates read without being filled in: what would stop them, found before anything is made.

Syntax, names, filters, blocks and values that a template writes out are looked up; what only a
run can tell (a name that is put together, a value that is missing) is left to the run.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import field, replace

from jinja2 import TemplateError, TemplateNotFound, meta, nodes

from specgen.diagnostics import Finding, arrange, suggested
from specgen.document.audience import AUDIENCES, CUSTOMER, LEAST, audience_of, check_readers
from specgen.document.blocks.fact_makers import fact_makers, order_cells, system_cells
from specgen.document.blocks.makers import (
    NO_BLOCK,
    comparison_blocks,
    family_blocks,
    order_blocks,
    part_blocks,
    system_blocks,
)
from specgen.document.blocks.tables import (
    COMPARED_LISTS,
    COMPARED_TABLES,
    ORDER_LISTS,
    ORDER_TABLES,
    PART_LISTS,
    PART_TABLES,
    SERVICE_BLOCKS,
    SYSTEM_LISTS,
    SYSTEM_TABLES,
)
from specgen.document.call_arguments import check_call
from specgen.document.case import Case, FamilyCase, PartCase, no_systems
from specgen.document.document_types import system_variables
from specgen.document.faults import finding_at, left_to_do
from specgen.document.figures import DRAWINGS
from specgen.document.illustrated.contact_sheet import contact_sheet
from specgen.document.illustrated.placed_picture import picture_block
from specgen.document.maker import AuthorError, BlockFunction
from specgen.document.prose.block import prose_block
from specgen.document.prose.text_subjects import Subjects
from specgen.document.sandbox import MissingNameError
from specgen.document.several import Compared, Order
from specgen.document.shared_texts import mistakes
from specgen.document.side_by_side import SIDES
from specgen.document.template import Templates, guarded
from specgen.document.template_links import dead_links_of
from specgen.document.tree_calls import calls
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

    `makers` are those of facts, which tell of a name that no system has.
    """

    names: frozenset[str]
    blocks: Mapping[str, Collection[str]]
    makers: Mapping[str, BlockFunction] = field(default_factory=dict)
    functions: Mapping[str, BlockFunction] = field(default_factory=dict)
    """All that they may call, which tells of arguments that it does not take."""
    audience: str | None = CUSTOMER
    """Whom the document is for; None where only a run tells."""


def proofread(
    templates: Templates, definitions: Definitions, builds: Iterable[Case], bare: Iterable[Case]
) -> tuple[Finding, ...]:
    """What would stop the templates that the project uses.

    `builds` and `bare` platforms are the systems to look up facts in.
    """
    found: list[Finding] = []
    there, classes = set(templates.names()), _classes(definitions)
    for name, desk in _desks(definitions, templates, tuple(builds), tuple(bare)):
        if name in there:
            found += left_to_do(f"{name}.md", templates)
            found += dead_links_of(f"{name}.md", templates)
            found += _read(f"{name}.md", templates, desk, classes)
    found += mistakes(templates.texts, definitions)
    return arrange(dict.fromkeys(found))


def _desks(
    definitions: Definitions,
    templates: Templates,
    builds: tuple[Case, ...],
    bare: tuple[Case, ...],
) -> Iterator[tuple[str, Desk]]:
    own = ("subtitle", "audience", "numbered", "meta", "say")
    family = family_blocks(FamilyCase(definitions, {}, {}))
    laid_out = {name: maker for name, maker in family.items() if name != "table"}
    names = frozenset((*own, *family, "project"))
    of_family = Desk(names, {"table": ("parts",)}, laid_out, functions=family)
    for name in OF_FAMILY:
        yield name, of_family
    yield "findings", Desk(frozenset((*own, "table", "project", "name")), {})
    for part in tuple(definitions.parts.values())[:1]:
        functions = part_blocks(PartCase(definitions, part, ()))
        of_part = {"table": PART_TABLES, "facts": PART_LISTS}
        names = frozenset((*own, *functions, "project", "part", "kind"))
        yield "part", Desk(names, of_part, functions=functions)
    yield from _of_several(definitions, templates, builds, own)
    blocks: Mapping[str, Collection[str]] = {
        "table": SYSTEM_TABLES,
        "facts": SYSTEM_LISTS,
        "figure": DRAWINGS,
        "picture": definitions.illustrations,
        "service": SERVICE_BLOCKS,
    }
    for systems, names_of in (
        (builds, definitions.project.documents),
        (bare, ("platform", *_of_platforms(definitions))),
    ):
        for example in systems[:1]:
            builds_too = {} if example.build else {"build_table": family["build_table"]}
            functions = {
                **system_blocks(example, {}, templates.texts),
                "prose": prose_block(example, None, "", no_systems),
                "picture": picture_block(None, Subjects(definitions)),
                "contact_sheet": contact_sheet(None, Subjects(definitions)),
                **builds_too,
            }
            known = {*own, *functions, *system_variables(example)}
            makers = {**fact_makers(system_cells(example)), **builds_too}
            for name in names_of:
                yield name, Desk(frozenset(known), blocks, makers, functions)


def _of_platforms(definitions: Definitions) -> tuple[str, ...]:
    """The documents that platforms want published, those of builds aside."""
    wanted = dict.fromkeys(
        name for each in definitions.platforms.values() for name in each.documents
    )
    return tuple(name for name in wanted if name not in definitions.project.documents)


def _of_several(
    definitions: Definitions,
    templates: Templates,
    builds: tuple[Case, ...],
    own: tuple[str, ...],
) -> Iterator[tuple[str, Desk]]:
    """What templates about an order and about systems side by side may use."""
    for example in builds[:1]:
        order = Order(definitions, ((example, 1),))
        functions = order_blocks(order, templates.texts)
        names = frozenset((*own, *functions, "project", "title", "build", "platform"))
        blocks = {"table": ORDER_TABLES, "facts": ORDER_LISTS}
        of_order = Desk(names, blocks, fact_makers(order_cells(order)), functions)
        if "site-preparation" not in definitions.project.documents:
            yield "site-preparation", of_order
        functions = comparison_blocks(Compared(definitions, (example,)))
        names = frozenset((*own, *functions, "project", "title", "platforms", "only_differences"))
        of_compared: Mapping[str, Collection[str]] = {
            "table": COMPARED_TABLES,
            "facts": COMPARED_LISTS,
            "figure": SIDES,
        }
        yield "comparison", Desk(names, of_compared, functions=functions)


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
        desk = replace(desk, audience=_audience(tree, taken, desk.audience))
        wrong = [
            *_names(tree, undeclared),
            *_fields(tree, taken, classes),
            *_calls(tree, taken, desk),
            *_readers(tree, taken, desk.audience),
        ]
        sandbox.compile(tree, name, raw=True)
    except (TemplateError, UnicodeDecodeError) as error:
        line = getattr(error, "lineno", None) or 1
        yield finding_at(error, name, line, templates, desk.names)
        return
    for line, mistake in wrong:
        yield finding_at(mistake, name, line, templates, desk.names)
    inner = replace(desk, names=desk.names | taken)
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
    """Blocks that nothing has, called by a name that is written out; facts that no system has."""
    for call in calls(tree, desk.blocks.keys() - taken):
        known = desk.blocks[call.name]
        message = NO_BLOCK[call.name]
        for name in call.args[:1]:
            if isinstance(name, str) and name not in known:
                mistake = AuthorError(message.filled(name=name), suggested(name, known), word=name)
                yield call.line, mistake
    for call in calls(tree, desk.functions.keys() - desk.makers.keys() - taken):
        try:
            check_call(call.name, desk.functions[call.name], call.args, call.kwargs)
        except AuthorError as mistake:
            yield call.line, mistake
    for call in calls(tree, desk.makers.keys() - taken):
        try:
            guarded(call.name, desk.makers[call.name])(*call.args, **call.kwargs)
        except AuthorError as mistake:
            yield call.line, mistake


def _audience(tree: nodes.Template, taken: set[str], of_includer: str | None) -> str | None:
    """Whom a template says its document is for; a piece of one leaves that to the whole."""
    said = [call.args[0] for call in calls(tree, {"audience"} - taken) if call.args]
    if said:
        return str(said[0]) if said[0] in AUDIENCES else None
    return None if any(tree.find_all(nodes.Extends)) else of_includer


def _readers(
    tree: nodes.Template, taken: set[str], audience: str | None
) -> Iterator[tuple[int, Exception]]:
    """Audiences that there are not, and blocks that are not for those whom the document is for."""
    for call in calls(tree, {"audience"} - taken):
        for word in call.args[:1]:
            try:
                audience_of(CUSTOMER if word is None else word)
            except AuthorError as mistake:
                yield call.line, mistake
    if audience is None:
        return
    for call in calls(tree, {maker for maker, _ in LEAST} - taken):
        try:
            check_readers(call.name, call.args[0] if call.args else "", audience)
        except AuthorError as mistake:
            yield call.line, mistake
