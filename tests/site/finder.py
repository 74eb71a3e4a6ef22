"""The scripts of the site's search, run as a browser would run them, over files in memory."""

import json
from pathlib import Path
from typing import Any, Final

from quickjs import Context

from specgen.shipped import theme_folder

LOADER: Final = """
const FILES = {};
const LOADED = [];
globalThis.specgenLoad = async (name) => {
  const path = `${name}.js`;
  if (!(path in FILES) || LOADED.includes(path)) return;
  LOADED.push(path);
  (0, eval)(FILES[path]);
};
let answer = null;
"""


class Finder:
    """What a reader finds; keeps account of the files it loads, by path: bytes."""

    def __init__(self, files: dict[str, str]) -> None:
        self.files = files
        self.engine = Context()
        self.engine.eval(LOADER)
        self.engine.eval(f"Object.assign(FILES, {json.dumps(files)}); null")
        self.engine.eval((theme_folder() / "js/find.js").read_text(encoding="utf-8"))

    def ask(self, text: str) -> dict[str, Any]:
        """What `specgenFind` gives."""
        self.engine.eval(
            f"answer = null; specgenFind({json.dumps(text)}).then("
            "(found) => { answer = JSON.stringify(found); },"
            "(fault) => { answer = String(fault.stack); }); null"
        )
        while self.engine.execute_pending_job():
            pass
        return json.loads(str(self.engine.eval("answer")))  # type: ignore[no-any-return]

    def hits(self, text: str) -> list[str]:
        """Where values and pages lead, in the order in which they are shown."""
        found = self.ask(text)
        groups = [found["values"], found["results"]]
        return [hit["path"] for group in groups[:: -1 if found["named"] else 1] for hit in group]

    def find(self, text: str) -> list[str]:
        """The paths of the pages found, best first."""
        return [result["path"] for result in self.ask(text)["results"]]

    @property
    def loaded(self) -> dict[str, int]:
        """Bytes of the files loaded so far."""
        names = json.loads(str(self.engine.eval("JSON.stringify(LOADED)")))
        return {name: len(self.files[name].encode()) for name in names}


def scripts_of(folder: Path) -> dict[str, str]:
    """The data of a published site's search and comparison."""
    return {
        path.relative_to(folder).as_posix(): path.read_text(encoding="ascii")
        for part in ("search", "compare")
        for path in sorted((folder / part).glob("*.js"))
    }
