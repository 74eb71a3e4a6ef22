"""Nobody opens files of a project but the gate."""

import ast
from typing import Final

from tests.repo.house import modules, name_of

READS: Final = {
    "open", "read_text", "read_bytes", "glob", "rglob", "iterdir", "walk", "scandir", "listdir",
    "copytree", "copyfile", "copy", "copy2", "fdopen", "FileSystemLoader", "mmap", "memmap",
}  # fmt: skip
OTHERS: Final = {
    "files/gate.py": "the gate itself",
    "extended.py": "packages that are installed",
    "files/locks.py": "locks of runs",
    "files/whole.py": "writes",
    "shipped.py": "templates of ours",
    "document/loader.py": "templates of ours",
    "document/prose/language_words.py": "word lists of ours",
    "document/shared_texts.py": "texts of ours",
    "document/template_calls.py": "templates of ours",
    "messages/catalogue.py": "catalogues of ours",
    "drawings/widths.py": "widths of the shipped fonts",
    "drawings/layout_engine.py": "layouts that were kept",
    "limits/limit_cache.py": "limits that were kept, and the program itself",
    "write/typst_text.py": "letters of the shipped fonts",
    "write/writer_options.py": "the shipped style sheet",
    "source/files.py": "names of folders beside the one that was asked for, to guess at",
    "cli/terminal.py": "templates of ours",
    "cli/manual.py": "the manual of ours",
    "cli/new.py": "writes a new file",
    "cli/audit.py": "a document that the command line names",
    "cli/seal.py": "documents and keys that the command line names",
    "cli/fault_report.py": "writes what is told of a fault of ours",
    "cli/run.py": "the null device",
    "site/page.py": "HTML that this run has written",
    "site/assemble.py": "files that this run has written",
    "site/downloads.py": "files that this run has written",
    "site/preview.py": "names of folders to watch, links left out",
    "site/publish.py": "what was published before",
    "site/others_files.py": "what lies in the published folder",
    "images/raster.py": "bytes that the gate has read",
    "site/workshop.py": "files that this run has written",
    "files/scratch.py": "folders of runs that were killed",
    "files/vouched.py": "entries of the cache and the key to them, in the user's own folders",
}
"""Modules that open something else, and what."""


def test_nobody_opens_a_projects_files_but_the_gate() -> None:
    found = {
        name_of(path).removeprefix("specgen/"): lines
        for path, tree in modules()
        if (lines := _reads(tree))
    }
    assert {name: lines for name, lines in found.items() if name not in OTHERS} == {}
    assert set(OTHERS) - set(found) - {"files/whole.py"} == set()


def _reads(tree: ast.Module) -> list[int]:
    """The lines that read files or folders."""
    return [
        node.lineno
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and _called(node.func) in READS
    ]


def _called(function: ast.expr) -> str:
    """What is called, unless it is something of ours that bears such a name."""
    match function:
        case ast.Name("walk" | "copy" | "read_text"):
            return ""
        case ast.Attribute(ast.Name("nodes"), "walk") | ast.Attribute(ast.Name("self"), "open"):
            return ""
        case ast.Attribute(ast.Attribute(attr="logic"), "copy"):  # a model of the solver
            return ""
        case ast.Name(name) | ast.Attribute(attr=name):
            return name
        case _:
            return ""
