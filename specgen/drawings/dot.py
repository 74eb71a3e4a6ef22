"""Measured groups as a graph for the layout program: sizes and anchors only, no word of text.

Systems built alike give the same graph whatever their parts are called, and nothing that
somebody defined can be taken for DOT.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

import graphviz

from specgen.drawings.diagram import Diagram
from specgen.drawings.plan import LEAD_IN, LEAD_OUT, USUAL, Breadths, PlacedGroup, RibbonEnd

_TABLE: Final = '<table border="0" cellborder="0" cellspacing="0" cellpadding="0">'
_GRAPH: Final = {"rankdir": "LR", "splines": "true"}
_NODE: Final = {"shape": "none", "margin": "0", "label": ""}
_EDGE: Final = {"dir": "none"}


def dot(diagram: Diagram, groups: Sequence[PlacedGroup], breadths: Breadths = USUAL) -> str:
    """The graph as DOT; nodes are named after groups, edges carry the ids of ribbons."""
    attributes = _GRAPH | {"nodesep": str(breadths.rows), "ranksep": str(breadths.ranks)}
    graph = graphviz.Digraph("topology", graph_attr=attributes, node_attr=_NODE, edge_attr=_EDGE)
    for group in groups:
        graph.node(group.group.id, label=_sides(group))
    tails = {anchor.ribbon: group.group.id for group in groups for anchor in group.right}
    heads = {anchor.ribbon: group.group.id for group in groups for anchor in group.left}
    for ribbon in diagram.ribbons:
        tail, head = tails[ribbon.id], heads[ribbon.id]
        graph.edge(
            f"{tail}:{ribbon.id}:e",
            f"{head}:{ribbon.id}:w",
            id=ribbon.id,
            weight=str(max(1, ribbon.lanes // 2)),
        )
    _order(graph, groups, set(heads.values()))
    return str(graph.source)


def _order(graph: graphviz.Digraph, groups: Sequence[PlacedGroup], reached: set[str]) -> None:
    """Processors below one another on the left; what no lanes reach, in the rightmost column."""
    first = [group.group.id for group in groups if group.group.flanked]
    third = any(group.right and group.left for group in groups)
    if len(first) > 1:
        with graph.subgraph(graph_attr={"rank": "same"}) as rank:
            for upper, lower in pairwise(first):
                rank.edge(upper, lower, style="invis")
    for group in groups:
        id_ = group.group.id
        if first and id_ not in reached and id_ not in first:
            graph.edge(first[0], id_, style="invis", minlen="2" if third else "1")


def _sides(group: PlacedGroup) -> str:
    """A table of fixed size whose outer columns hold a cell for each anchor."""
    middle = round(group.width + LEAD_IN + LEAD_OUT) - 4
    centre = f'<td width="{middle}" height="{group.height}" fixedsize="true"></td>'
    left, right = _side(group.left, group.height), _side(group.right, group.height)
    return f"<{_TABLE}<tr><td>{left}</td>{centre}<td>{right}</td></tr></table>>"


def _side(anchors: Sequence[RibbonEnd], height: int) -> str:
    rows = []
    y = 0
    for anchor in anchors:
        if anchor.top > y:
            rows.append(_row("", anchor.top - y))
        rows.append(_row(f' port="{anchor.ribbon}"', anchor.bottom - anchor.top))
        y = anchor.bottom
    if y < height:
        rows.append(_row("", height - y))
    return f"{_TABLE}{''.join(rows)}</table>"


def _row(port: str, height: int) -> str:
    return f'<tr><td{port} width="2" height="{height}" fixedsize="true"></td></tr>'
