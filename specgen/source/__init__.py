"""Files of a project, and YAML as a tree with places."""

from specgen.source.collector import lasting
from specgen.source.files import (
    PICTURES,
    PROJECT_FILE,
    NoProject,
    SourceFile,
    Sources,
    find_project,
    not_text,
    read_file,
    read_project,
)
from specgen.source.many_mistakes import MOST_MISTAKES, first_mistakes, too_many_mistakes
from specgen.source.yaml_nodes import (
    YamlMapping,
    YamlNode,
    YamlScalar,
    YamlSequence,
    is_marked,
    node_at,
    plain_value,
    span_at,
)
from specgen.source.yaml_tree import read_tree

__all__ = [
    "MOST_MISTAKES",
    "PICTURES",
    "PROJECT_FILE",
    "NoProject",
    "SourceFile",
    "Sources",
    "YamlMapping",
    "YamlNode",
    "YamlScalar",
    "YamlSequence",
    "find_project",
    "first_mistakes",
    "is_marked",
    "lasting",
    "node_at",
    "not_text",
    "plain_value",
    "read_file",
    "read_project",
    "read_tree",
    "span_at",
    "too_many_mistakes",
]
