"""The form of a drawing that lies in a file of its own, with its colours for light and dark."""

from dataclasses import replace
from typing import Final

from specgen.drawings.picture import Element, Picture, written

# The same colours as in print: ink, paper, one second ink. Dark values keep the contrast.
STYLE: Final = """
svg { background: #fcfbf7; font-variant-numeric: tabular-nums; }
a { text-decoration: none; }
a:hover text, a:focus text { text-decoration: underline; }
@media (prefers-color-scheme: dark) {
  svg { background: #171511; }
  text, .letters { fill: #ece6d9; }
  .label-small, .label-reason { fill: #aea697; }
  .box { fill: #171511; stroke: #ece6d9; }
  .channel { stroke: #ece6d9; }
  .ribbon-halo { stroke: #171511; }
  .ribbon-hollow { stroke: #3b2a18; }
  .ribbon-used { stroke: #dfa870; }
  .ribbon-free { stroke: #ece6d9; }
  .ribbon-unusable { stroke: #aea697; }
  .label-flag { fill: #171511; }
  .case, .fit-detail, .fit-empty, .fit-unusable, .plate { fill: #171511; }
  .case, .fit, .over, .mark, .leader, .axis, .chart-line, .limit { stroke: #ece6d9; }
  .case-inner, .case-hole, .hatch, .axis-grid, .fit-unusable { stroke: #aea697; }
  .fit-used { fill: #3b2a18; }
  .fit-built-in { fill: #211e18; }
  .leader-dot { fill: #ece6d9; }
  .flag, .bar { fill: #dfa870; }
}
"""


def standalone(picture: Picture) -> str:
    """A drawing as a file: XML declaration and style sheet added."""
    root = picture.root
    styled = replace(root, children=(Element("style", {}, (STYLE,)), *root.children))
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{written(picture.with_root(styled))}'
