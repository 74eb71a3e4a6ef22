"""Files of a project, and YAML as a tree with places."""

from specgen.source.collector import lasting
from specgen.source.files import (
    PROJECT_FILE,
    NoProject,
    SourceFile,
    Sources,
    find_project,
    read_file,
    read_project,
)
from specgen.source.tree import (
    Fields,
    Items,
    Node,
    Written,
    plain_value,
    read_tree,
    span_at,
    step_into,
)

__all__ = [
    "PROJECT_FILE",
    "Fields",
    "Items",
    "NoProject",
    "Node",
    "SourceFile",
    "Sources",
    "Written",
    "find_project",
    "lasting",
    "plain_value",
    "read_file",
    "read_project",
    "read_tree",
    "span_at",
    "step_into",
]
