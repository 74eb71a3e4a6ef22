"""What stands above a text that there is in another language only."""

from specgen.messages import SOURCE, Words, base_of, say


def notice(shown: str, wanted: str) -> Words:
    """The line above a text in another language than its document's; "" where they agree.

    Languages are named in the one that the sentence will be in. Source of the names: Unicode
    CLDR, as Babel carries it.
    """
    shown, wanted = base_of(shown), base_of(wanted)
    if shown == wanted:
        return ""
    from specgen.messages.catalogue import languages
    from specgen.messages.locales import locale_of  # most texts are in the language wanted

    names = locale_of(wanted if wanted in languages() else SOURCE).languages
    return say(
        "This text is shown in {shown}, as there is none in {wanted} yet.",
        shown=names.get(shown, shown),
        wanted=names.get(wanted, wanted),
    )
