"""The texts that people write beside the definitions, and where they lie.

`pages/NAME.md` is a page of the site. `prose/SUBJECT/NAME.md` is a piece about a platform, a build
or a part, which a template calls by `{{ prose("NAME") }}`. A text may have a translation beside it:
`NAME.de.md`. A head between two lines `---` may say `subject: ID` (what a page is about),
`language: CODE`, and `allow: [SG505]` (findings that the writer has decided to live with). A page
may say `order: 2`: where it stands in the menu among the pages of its folder, before those without.
"""

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, question
from specgen.files.gate import files, is_file
from specgen.frozen import frozen
from specgen.messages import say
from specgen.model.pedigree import NOWHERE
from specgen.source import YamlMapping, read_file, read_tree

PAGES: Final = "pages"
PROSE: Final = "prose"
LONGEST: Final = 200_000
"""Letters of one text: a book has no more to a chapter, and a parser wants time for each."""
MOST_SIGNS: Final = 30_000
"""Signs in it that Markdown could mean something by."""
MOST_LINES: Final = 15_000
_SIGNS: Final = re.compile(r"[\[\]{}*_`<>&!|\\#]")
_CSV: Final = re.compile(r"""\bcsv\(\s*["']([\w-]+\.csv)["']""")
_HEAD: Final = re.compile(r"---[ \t]*\n(.*?\n)?(?:---|\.\.\.)[ \t]*(?:\n|\Z)", re.DOTALL)
_ORDER: Final = re.compile("[0-9]{1,4}")
_LANGUAGE: Final = re.compile(r"(.+)\.([a-z]{2,3}(?:-[A-Za-z0-9]{2,8})*)")


@frozen
class Prose:
    """One text. `body` is the text with its head blanked, so that places stay what they are.

    `title` is what the head of a page says; `subject` is the id of what it is about, "" for nothing
    in particular; `language` is "" for the project's own; `order` is where a page stands in the
    menu.
    """

    file: str
    text: str
    body: str
    title: str = ""
    subject: str = ""
    subject_at: Span = NOWHERE
    language: str = ""
    allow: tuple[str, ...] = ()
    allow_at: Span = NOWHERE
    order: int | None = None
    beside: tuple[tuple[str, str], ...] = ()
    """Files of comma-separated values that it makes tables of: name and text."""

    @property
    def name(self) -> str:
        """What templates call it by: its file's name without language and ending."""
        stem = self.file.rsplit("/", 1)[-1].removesuffix(".md")
        language = language_of(f"{stem}.md")
        return stem.removesuffix(f".{language}") if language else stem

    @property
    def is_page(self) -> bool:
        """Whether it is a page of the site, rather than a piece of a document."""
        return self.file.startswith(f"{PAGES}/")


def read_texts(root: Path) -> tuple[tuple[Prose, ...], tuple[Finding, ...]]:
    """Every text of a project in the order of its names; one that is not text is a finding.

    What the gate refuses has been told where the project was read.
    """
    texts: list[Prose] = []
    findings: list[Finding] = []
    for folder in (PAGES, PROSE):
        for path in files(root, folder, (".md",)):
            place = path.relative_to(root)
            if folder == PROSE and len(place.parts) < 3:
                findings.append(_astray(place.as_posix()))
                continue
            text, found = read_text(root, path, place.as_posix())
            findings += found
            if text is not None:
                texts.append(text)
    return tuple(texts), tuple(findings)


def read_text(root: Path, path: Path, file: str) -> tuple[Prose | None, tuple[Finding, ...]]:
    """One text of the project in `root`, named `file` in findings."""
    text, findings = read_file(root, path, file)
    crowded = text is not None and (
        len(text) > LONGEST
        or text.count("\n") > MOST_LINES
        or len(_SIGNS.findall(text)) > MOST_SIGNS
    )
    if crowded:
        at = Label(Span(file, 1, 1, 1, 1))
        message = say(
            "a text of more than {most} letters or {lines} lines, or crowded with signs",
            most=LONGEST,
            lines=MOST_LINES,
        )
        return None, (Finding(codes.UNREADABLE, message, at, help=say("split it")),)
    if text is None:
        return None, findings
    made, told = parsed(text, file)
    named = dict.fromkeys(_CSV.findall(text))
    if not named:
        return made, told
    there = [each for each in named if is_file(root, path.parent / each)]
    folder = file.rpartition("/")[0]
    read = [(each, *read_file(root, path.parent / each, f"{folder}/{each}")) for each in there]
    beside = tuple((each, content) for each, content, _ in read if content is not None)
    return replace(made, beside=beside), (*told, *(each for *_, found in read for each in found))


def parsed(text: str, file: str) -> tuple[Prose, tuple[Finding, ...]]:
    """A text given as such: its head read, its subject known."""
    head, body, findings = _head(text, file)
    steps = file.split("/")
    subject, at = "", Span(file, 1, 1, 1, 1)
    if steps[0] == PROSE:
        subject = steps[1]
    elif isinstance(head.get("subject"), str):
        subject, at = str(head["subject"]), head.where("subject")
    language = str(head.get("language", "")) or language_of(steps[-1])
    allowed = head.get("allow", ())
    allow = tuple(map(str, (allowed,) if isinstance(allowed, str) else allowed))
    findings = (*findings, *_of_head(head, steps[0] == PAGES))
    title = str(head["title"]) if isinstance(head.get("title"), str) else ""
    order = str(head.get("order", ""))
    return (
        Prose(
            file,
            text,
            body,
            title,
            subject,
            at,
            language,
            allow,
            head.where("allow"),
            int(order) if _ORDER.fullmatch(order) else None,
        ),
        findings,
    )


def _of_head(head: YamlMapping, page: bool) -> Iterator[Finding]:
    """Fields of a head that mean nothing, or hold what they cannot."""
    known = ("title", "subject", "language", "allow", "order") if page else ("language", "allow")
    for key, value in head.items():
        if key not in known:
            there = ", ".join(f"`{each}`" for each in known)
            yield Finding(
                codes.UNKNOWN_FIELD,
                say("no field is named `{key}`", key=key),
                Label(head.key_where(key), say("not a field here")),
                help=question(did_you_mean(key, known))
                or say("a head may have {there}", there=there),
            )
        elif not isinstance(value, str) and not (key == "allow" and isinstance(value, list)):
            yield Finding(
                codes.WRONG_TYPE,
                say("`{key}` needs text", key=key),
                Label(head.key_where(key)),
            )
        elif key == "order" and not _ORDER.fullmatch(str(value)):
            yield Finding(
                codes.WRONG_TYPE,
                say("`{key}` needs a whole number", key=key),
                Label(head.where(key)),
                help=say("1 stands first"),
            )


def language_of(name: str) -> str:
    """The language that a file's name says: `walk.de.md` is `de`, `walk.md` is ""."""
    match = _LANGUAGE.fullmatch(name.removesuffix(".md"))
    return match[2] if match else ""


def _head(text: str, file: str) -> tuple[YamlMapping, str, tuple[Finding, ...]]:
    empty = YamlMapping()
    empty.span, empty.key_spans = Span(file, 1, 1, 1, 1), {}
    match = _HEAD.match(text)
    if match is None:
        return empty, text, tuple(_half_a_head(text, file))
    body = re.sub(r"[^\n]", " ", match[0]) + text[match.end() :]
    if not (match[1] or "").strip():
        return empty, body, ()
    tree, findings = read_tree("\n" + match[1], file)
    if tree is not None and not isinstance(tree, YamlMapping):
        at = Label(Span(file, 2, 1, 2, 1))
        message = say("a head needs fields, each as `field: value`")
        findings = (*findings, Finding(codes.WRONG_TYPE, message, at))
    return (tree if isinstance(tree, YamlMapping) else empty), body, findings


_OPENED: Final = re.compile(r"---[ \t]*\n(?=[a-z_]+:[ \t])")
_CLOSED: Final = re.compile(r"(?:[a-z_]+:[ \t][^\n]*\n)+---[ \t]*(?:\n|\Z)")


def _half_a_head(text: str, file: str) -> Iterator[Finding]:
    """SG101: a head of which one of the two lines `---` is missing, so that it is printed."""
    opened, closed = _OPENED.match(text), _CLOSED.match(text)
    if opened or closed:
        yield Finding(
            codes.SYNTAX,
            say("a head that is never closed") if opened else say("a head that is never opened"),
            Label(Span(file, 1, 1, 1, max(2, text.index("\n") + 1))),
            help=say("write a line `---` before its fields and one behind them"),
        )


def _astray(file: str) -> Finding:
    return Finding(
        codes.UNKNOWN_SUBJECT,
        say("a piece of prose lies in no subject's folder"),
        Label(Span(file, 1, 1, 1, 1)),
        help=say(
            "put it into `{PROSE}/ID/`, where ID is a platform, a build or a part", PROSE=PROSE
        ),
    )


def in_language(root: Path, folder: str, name: str, language: str) -> Path | None:
    """The file of a text in a language: exactly that one, its base, the one without, any other."""
    there = {path.name: path for path in files(root, folder, (".md",))}
    wanted = [language, language.split("-")[0]]
    names = [f"{name}.{each}.md" for each in dict.fromkeys(wanted)] + [f"{name}.md"]
    for each in names:
        if each in there:
            return there[each]
    return next((there[each] for each in sorted(there) if _is_other(each, name)), None)


def _is_other(file: str, name: str) -> bool:
    language = language_of(file)
    return bool(language) and file == f"{name}.{language}.md"
