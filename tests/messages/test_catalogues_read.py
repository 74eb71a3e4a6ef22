"""Catalogues read by our own pattern are what Babel reads of them."""

from collections.abc import Mapping
from gettext import c2py
from io import BytesIO

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import PoFileError, read_po, write_po
from hypothesis import given
from hypothesis import strategies as st

from specgen.messages import SOURCE
from specgen.messages.catalogue import languages
from specgen.messages.po import read_catalogue
from specgen.shipped import languages_folder

HEADER = """msgid ""
msgstr ""
"Content-Type: text/plain; charset=utf-8\\n"
"Plural-Forms: nplurals=2; plural=(n > 1);\\n"

"""
NUMBERS = range(30)
Messages = Mapping[tuple[str, str], tuple[str, ...]]


def by_babel(content: bytes, name: str) -> tuple[Messages, list[int]]:
    """Messages, and which form the first numbers take."""
    read = read_po(BytesIO(content), locale=name, abort_invalid=True)
    found = {}
    for each in read:
        forms = (each.string,) if isinstance(each.string, str) else tuple(each.string)
        text = each.id if isinstance(each.id, str) else each.id[0]
        if text and all(forms) and not each.fuzzy:
            found[each.context or "", text] = forms
    return found, [*map(c2py(read.plural_expr), NUMBERS)]


def by_us(content: bytes, name: str) -> tuple[Messages, list[int]]:
    messages, rule = read_catalogue(content, name)
    assert rule is not None
    return messages, [rule(number) for number in NUMBERS]


@pytest.mark.parametrize("name", [each for each in languages() if each != SOURCE])
def test_what_is_shipped_is_read_alike(name: str) -> None:
    content = (languages_folder() / f"{name}.po").read_bytes()
    messages, forms = by_us(content, name)
    assert len(messages) > 3000
    assert (messages, forms) == by_babel(content, name)


FORMS = {
    "several lines": 'msgid ""\n"one "\n  "two"\nmsgstr "eins"\n" zwei"\n',
    "signs escaped": r'msgid "a \"b\"\tc\\n\nd\e"' + "\n" + r'msgstr "\"\\\"\a\r"' + "\n",
    "a sign at the end": 'msgid "a\\\\"\nmsgstr "b\\\\"\n',
    "quotes that are not escaped": 'msgid "a "b" c"\nmsgstr "d"e"\n',
    "a context": 'msgctxt "unit"\nmsgid "U"\nmsgstr "HE"\n\nmsgid "U"\nmsgstr "Uhr"\n',
    "forms": 'msgid "one"\nmsgid_plural "more"\nmsgstr[0] "eins"\nmsgstr[1] "viele"\n',
    "forms out of order": 'msgid "o"\nmsgid_plural "m"\nmsgstr[1] "viele"\nmsgstr[0] "eins"\n',
    "long forms": 'msgid "o"\nmsgid_plural ""\n"m"\nmsgstr[0] ""\n"ei"\n"ns"\nmsgstr[1] "v"\n"i"\n',
    "a form too few": 'msgid "one"\nmsgid_plural "more"\nmsgstr[0] "eins"\n',
    "an empty form": 'msgid "o"\nmsgid_plural "m"\nmsgstr[0] "eins"\nmsgstr[1] ""\n',
    "a context and no text": 'msgctxt "a"\nmsgid ""\nmsgstr "b"\n',
    "nothing said": 'msgid "a"\nmsgstr ""\n\nmsgid "b"\nmsgstr "c"\n',
    "comments": '# of a person\n#. of a program\n#: a.py:1\n#| msgid "b"\nmsgid "a"\nmsgstr "c"\n',
    "fuzzy": '#, python-format, fuzzy\nmsgid "a"\nmsgstr "b"\n\nmsgid "c"\nmsgstr "d"\n',
    "fuzzy in a comment": '# fuzzy\n#. #, fuzzy\n#, c-format\nmsgid "a"\nmsgstr "b"\n',
    "no longer said": (
        '#~ msgid "a"\n#~ msgstr "b"\n\nmsgid "c"\nmsgstr "d"\n#~ msgid "e"\n#~ msgstr ""\n'
    ),
    "fuzzy and no longer said": '#, fuzzy\n#~ msgid "a"\n#~ msgstr "b"\n\nmsgid "c"\nmsgstr "d"\n',
    "said twice": 'msgid "a"\nmsgstr "b"\n\nmsgid "a"\nmsgstr "c"\n',
    "said twice, once fuzzy": 'msgid "a"\nmsgstr "b"\n\n#, fuzzy\nmsgid "a"\nmsgstr "c"\n',
    "twice, then of many": (
        'msgid "a"\nmsgstr "b"\n\nmsgid "a"\nmsgid_plural "as"\nmsgstr[0] "c"\nmsgstr[1] "d"\n'
    ),
    "no blank lines": 'msgid "a"\nmsgstr "b"\nmsgid "c"\nmsgstr "d"',
    "blank lines within": 'msgid "a"\n\nmsgstr "b"\n\n\n"c"\n',
    "blanks": '  msgid  "a"  \n\t"b"\t\n msgstr   "c"\n',
    "lines of another system": 'msgid "a"\r\n"b"\r\nmsgstr "c"\r\n\r\nmsgid "d"\r\nmsgstr "e"\r\n',
    "a comment at the end": 'msgid "a"\nmsgstr "b"\n# no more',
}
WRONG = {
    "no translation": 'msgid "a"\n\nmsgid "b"\nmsgstr "c"\n',
    "a word that nobody knows": 'msgid "a"\nmsgstr "b"\nmessage "c"\n',
    "no word": '"a"\nmsgstr "b"\n',
    "a conflict": '#-#-#-#-#  de.po  #-#-#-#-#\nmsgid "a"\nmsgstr "b"\n',
    "letters": "a line of text\n",
}


@pytest.mark.parametrize("written", FORMS.values(), ids=FORMS)
def test_what_people_and_tools_write_is_read_alike(written: str) -> None:
    content = f"{HEADER}{written}".encode()
    assert by_us(content, "de") == by_babel(content, "de")


@pytest.mark.parametrize("written", WRONG.values(), ids=WRONG)
def test_what_is_no_catalogue_is_none_to_both(written: str) -> None:
    content = f"{HEADER}{written}".encode()
    assert read_catalogue(content, "de") == ({}, None)
    head = HEADER if not written.startswith('"') else ""
    with pytest.raises(PoFileError):
        read_po(BytesIO(f"{head}{written}".encode()), abort_invalid=True)


@pytest.mark.parametrize("name", ["de", "fr", "ja", "pl", "pt_BR", "xx", ""])
def test_a_catalogue_without_a_rule_has_that_of_its_language(name: str) -> None:
    content = b'msgid "a"\nmsgstr "b"\n'
    assert by_us(content, name.replace("_", "-")) == by_babel(content, name or "xx")


@pytest.mark.parametrize("letters", ["ISO-8859-1", "cp1252", "CHARSET", "UTF-8"])
def test_letters_are_those_of_the_header(letters: str) -> None:
    written = HEADER.replace("charset=utf-8", f"charset={letters}") + 'msgid "a"\nmsgstr "ä ß"\n'
    content = written.encode("utf-8" if letters == "CHARSET" else letters)
    assert by_us(content, "de") == by_babel(content, "de")
    assert by_us(content, "de")[0] == {("", "a"): ("ä ß",)}


TEXTS = st.text(st.sampled_from('ab"\\ nt#~{}[]äあ\n'), max_size=9)


@given(st.lists(st.tuples(TEXTS, TEXTS, TEXTS), max_size=6))
def test_what_babel_writes_is_read(entries: list[tuple[str, str, str]]) -> None:
    catalogue = Catalog("de")
    for context, text, said in entries:
        if text:
            catalogue.add(text, said, context=context or None, user_comments=[said])
    made = BytesIO()
    write_po(made, catalogue)
    assert by_us(made.getvalue(), "de") == by_babel(made.getvalue(), "de")
