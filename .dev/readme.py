"""The README as a package index shows it: a hook of hatchling, which runs where a wheel is made.

An index has the text and none of the files beside it, so no link may be relative. `files` under
`[tool.hatch.metadata.hooks.custom]` in `pyproject.toml` says where the files of the project can be
read; links and pictures are put behind it. As long as it is empty, links are their words, and
pictures are left out.
"""

import re
from pathlib import Path
from typing import Any, Final

from hatchling.metadata.plugin.interface import MetadataHookInterface

_LINK: Final = re.compile(
    r"(?P<picture>!?)\[(?P<words>[^\]]*)\]\((?!https?:|#|mailto:)(?P<to>[^)\s]+)\)"
)
_GAPS: Final = re.compile(r"\n{3,}")


class ReadmeHook(MetadataHookInterface):
    """Fills in `readme`, which `pyproject.toml` calls dynamic."""

    PLUGIN_NAME = "custom"

    def update(self, metadata: dict[str, Any]) -> None:
        text = (Path(self.root) / "README.md").read_text(encoding="utf-8")
        shown = absolute(text, str(self.config.get("files", "")))
        metadata["readme"] = {"content-type": "text/markdown", "text": shown}


def absolute(text: str, files: str) -> str:
    """The text with its relative links behind the address `files`, without them where it is "".

    Lines of samples have no links, and keep what looks like one.
    """
    pieces = text.split("```")
    pieces[::2] = [_LINK.sub(lambda found: _link(found, files), piece) for piece in pieces[::2]]
    return _GAPS.sub("\n\n", "```".join(pieces))


def _link(found: re.Match[str], files: str) -> str:
    if files:
        base = files.rstrip("/")
        return f"{found['picture']}[{found['words']}]({base}/{found['to']})"
    return "" if found["picture"] else found["words"]
