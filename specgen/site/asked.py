"""What readers ask the search for: values by what they are called, and other words for them.

`search/asked.js` names the values that systems have, in the order in which they are asked for, and
the systems that stand for all where a question names none. The values themselves are those of the
comparison, a small script for each system, so that each is written once.

The words of a language stand in its word lists. `search.values`: further words for a value, by its
key, in the order in which they are asked for. `search.alike`: what is typed, and what it is called
here. `search.least`, `search.most`: words that ask for the least or greatest of something, and as
what they are read with the words beside them, in one way after the other. `search.idle`: words
that say nothing by themselves.
"""

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from specgen.document.prose.language_words import word_lists
from specgen.messages import Language
from specgen.model import Definitions
from specgen.quantity.units import LADDERS, ONE
from specgen.site.addresses import ways
from specgen.site.comparison_page import ComparedSystem, Rows, shard_path
from specgen.site.limit_pages import limits_path
from specgen.site.search import FOLDER

PATH: Final = f"{FOLDER}/asked.js"


def examples_of(
    definitions: Definitions, platforms: Iterable[ComparedSystem], builds: Mapping[str, str]
) -> list[tuple[str, str]]:
    """The systems that stand for all: every platform, and one build of each. `builds` are names
    by id.
    """
    shown = {definitions.builds[name].platform: name for name in reversed(list(builds))}
    return [
        *((each.reference, each.name) for each in platforms),
        *((f"build:{name}", builds[name]) for name in sorted(shown.values())),
    ]


def asked(
    rows: Rows, examples: Iterable[tuple[str, str]], facts_page: str, language: Language
) -> bytes:
    """The script that tells what can be asked for.

    `rows` are labels by key; `examples` are references and names of systems; `facts_page` is what
    the page behind a system's values is called.
    """
    spoken = word_lists(language.tag)
    search = spoken.get("search", {})
    further: Mapping[str, str] = search.get("values", {})
    keys: Sequence[str] = [key for key in further if key in rows]
    keys = [*keys, *(key for key in rows if key not in further and not key.startswith("about."))]
    data = {
        "ways": ways(facts_page, shard_path("{kind}:{name}"), limits_path("{name}")),
        "keys": [
            [key, language.text(rows[key]), " ".join((key.replace("_", " "), further.get(key, "")))]
            for key in keys
        ],
        "examples": list(examples),
        "alike": search.get("alike", {}),
        "least": search.get("least", {}),
        "most": search.get("most", {}),
        "endings": spoken.get("endings", ()),
        "numbers": spoken.get("numbers", {}),
        "sizes": {
            language.unit(unit.sign): float(unit.to_base(ONE) / ladder[0].to_base(ONE))
            for ladder in LADDERS.values()
            for unit in ladder
        },
        "idle": " ".join(search.get("idle", ())),
    }
    told = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
    return f"specgenSearch.asked({told});\n".encode("ascii")
