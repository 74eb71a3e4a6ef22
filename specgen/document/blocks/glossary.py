"""The glossary of a document, which `used_terms` cuts down to the terms that it uses."""

from collections.abc import Mapping

from specgen.document.cells.cell_makers import heads, table
from specgen.document.maker import AuthorError
from specgen.document.shared_texts import Texts
from specgen.document.tree import Table
from specgen.document.used_terms import GLOSSARY
from specgen.messages import say


def glossary(texts: Texts, terms: object = None) -> Table | None:
    """The terms of the project's glossary, and those that a template adds or words anew.

    Those that the rest of the document does not use are taken out once it is whole (`used_only`).
    Raises `AuthorError`.
    """
    own = {} if terms is None else terms
    if not isinstance(own, Mapping) or not all(
        isinstance(word, str) and isinstance(meaning, str) for word, meaning in own.items()
    ):
        raise AuthorError(
            say("a glossary is made of terms and their meanings"),
            say("write `{text}`", text='glossary({"TERM": "…"})'),
        )
    known = {**{each.term: each.means for each in texts.glossary}, **own}
    order = sorted(known.items(), key=lambda entry: entry[0].casefold())
    rows = [((say(term),), (say(meaning),)) for term, meaning in order]
    columns = heads(say("Term"), say("What it means"))
    return table(say("Glossary"), columns, list(rows), GLOSSARY)
