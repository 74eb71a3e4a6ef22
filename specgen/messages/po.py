"""Catalogues of translations, gettext's `.po` files, read by one pattern an entry.

Babel reads the same into objects that hold all that a translator wants to know, which takes five
times as long; it stays for those who write such files. Tests hold this to Babel. Source of the
form: the GNU gettext manual, "The Format of PO Files".
"""

import re
from collections.abc import Callable, Mapping
from functools import lru_cache
from gettext import c2py
from typing import Final

Said = tuple[str, str]
"""Context and text of a message."""
PluralForm = Callable[[int], int]

UTF_8: Final = "utf-8"
_SEAM: Final = re.compile(r'"[ \t]*\n\s*"')
"""Between two lines of one text."""
_TEXT: Final = r'[ \t]*+"(.*)"\s*+'
_NOTES: Final = r"(?:[ \t]*+(?:#(?!-).*+)?\n)*+[ \t]*+"
"""Blank lines and comments, but for what a merge has left in conflict (`#-`)."""
_ENTRY: Final = re.compile(
    rf"({_NOTES})(?:msgctxt{_TEXT})?+msgid{_TEXT}"
    rf'(?:msgstr{_TEXT}|msgid_plural.*\s*+((?:msgstr\[[0-9]\][ \t]*+".*"\s*+)++))'
    rf"|{_NOTES}(?:#(?!-).*+)?\Z"
    r"|([\s\S]++)"
)
"""An entry; the end of the file; what is neither, up to that end."""
_FORM: Final = re.compile(rf"msgstr\[([0-9])\]{_TEXT}")
_ESCAPED: Final = re.compile(r'\\([\\"abfnrtv])')
_SIGNS: Final = {"a": "\a", "b": "\b", "f": "\f", "n": "\n", "r": "\r", "t": "\t", "v": "\v"}
_FUZZY: Final = re.compile(r"^[ \t]*#,.*\bfuzzy\b", re.MULTILINE)
_CHARSET: Final = re.compile(rb'"Content-Type:[^"\n]*charset=([^\s;"\\]+)', re.IGNORECASE)
_PLURAL_FORMS: Final = re.compile(
    r"^Plural-Forms:\s*nplurals=\s*([0-9]+)\s*;\s*plural=([^;\n]*)", re.IGNORECASE | re.MULTILINE
)


def read_catalogue(
    content: bytes, name: str
) -> tuple[Mapping[Said, tuple[str, ...]], PluralForm | None]:
    """The messages of a `.po` file, each with its forms, and its rule of plurals.

    None where it is none: where a line is no part of an entry, or nobody knows its letters or its
    rule of plurals.
    """
    return _known(content, name)[:2]


def read_outdated(content: bytes, name: str) -> Mapping[Said, tuple[str, ...]]:
    """The messages of a `.po` file that are marked as fuzzy: their texts have changed since."""
    return _known(content, name)[2]


Known = tuple[Mapping[Said, tuple[str, ...]], PluralForm | None, Mapping[Said, tuple[str, ...]]]


@lru_cache(16)
def _known(content: bytes, name: str) -> Known:
    try:
        return _read(content, name)
    except (ValueError, LookupError):
        return {}, None, {}


def _read(content: bytes, name: str) -> Known:
    found: dict[Said, tuple[str, ...]] = {}
    of_many, fuzzy = set[Said](), set[Said]()
    whole = _SEAM.sub("", _decoded(content))
    for notes, about, text, form, many, astray in _ENTRY.findall(whole):
        if astray:
            raise ValueError("a line that is part of no entry")
        said = about, text
        if about or "\\" in text:
            said = _plain(about), _plain(text)
        if "fuzzy" in notes and _FUZZY.search(notes, max(notes.rfind("\n#~"), 0)):
            fuzzy.add(said)
        if many and said not in of_many:
            of_many.add(said)
            found[said] = tuple(_plain(each) for _, each in sorted(_FORM.findall(many)))
        elif said not in found:  # the first of several counts
            found[said] = (_plain(form) if "\\" in form else form,)
    header = "".join(found.pop(("", ""), ()))
    number, rule = _plural_forms(header, name)
    for said in [each for each in of_many if len(found[each]) != number]:
        found.pop(said)
    told = {said: forms for said, forms in found.items() if said[1] and all(forms)}
    outdated = {said: told.pop(said) for said in fuzzy if said in told}
    return told, c2py(rule), outdated


def _decoded(content: bytes) -> str:
    named = _CHARSET.search(content)
    letters = named[1].decode().lower() if named else UTF_8
    if letters in (UTF_8, "charset"):  # the latter in what nobody has filled in
        return content.decode().replace("\r\n", "\n")
    # line by line: there are codecs whose time grows with the square of what they are given
    return "\n".join([line.decode(letters) for line in content.splitlines()])


def _plain(text: str) -> str:
    """A text without the signs that it is written with."""
    return _ESCAPED.sub(_sign, text)


def _sign(escaped: re.Match[str]) -> str:
    return _SIGNS.get(escaped[1], escaped[1])


def _plural_forms(header: str, name: str) -> tuple[int, str]:
    """How many forms a message has, and the rule that tells which: CLDR's where none is stated."""
    if stated := _PLURAL_FORMS.search(header):
        return int(stated[1]), stated[2]
    from babel.messages.plurals import get_plural

    from specgen.messages.locales import locale_of

    return get_plural(locale_of(name))
