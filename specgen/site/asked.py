"""What readers ask the search for: values by what they are called, and other words for them.

`search/asked.js` names the values that systems have, in the order in which they are asked for, and
the systems that stand for all where a question names none. The values themselves are those of the
comparison, a small script for each system, so that each is written once.
"""

import json
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from typing import Any, Final

from specgen.messages import Language, base_of
from specgen.shipped import languages_folder
from specgen.site.compare import Rows
from specgen.site.search import FOLDER

PATH: Final = f"{FOLDER}/asked.js"


@cache
def _spoken(tag: str) -> Mapping[str, Any]:
    """The words of a language, none where nobody has written them down.

    `search.values`: further words for a value, by its key, in the order in which they are asked
    for. `search.alike`: what is typed, and what it is called here. `search.idle`: words that say
    nothing by themselves.
    """
    path = languages_folder() / f"{base_of(tag)}.toml"
    return tomllib.loads(path.read_text(encoding="utf-8")) if path.is_file() else {}


def asked(
    rows: Rows, examples: Iterable[tuple[str, str]], facts_page: str, language: Language
) -> bytes:
    """The script that tells what can be asked for.

    `rows` are labels by key; `examples` are references and names of systems; `facts_page` is what
    the page behind a system's values is called.
    """
    spoken = _spoken(language.tag)
    search = spoken.get("search", {})
    further: Mapping[str, str] = search.get("values", {})
    keys: Sequence[str] = [key for key in further if key in rows]
    keys = [*keys, *(key for key in rows if key not in further and not key.startswith("about."))]
    data = {
        "facts": facts_page,
        "keys": [
            [key, language.text(rows[key]), " ".join((key.replace("_", " "), further.get(key, "")))]
            for key in keys
        ],
        "examples": list(examples),
        "alike": search.get("alike", {}),
        "endings": spoken.get("endings", ()),
        "numbers": spoken.get("numbers", {}),
        "idle": " ".join(search.get("idle", ())),
    }
    told = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
    return f"specgenSearch.asked({told});\n".encode("ascii")
