"""The page behind a machine's figures: each with its formula, what it rests on, and where that
is written.

One table a subsystem; a row has the figure's anchor, so that every printed value can lead to it.
What rests on other figures leads to their rows; what is declared names its file, line and
document. Values that say the same of several positions are told once.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from itertools import groupby
from typing import Final

from markupsafe import escape

from specgen.document.case import Case
from specgen.facts import Basis, Declared, Fact
from specgen.facts.declared import declared_facts
from specgen.facts.registry import COUNTING
from specgen.facts.terms import BASIS
from specgen.frozen import frozen
from specgen.messages import Capital, Message, Words, listed, say, say_as
from specgen.messages.language import NOT_DECLARED
from specgen.model import Part, Platform, condensed
from specgen.quantity import show
from specgen.site.addresses import anchor_of
from specgen.site.voice import ENGLISH, Voice

MOST_INPUTS: Final = 12
"""Entries of what a figure rests on that are shown at once; the others unfold."""

ABOUT: Final = say_as(
    "site",
    "Every figure of {page}: how it is worked out, and the lines of the definitions on which it "
    "rests. Where no source is named it is arithmetic on what is declared.",
    page="\0",
)
"""The page's own name goes where the sign stands."""

NAMES: Final[Mapping[str, str]] = {
    "processors": "Processors",
    "memory": "Memory",
    "expansion": "Expansion",
    "storage": "Storage",
    "network": "Network",
    "power": "Power",
    "energy": "Energy",
    "cooling": "Cooling",
    "noise": "Noise",
    "mechanics": "Size and mass",
    "regulation": "Ecodesign duty",
    "conditions": "Conditions",
    "limits": "Limits",
    "parts": "Parts",
}
"""Headings of the groups of figures; others are their own first word."""


# Surrogates and noncharacters, which HTML does not allow; controls stand in no definition.
_NOT_HTML: Final = re.compile("[\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]")


@frozen
class Figures:
    """The body of a page of figures, and the keys that have a row on it."""

    body: str
    keys: frozenset[str]


def figures_of(
    case: Case,
    title: str,
    back: str,
    address_of_part: Mapping[str, str],
    voice: Voice = ENGLISH,
) -> Figures:
    """All figures of a machine that have a value; `back` is the address of its own page."""
    return _page(_facts(case), title, case.platform, back, address_of_part, voice)


def of_part(part: Part, voice: Voice = ENGLISH) -> str:
    """Where the figures of a part's page come from, as the last section of that page."""
    rows = "".join(_declared_row(fact, voice) for fact in declared_facts(part))
    if not rows:
        return ""
    rows = _NOT_HTML.sub("", rows)
    say = voice.fixed
    return (
        '<section class="behind"><h2 id="site-figures">'
        f"{say('Where these figures come from')}</h2>\n"
        '<figure class="table" id="site-figures-table"><div class="scroll" role="region" '
        'aria-labelledby="site-figures" tabindex="0"><table>\n<thead><tr>'
        f'<th scope="col">{say("Figure")}</th><th scope="col" class="num">{say("Value")}</th>'
        f'<th scope="col">{say("Written in")}</th><th scope="col">{say("Document")}</th>'
        "</tr></thead>\n<tbody>\n"
        f"{rows}</tbody>\n</table></div></figure></section>\n"
    )


def _facts(case: Case) -> list[Fact]:
    """What has a row: limits have pages of their own."""
    own = (case.facts[key] for key in case.facts if not key.startswith("limits."))
    facts = [_named(case, fact) for fact in own if _told(fact)]
    return [*facts, *declared_facts(case.platform)] if case.build is None else facts


def _named(case: Case, fact: Fact) -> Fact:
    """What is told of a part under its name."""
    if not fact.template.startswith("parts."):
        return fact
    part = case.definitions.parts.get(fact.subject, case.platform)
    mass = fact.key.endswith(".mass")
    label = say("{part}: mass", part=part.name) if mass else part.name
    return replace(fact, label=label, subject="")


def _told(fact: Fact) -> bool:
    return fact.value is not None and fact.value != ()


def _page(
    facts: list[Fact],
    title: str,
    platform: Platform,
    back: str,
    address_of_part: Mapping[str, str],
    voice: Voice,
) -> Figures:
    say = voice.fixed
    keys = frozenset(fact.key for fact in facts)
    parts = {f"parts.{name}": href for name, href in address_of_part.items()}
    scribe = _Scribe(keys, parts, voice)
    own = {platform.id: platform.name}
    pieces = [
        '<article class="document figures"><header class="document-head">'
        f'<h1>{escape(title)}</h1><p class="subtitle">'
        f"{say('Where its figures come from')}</p></header>\n"
        f"<p>{_about(voice, back, title)}</p>\n"
    ]
    ordered = sorted(facts, key=lambda fact: _rank(fact.group, own))
    for group, members in groupby(ordered, key=lambda fact: fact.group):
        name = own.get(group) or voice.text(Message(NAMES.get(group, group.capitalize())))
        anchor = f"group-{anchor_of(group)}"
        pieces.append(
            f'<h2 id="{anchor}">{escape(name)}</h2>\n<figure class="table">'
            f'<div class="scroll" role="region" aria-labelledby="{anchor}" tabindex="0"><table>\n'
            f'<thead><tr><th scope="col">{say("Figure")}</th>'
            f'<th scope="col" class="num">{say("Value")}</th><th scope="col">{say("How")}</th>'
            f'<th scope="col">{say("Rests on")}</th></tr></thead>\n<tbody>\n'
        )
        pieces.extend(map(scribe.row, members))
        pieces.append("</tbody>\n</table></div></figure>\n")
    pieces.append("</article>\n")
    return Figures(_NOT_HTML.sub("", "".join(pieces)), keys)


def _about(voice: Voice, back: str, title: str) -> str:
    before, after = voice.fixed(ABOUT).split("\0")
    return f'{escape(before)}<a href="{escape(back)}">{escape(title)}</a>{escape(after)}'


def _rank(group: str, own: Mapping[str, str]) -> tuple[int, str]:
    order = (*NAMES, *own)
    return (order.index(group), "") if group in order else (len(order), group)


@frozen
class _Scribe:
    """Writes rows; `keys` are the figures that have one, `parts` where a part has its page."""

    keys: frozenset[str]
    parts: Mapping[str, str]
    voice: Voice

    def row(self, fact: Fact) -> str:
        say = self.voice.fixed
        label = self.label(fact)
        if fact.key in self.parts:
            label = f'<a href="{escape(self.parts[fact.key])}">{label}</a>'
        subject = f'<span class="of">{escape(fact.subject)}</span> ' if fact.subject else ""
        told = [f"<p>{self.voice.html(_sentence(fact.formula))}</p>"]
        if fact.assumes:
            assumed = self.voice.html(_sentence(fact.assumes))
            told.append(f'<p class="aside">{assumed}</p>')
        basis = BASIS[fact.basis] if fact.basis is not Basis.CALCULATED else ""
        source = fact.source if fact.source != COUNTING else ""
        behind = listed((basis, source), "semicolon")
        if behind.items:
            told.append(f'<p class="aside">{self.voice.html(_sentence(behind))}</p>')
        return (
            f'<tr id="{anchor_of(fact.key)}"><th scope="row">{subject}{label}</th>'
            f'<td class="num" data-title="{say("Value")}">{_value(fact, self.voice)}</td>'
            f'<td data-title="{say("How")}"><div>{"".join(told)}</div></td>'
            f'<td data-title="{say("Rests on")}">{self._inputs(fact)}</td></tr>\n'
        )

    def label(self, fact: Fact) -> str:
        """The name of a figure; that of a part is its definition's."""
        return self.voice.html(fact.label)

    def more(self, number: int) -> str:
        """How many more there are."""
        return self.voice.html(say_as("site", "and {count} more", count=number))

    def said(self, value: object) -> str:
        """A value among words, or that there is none."""
        if value is None or value == ():
            return self.voice.html(NOT_DECLARED)
        return _plain(value, self.voice)

    def _inputs(self, fact: Fact) -> str:
        entries = [self._entry(*each) for each in joined(fact.inputs)]
        if not entries:
            return ""
        first = "".join(entries[:MOST_INPUTS])
        rest = entries[MOST_INPUTS:]
        if rest:
            more = f"<summary>{self.more(len(rest))}</summary><ul>{''.join(rest)}</ul>"
            return f"<div><ul>{first}</ul><details>{more}</details></div>"
        return f"<div><ul>{first}</ul></div>"

    def _entry(self, entry: Fact | Declared, subject: str) -> str:
        if isinstance(entry, Fact):
            label = self.label(entry)
            said = f"{escape(entry.subject)}: {label}" if entry.subject else label
            value = f" {self.said(entry.value)}"
            if entry.key in self.keys:
                return f'<li><a href="#{anchor_of(entry.key)}">{said}</a>{value}</li>'
            return f"<li>{said}{value}</li>"
        label = self.voice.text(entry.label)
        said = f"{subject}, {label}" if subject else label
        said = f"{self.voice.fixed('taken for granted')}: {said}" if entry.assumed else said
        return f"<li>{escape(said)} {self.said(entry.value)} {_where(entry, self.voice)}</li>"


def joined(inputs: Iterable[Fact | Declared]) -> list[tuple[Fact | Declared, str]]:
    """What a figure rests on, with the positions it is about; the same of several is told once."""
    alike: dict[object, list[Fact | Declared]] = {}
    for entry in inputs:
        if isinstance(entry, Declared):
            sort: object = (entry.label, show(entry.value), entry.span, entry.assumed)
        else:
            sort = entry.key
        alike.setdefault(sort, []).append(entry)
    made: list[tuple[Fact | Declared, str]] = []
    for entries in alike.values():
        named = (each.subject for each in entries if isinstance(each, Declared))
        subjects = tuple(dict.fromkeys(filter(None, named)))
        made.append((entries[0], condensed(subjects) if subjects else ""))
    return made


def _declared_row(fact: Fact, voice: Voice) -> str:
    leaf = next((entry for entry in fact.inputs if isinstance(entry, Declared)), None)
    line, document = ("", "") if leaf is None else (_line(leaf), _document(leaf, voice))
    say = voice.fixed
    return (
        f'<tr id="{anchor_of(fact.key)}"><th scope="row">'
        f"{voice.html(fact.label)}</th>"
        f'<td class="num" data-title="{say("Value")}">{_value(fact, voice)}</td>'
        f'<td data-title="{say("Written in")}">{line}</td>'
        f'<td data-title="{say("Document")}">{escape(document)}</td></tr>\n'
    )


def _where(leaf: Declared, voice: Voice) -> str:
    """File and line, and the document that the definition names."""
    document = _document(leaf, voice)
    told = " ".join(filter(None, (_line(leaf), f"({escape(document)})" if document else "")))
    return f"<small>{told}</small>" if told else ""


def _line(leaf: Declared) -> str:
    span = leaf.span
    return f"<code>{escape(span.file)}:{span.line}</code>" if span.file else ""


def _document(leaf: Declared, voice: Voice) -> str:
    source = leaf.source
    if source is None:
        return ""
    page = voice.fixed(say_as("site", "page {page}", page=source.page)) if source.page else ""
    dated = voice.text(source.date) if source.date else ""
    return ", ".join(filter(None, (source.document, page, dated)))


def _value(fact: Fact, voice: Voice) -> str:
    number, unit = voice.language.number(fact.value)
    kind = "value words" if " " in number else "value"
    told = f'<span class="unit">\u202f{escape(unit)}</span>' if unit else ""
    return f'<span class="{kind}">{escape(number)}{told}</span>'


def _plain(value: object, voice: Voice) -> str:
    """The same among other words; its unit stays with it by a blank that is not broken."""
    return str(escape(voice.text(value)))


def _sentence(words: Words) -> Words:
    return Capital(words)
