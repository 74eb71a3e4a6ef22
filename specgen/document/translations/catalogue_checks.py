"""What is wrong with the catalogues of a project, each told at its line.

Costs nothing where there are none; else the walk over all texts, and a parse of each translated
passage: of the demo's 660 texts a tenth of a second of processor.
"""

from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Message as Entry

from specgen.diagnostics import Finding, Label, Span, arrange, codes, did_you_mean, question
from specgen.document.translations.catalogue_file import NoCatalogue, entries_of, is_translated
from specgen.document.translations.prose_texts import Misfit, misfit
from specgen.document.translations.said import PROSE_OF, Key, Said, own_words, template_words
from specgen.files.gate import NotOpened, files, read
from specgen.messages import NOTHING, Message, Nothing, message_of, say, say_many
from specgen.messages.catalogue import FOLDER, OWN
from specgen.messages.pattern import BadPattern, names_of
from specgen.model import Definitions

MOST_LETTERS = 60
"""Of a text that is told of."""


def catalogues(root: Path) -> tuple[Path, ...]:
    """The catalogues of a project, in the order of their languages."""
    return tuple(files(root, FOLDER, (".po",)))


def check_catalogues(
    root: Path, definitions: Definitions, *, templates: bool = False
) -> tuple[Finding, ...]:
    """SG541 to SG544 of every catalogue; with `templates` also what these say and it lacks."""
    found: list[Finding] = []
    for path in catalogues(root):
        try:
            content = read(root, path)
        except NotOpened:
            continue  # told where the project is read
        file, tag = path.relative_to(root).as_posix(), path.stem
        said = own_words(root, definitions, tag)
        if templates:
            said = {**said, **template_words(root)}
        found += _of_one(content, file, tag, said)
    return arrange(found)


def _of_one(content: bytes, file: str, tag: str, said: Said) -> Iterator[Finding]:
    lines = content.decode("utf-8", "replace").split("\n")
    try:
        entries = entries_of(content)
    except NoCatalogue as problem:
        message = say("a catalogue that cannot be read: {reason}", reason=problem.reason)
        yield Finding(codes.CATALOGUE_UNREADABLE, message, Label(_line(file, lines, problem.line)))
        return
    known = {text for context, text in said if context == OWN}
    for key, entry in entries.items():
        if not is_translated(entry):
            continue
        wrong = _wrong(key, entry, said)
        if wrong is not None:
            at = Label(_place(file, lines, entry, wrong.word))
            yield Finding(codes.TRANSLATION_DIFFERS, wrong.message, at, help=wrong.help)
        if key[0] == OWN and key not in said:
            meant = question(did_you_mean(key[1], known)) if len(key[1]) < MOST_LETTERS else NOTHING
            yield Finding(
                codes.TRANSLATION_UNUSED,
                say("nothing says “{text}” any more", text=_short(key[1])),
                Label(_line(file, lines, entry.lineno or 1)),
                help=meant or _update(tag),
            )
    yield from _missing(entries, said, file, lines, tag)


def _wrong(key: Key, entry: Entry, said: Said) -> Misfit | None:
    """Why a translation cannot be printed; one that is marked as doubtful is left alone."""
    if entry.fuzzy:
        return None
    if key[0] == OWN:
        prose = any(each.of.startswith(PROSE_OF) for each in said.get(key, ()))
        return misfit(key[1], str(entry.string)) if prose else None
    texts = (entry.id,) if isinstance(entry.id, str) else entry.id
    forms = (entry.string,) if isinstance(entry.string, str) else entry.string or ()
    try:
        wanted = {name for text in texts for name in names_of(text)}
    except BadPattern:
        return None  # a message of nobody's
    for form in forms:
        try:
            strange = [name for name in names_of(form) if name not in wanted]
        except BadPattern:
            return Misfit("", say("braces that do not go together"))
        if strange:
            place = f"{{{strange[0]}}}"
            message = say("the text that is translated has no `{reference}`", reference=place)
            return Misfit(place, message, question(did_you_mean(strange[0], wanted)))
    return None


def _missing(
    entries: dict[Key, Entry], said: Said, file: str, lines: list[str], tag: str
) -> Iterator[Finding]:
    """One note, with how many texts are not translated, and how many have changed since."""
    lacking = [key for key in said if key not in entries or not is_translated(entries[key])]
    doubtful = [key for key in said if key not in lacking and entries[key].fuzzy]
    for texts, message in (
        (
            lacking,
            say_many(
                len(lacking),
                "a text has no translation into `{language}`",
                "{number} texts have no translation into `{language}`",
                language=tag,
            ),
        ),
        (
            doubtful,
            say_many(
                len(doubtful),
                "a text has changed since it was translated into `{language}`",
                "{number} texts have changed since they were translated into `{language}`",
                language=tag,
            ),
        ),
    ):
        if texts:
            shown = message_of(f"“{_short(texts[0][1])}”")
            at = entries.get(texts[0])
            place = _line(file, lines, (at.lineno if at is not None else 1) or 1)
            yield Finding(
                codes.TRANSLATION_MISSING,
                message,
                Label(place, say("the first of them") if at is not None else NOTHING),
                notes=(shown,),
                help=_update(tag) if at is None else NOTHING,
            )


def _update(tag: str) -> Message | Nothing:
    return say("`{command}` brings it up to date", command=f"specgen messages update {tag}")


def _short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= MOST_LETTERS else f"{text[:MOST_LETTERS].rstrip()}…"


def _place(file: str, lines: list[str], entry: Entry, word: str) -> Span:
    """A word of a translation, else where the translation begins."""
    first = entry.lineno or 1
    at = next((n for n in range(first, len(lines)) if lines[n].startswith("msgstr")), first - 1)
    for number in range(at, len(lines)):
        if not lines[number].strip():
            break
        column = lines[number].find(word) if word else -1
        if column >= 0:
            return Span(file, number + 1, column + 1, number + 1, column + 1 + len(word))
    return _line(file, lines, at + 1)


def _line(file: str, lines: list[str], number: int) -> Span:
    number = max(1, min(number, len(lines)))
    return Span(file, number, 1, number, max(2, len(lines[number - 1]) + 1))
