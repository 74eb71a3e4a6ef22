"""Documents about several systems: side by side, or an order of them for one place."""

from collections.abc import Iterable, Mapping

from specgen.document.blocks.makers import comparison_blocks, order_blocks
from specgen.document.case import DRAFT, Case
from specgen.document.compose import Composed, compose
from specgen.document.maker import BlockFunction
from specgen.document.several import Compared, Order
from specgen.document.shared_texts import errors_of
from specgen.document.template import Templates
from specgen.model import Definitions


def comparison_document(
    templates: Templates, compared: Compared, name: str = "comparison"
) -> Composed:
    """Platforms or builds side by side, by the name of the template without `.md`."""
    variables: dict[str, object] = {
        "title": compared.title,
        "platforms": compared.bare,
        "only_differences": compared.only_differences,
    }
    blocks = comparison_blocks(compared)
    return _composed(name, templates, compared.definitions, variables, blocks, compared.cases)


def order_document(templates: Templates, order: Order, name: str = "site-preparation") -> Composed:
    """Builds, each so many times: what a place must have ready, or what is to be ordered."""
    wrong = errors_of(templates.texts, order.definitions)
    if wrong:
        return None, wrong
    first = order.lines[0][0]
    variables: dict[str, object] = {
        "title": order.title,
        "build": first.build if order.single else None,
        "platform": first.platform if order.single else None,
    }
    return _composed(
        name,
        templates,
        order.definitions,
        variables,
        order_blocks(order, templates.texts),
        [case for case, _ in order.lines],
    )


def _composed(
    name: str,
    templates: Templates,
    definitions: Definitions,
    variables: Mapping[str, object],
    functions: Mapping[str, BlockFunction],
    cases: Iterable[Case],
) -> Composed:
    project = definitions.project
    return compose(
        f"{name}.md",
        templates,
        variables={"project": project, **variables},
        functions=functions,
        project=project,
        tidy=True,
        mark=DRAFT if any(each.is_draft for each in cases) else "",
    )
