"""What a file carries beside what is read in it: the record to audit it by, and a seal.

Both stand where the format has room for a remark that no reader shows: in HTML a comment, in PDF a
comment before the last cross-reference's address (ISO 32000-1, 7.2.4: a comment may stand between
any two tokens; 7.5.5: the file still ends in `%%EOF`), in JSON a member at the top.
"""

import json
import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Final
from typing import Literal as OneOf

from specgen.document.html_reader import HtmlReader
from specgen.document.record import Record, Stated, one_line, read_record
from specgen.frozen import frozen

_NO_TAG: Final = re.compile("<(?=<)")
"""What we never write, and a reader would look at sign by sign."""
Form = OneOf["html", "pdf", "json"]

_RECORD: Final = "specgen-record "
MARK: Final = b"specgen-seal "
_MARKS: Final = (b"<!--" + MARK, b"\n%" + MARK)
"""How a seal begins where it is one, and no text of a document that looks like it."""
_END: Final = b"startxref"
_SEALS: Final = {
    "html": re.compile(rb"<!--specgen-seal ([\w= -]*)-->\n\Z"),
    "pdf": re.compile(rb"%specgen-seal ([\w= -]*)\n(?=startxref\s+\d+\s+%%EOF\s*\Z)"),
    "json": re.compile(rb'(?m)(?<=^ "seal": ")([\w= -]*)(?=")'),
}
"""Where a seal stands in each format. Of JSON its place is always there, and may be empty."""


@frozen
class Audited:
    """What a file says it is, and what it shows."""

    record: Record
    shown: Stated


def form_of(content: bytes) -> Form | None:
    """Which of the formats it is, None for none of them."""
    start = content[:1024].lstrip().lower()
    if start.startswith(b"%pdf-"):
        return "pdf"
    if start.startswith(b"<!doctype html"):
        return "html"
    return "json" if start.startswith(b"{") else None


# --- the record ---


def in_html(record: Record) -> str:
    """A comment without the values, which the page itself has by their keys."""
    return f"<!--{_RECORD}{record.as_json(with_values=False)}-->\n"


def in_pdf(content: bytes, record: Record) -> bytes:
    """The file with the record in it. Raises ValueError where it is no PDF."""
    return _before_end(content, f"%{_RECORD}{record.as_json()}\n".encode())


def audited(content: bytes) -> Audited | None:
    """None where the file carries no record that can be read."""
    match form_of(content):
        case "html":
            return _of_html(content.decode("utf-8", "replace"))
        case "pdf":
            return _of_pdf(content)
        case "json":
            return _of_json(content)
        case _:
            return None


def _of_pdf(content: bytes) -> Audited | None:
    marks = [line for line in content.splitlines() if line.startswith(f"%{_RECORD}".encode())]
    if not marks:
        return None
    record = read_record(marks[-1].decode("ascii", "replace")[1 + len(_RECORD) :])
    return None if record is None else Audited(record, record.values)


def _of_html(text: str) -> Audited | None:
    page = _Page()
    if f"<!--{_RECORD}" not in text:
        return None
    page.feed(_NO_TAG.sub("", text))
    page.close()
    record = read_record(page.record)
    return None if record is None else Audited(record, tuple(page.stated))


class _Page(HtmlReader):
    """The record of a page, and what it prints under the key of each value."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.record = ""
        self.stated: list[tuple[str, str]] = []
        self._key = ""
        self._depth = 0
        self._text: list[str] = []

    def handle_comment(self, data: str) -> None:
        if data.startswith(_RECORD):
            self.record = data[len(_RECORD) :]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag != "span":
            return
        if self._key:
            self._depth += 1
        elif key := dict(attrs).get("data-fact"):
            self._key, self._depth, self._text = key, 0, []

    def handle_endtag(self, tag: str) -> None:
        if tag != "span" or not self._key:
            return
        if self._depth:
            self._depth -= 1
            return
        self.stated.append((self._key, one_line("".join(self._text))))
        self._key = ""

    def handle_data(self, data: str) -> None:
        if self._key:
            self._text.append(data)


def _of_json(content: bytes) -> Audited | None:
    try:
        data = json.loads(content, parse_float=Decimal, parse_int=Decimal)
        facts = tuple(_facts(data))
        record = Record(
            of=str(data["build"]),
            document="",
            language="en",
            at=tuple(map(str, data["asked"])),
            number=str(data["number"] or ""),
            date=str(data["date"] or ""),
            edition=str(data["edition"] or ""),
            values=facts,
        )
    except (ValueError, KeyError, TypeError, RecursionError):
        return None
    return Audited(record, facts)


def _facts(data: dict[str, list[dict[str, object]]]) -> Iterator[tuple[str, str]]:
    """The exact values, else the words."""
    for fact in data["facts"]:
        exact = fact["exact"]
        unit = f" {fact['unit']}" if fact["unit"] else ""
        yield str(fact["key"]), f"{fact['value'] if exact is None else exact}{unit}"


# --- the seal ---


def sealed_with(content: bytes, seal: str) -> bytes:
    """The file with this seal and no other. Raises ValueError for another format."""
    bare, _ = unsealed(content)
    match form_of(bare):
        case "html":
            return bare + b"<!--" + MARK + seal.encode() + b"-->\n"
        case "pdf":
            return _before_end(bare, b"%" + MARK + seal.encode() + b"\n")
        case "json" if _SEALS["json"].search(bare):
            return _SEALS["json"].sub(seal.encode(), bare, count=1)
        case _:
            raise ValueError("no format that carries a seal")


def was_sealed(content: bytes) -> bool:
    """Whether a seal stands in it anywhere, also where none is read."""
    return any(mark in content for mark in _MARKS)


def unsealed(content: bytes) -> tuple[bytes, str]:
    """What was sealed, and the seal; "" where there is none."""
    form = form_of(content)
    found = _SEALS[form].search(content) if form else None
    if found is None:
        return content, ""
    bare = content[: found.start()] + content[found.end() :]
    return bare, found[1].decode("ascii")


def _before_end(content: bytes, line: bytes) -> bytes:
    at = content.rfind(_END)
    if at < 0:
        raise ValueError("no end of a PDF")
    return content[:at] + line + content[at:]
