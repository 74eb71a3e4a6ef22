"""Catalogues of translations, gettext's `.po` files, and customs of languages, read with Babel."""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from io import BytesIO
from typing import Any

from babel import Locale, UnknownLocaleError
from babel.messages.catalog import Catalog
from babel.messages.pofile import PoFileError, read_po

from specgen.messages.message import SOURCE


@lru_cache(64)
def locale_of(tag: str) -> Locale:
    """The customs of a language; those of the source for a tag that nobody knows."""
    try:
        return Locale.parse(tag, sep="-")
    except (UnknownLocaleError, ValueError):
        return Locale.parse(SOURCE)


@lru_cache(16)
def read_catalogue(
    content: bytes, name: str
) -> tuple[Mapping[tuple[str, str], tuple[str, ...]], Any]:
    """The messages of a `.po` file and its rule of plurals; none where it is none."""
    try:
        read = read_po(BytesIO(content), locale=name.replace("-", "_"), abort_invalid=True)
        return dict(_messages(read)), _plural_rule(read)
    except (PoFileError, ValueError, LookupError, UnknownLocaleError):
        return {}, None


def _plural_rule(read: Catalog) -> Any:
    from gettext import c2py

    return c2py(read.plural_expr)


def _messages(read: Catalog) -> Iterator[tuple[tuple[str, str], tuple[str, ...]]]:
    for each in read:
        text = each.id[0] if isinstance(each.id, tuple | list) else each.id
        forms = (each.string,) if isinstance(each.string, str) else tuple(each.string or ())
        if text and forms and all(forms) and not each.fuzzy:
            yield (each.context or "", str(text)), forms
