"""How a text is written: braces that are closed, pictures with words, nothing left to do."""

import re
from collections.abc import Callable, Iterable, Iterator
from typing import Final

from specgen.diagnostics import Code, Finding, Label, Span, codes
from specgen.document.link_targets import safe_link, safe_target
from specgen.document.prose.parser import MOST_BRACKETS, crowded
from specgen.document.prose.passages import GAP, Passage, ShownPicture
from specgen.document.prose.texts import Prose
from specgen.messages import say
from specgen.source.unfinished_marks import unfinished

SHOWN: Final = 60
"""Letters of a target that a finding shows."""
_BRACE: Final = re.compile(r"[{}]")
_KEY: Final = re.compile(r"\b[a-z_]+(?:\.[a-z0-9_]+)+\s*\Z")
_NAME: Final = re.compile(r"\{\s*[A-Za-z]")


def braces(passage: Passage) -> Iterator[Finding]:
    """SG502: a brace that opens a reference and is not closed, or closes none."""
    open_at: list[int] = []
    astray: list[int] = []
    for found in _BRACE.finditer(passage.flat):
        if found[0] == "{":
            open_at.append(found.start())
        elif open_at:
            open_at.pop()
        else:
            astray.append(found.start())
    for at in sorted((*open_at, *astray)):
        opens = passage.flat[at] == "{"
        named = _NAME.match(passage.flat, at) if opens else _KEY.search(passage.flat[:at])
        if not named or (not opens and "\\{" in passage.content):
            continue
        yield Finding(
            codes.REFERENCE_SYNTAX,
            say("a `{{` that is not closed") if opens else say("a `}}` that closes nothing"),
            Label(passage.span(at, at + 1)),
            help=say("write `}}` after the name; a plain brace is written `\\{{`")
            if opens
            else say("write `{{` before the name; a plain brace is written `\\}}`"),
        )


def levels(all_of_text: Iterable[Passage]) -> Iterator[Finding]:
    """SG514: headings that are deeper by more than one level than the one before.

    Source: WCAG 2.2, technique G141; PDF/UA-1 (ISO 14289-1), 7.4.2.
    """
    before = None
    for each in all_of_text:
        if not each.level:
            continue
        if before is not None and each.level > before.level + 1:
            yield Finding(
                codes.LEVEL_SKIPPED,
                say("a heading of level {level} below one of level {above}",
                    level=each.level, above=before.level),
                Label(each.span(0, len(each.content))),
                labels=(Label(before.span(0, len(before.content)), say("the one above")),),
                help=say("begin it with `{signs}`", signs="#" * (before.level + 1)),
            )  # fmt: skip
        before = each


def crowd(passage: Passage) -> Iterator[Finding]:
    """SG100: a paragraph that is not read, since it has too many brackets."""
    if crowded(passage.content):
        yield Finding(
            codes.UNREADABLE,
            say("a paragraph with more than {most} brackets", most=MOST_BRACKETS),
            Label(passage.span(0, 1)),
            help=say("split it, or write its lines as code"),
        )


def links(passage: Passage, page: bool) -> Iterator[Finding]:
    """SG522: links that run something, carry a page in themselves, or hide another host."""
    for link in passage.targets:
        within = link.href.startswith("/") and not link.href.startswith("//")
        safe = safe_link(link.href) if page else safe_target(link.href)
        if link.href and not within and not safe:
            yield unsafe_link(link.href, passage.span(link.start, link.end))


LOST: Final = (
    (
        re.compile(r"\[[^\[\]\n]+\]\((?![^()\n]*\))"),
        say("a link whose address is not closed"),
        say("close it: `[words](address)`"),
    ),
    (
        re.compile(
            r"\[[^\[\]\n]+\][ \t]+\((?:https?://[^()\s]+|[\w./-]+\.(?:html|md)(?:#[\w-]+)?|#[\w-]+)\)"
        ),
        say("a blank between the words of a link and its address"),
        say("write them side by side: `[words](address)`"),
    ),
    (
        re.compile(  # the words have a letter: looked for ahead, so that no place is tried twice
            r"(?<![\w\]])\[(?=(?:(?![\[\]\n])[\W\d_])*[^\W\d_])[^\[\]\n]*\]\[[^\[\]\n]*\]"
        ),
        say("a link to a reference that the text does not define"),
        say("write the address in round brackets, or define the reference: `[name]: address`"),
    ),
)
"""What was meant as a link, and stands on the page as it was typed."""
_WITHIN: Final = (
    (
        re.compile(rf"\[[^\[\]\n{GAP}]*{GAP}[^\[\]\n]*\]\([^()\n]+\)"),
        say("a link whose words hold another link, or a footnote"),
        say("write that behind the link"),
    ),
)
_WITHOUT_HOST: Final = re.compile(r"https?:(?!//[^/\s])", re.IGNORECASE)


def lost_links(passage: Passage) -> Iterator[Finding]:
    """SG506: links that lead nowhere whatever there is: typed wrong, without address or words."""
    for pattern, message, help_ in (*LOST, *_WITHIN):
        for found in pattern.finditer(passage.flat):
            at = Label(passage.span(found.start(), found.end()))
            yield Finding(codes.DEAD_LINK, message, at, help=help_)
    for link in passage.targets:
        at = Label(passage.span(link.start, link.end))
        words = passage.content[link.start : link.end]
        if not link.href:
            yield Finding(
                codes.DEAD_LINK,
                say("a link without an address"),
                at,
                help=say("write where it leads, or take the brackets away"),
            )
        elif _WITHOUT_HOST.match(link.href):
            yield Finding(
                codes.DEAD_LINK,
                say("`{link}` names no host", link=link.href),
                at,
                help=say("a whole address begins with `https://` and a host"),
            )
        elif words.startswith("[]("):
            yield Finding(
                codes.DEAD_LINK,
                say("a link without words, which nobody can click or hear"),
                at,
                help=say("say in the brackets where it leads"),
            )


def unsafe_link(href: str, at: Span) -> Finding:
    """SG522: a link that runs something or leads to what no page may."""
    shown = href if len(href) <= SHOWN else f"{href[:SHOWN]}…"
    return Finding(
        codes.UNSAFE_LINK,
        say("a link to `{target}` is taken out", target=shown),
        Label(at),
        help=say("lead to a page, a file, or what begins with `https:` or `mailto:`"),
    )


def pictures(passage: Passage, has_words: Callable[[ShownPicture], bool]) -> Iterator[Finding]:
    """SG510: pictures without words in their place; some bring theirs."""
    for each in passage.pictures:
        if not each.alternative and not has_words(each):
            yield without_words(passage.span(each.start, each.end))


def without_words(at: Span) -> Finding:
    """SG510: a picture that nothing stands in the place of."""
    return Finding(
        codes.NO_ALTERNATIVE,
        say("a picture without a text in its place"),
        Label(at),
        help=say("say in the brackets what it shows: `![Front with eight bays](front.png)`"),
    )


def left_to_do(passage: Passage, code: Code) -> Iterator[Finding]:
    """SG126 and SG127: what the text says itself is not finished."""
    found = unfinished(passage.flat.strip())
    if found is not None:
        lead = len(passage.flat) - len(passage.flat.lstrip())
        start, end = (lead + each for each in found)
        yield Finding(
            code,
            say("something is left to do here"),
            Label(passage.span(start, max(end, start + 1))),
            help=say("write what belongs there, and take the mark away"),
        )


def allowances(text: Prose) -> Iterator[Finding]:
    """SG212: codes that a text allows and that no finding has."""
    for code in text.allow:
        if code not in codes.CODES:
            yield Finding(
                codes.UNUSED_ALLOW,
                say("no finding has the code `{code}`", code=code),
                Label(text.allow_at),
            )
