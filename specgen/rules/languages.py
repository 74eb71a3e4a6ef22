"""The language that a project names: without a catalogue its documents would be in English."""

from collections.abc import Iterator
from pathlib import Path

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
        or say("one of your own is a catalogue `templates/languages/{tag}.po`", tag=tag),
    )


def _names(word: str, tag: str) -> bool:
    """Whether a word is what the language is called: `german`, `Deutsch`, `jp` for `ja`."""
    from specgen.messages.po import locale_of  # only where a language is not known

    locale = locale_of(tag)
    called = {locale.english_name, locale.display_name, *locale.languages.values()}
    wanted = word.casefold()
    return wanted in {str(each).casefold() for each in called} or (
        len(wanted) == 2 and wanted[0] == tag[0]
    )
