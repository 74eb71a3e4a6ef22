"""Whom a document is for, and what is not for everybody.

A document says so once, in its template: `{{ audience("customer") }}`. One that says nothing is for
customers, who are told least: what leaves the house can be sent unread.
"""

from collections.abc import Mapping
from typing import Final

from specgen.diagnostics import suggested
from specgen.document.maker import AuthorError
from specgen.messages import Message, say

CUSTOMER: Final = "customer"
TECHNICIAN: Final = "technician"
ENGINEER: Final = "engineer"
INTERNAL: Final = "internal"
AUDIENCES: Final = (CUSTOMER, TECHNICIAN, ENGINEER, INTERNAL)
"""Whoever stands later is told what those before are told, and more."""

READERS: Final[Mapping[str, Message]] = {
    CUSTOMER: say("customers"),
    TECHNICIAN: say("technicians"),
    ENGINEER: say("engineers"),
    INTERNAL: say("internal readers"),
}
LEAST: Final[Mapping[tuple[str, str], str]] = {
    ("table", "rules"): ENGINEER,  # by their codes
    ("table", "inlet-limits"): ENGINEER,
    ("source_note", ""): ENGINEER,
    ("table", "notes"): INTERNAL,  # findings
    ("table", "open-points"): INTERNAL,  # what is not declared, or has no source
    ("table", "sources"): INTERNAL,  # files and lines
    ("facts", "review"): INTERNAL,
    ("signatures", ""): INTERNAL,
    ("contact_sheet", ""): INTERNAL,  # files, and what is not declared
}
"""The blocks that are not for everybody: maker and name, and the first audience that is told."""


def audience_of(word: object) -> str:
    """An audience by its word. Raises `AuthorError` for none."""
    if word in AUDIENCES:
        return str(word)
    message = say("no audience is called `{name}`", name=str(word))
    raise AuthorError(message, suggested(str(word), AUDIENCES), word=str(word))


def check_readers(maker: str, name: object, audience: str) -> None:
    """Raises `AuthorError` where a block is not for those whom the document is for."""
    named = (maker, name if isinstance(name, str) else "")
    wanted = LEAST.get(named) or LEAST.get((maker, ""), CUSTOMER)
    if AUDIENCES.index(audience) >= AUDIENCES.index(wanted):
        return
    message = say(
        "`{block}` is for {wanted}, and this document is for {readers}",
        block=f"{maker}({repr(name) if named[1] else ''})".replace("'", '"'),
        wanted=READERS[wanted],
        readers=READERS[audience],
    )
    help_ = say(
        "leave it out, or write `{call}` at the top of the template",
        call=f'{{{{ audience("{wanted}") }}}}',
    )
    raise AuthorError(message, help_, word=maker)
