"""The language that a project names: without a catalogue its documents would be in English."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

from specgen.diagnostics import Finding, Label, codes, did_you_mean, question
from specgen.messages import base_of, say
from specgen.messages.catalogue import languages_for
from specgen.model import Definitions


def unknown_language(root: Path, definitions: Definitions) -> Iterator[Finding]:
    """SG215: `language` of the project without a catalogue."""
    tag, known = definitions.project.language, languages_for(root)
    if tag in known or base_of(tag) in known:
        return
    meant = did_you_mean(tag, known) or tuple(each for each in known if _names(tag, each))
    listed = ", ".join(f"`{each}`" for each in known)
    yield Finding(
        codes.UNKNOWN_LANGUAGE,
        say("no catalogue has the language `{tag}`", tag=tag),
        Label(definitions.project.origin.at("language"), say("documents would be in English")),
        notes=(say("there are {listed}", listed=listed),),
        help=question(meant)
        or say("one of your own is a catalogue `translations/{tag}.po`", tag=tag),
    )


_CODES: Final[Mapping[str, str]] = {
    "eng": "en",
    "deu": "de",
    "ger": "de",
    "jpn": "ja",
    "jp": "ja",
}
"""Other codes of languages: those of three letters of ISO 639-2; that of a country for its own."""


def _names(word: str, tag: str) -> bool:
    """Whether a word is what the language is called: `german`, `Deutsch`, `jp` for `ja`."""
    from specgen.messages.locales import locale_of  # only where a language is not known

    locale = locale_of(tag)
    called = (locale.english_name, locale.display_name, locale.languages.get(tag))
    wanted = word.casefold()
    return _CODES.get(wanted) == tag or wanted in {str(each).casefold() for each in called}
