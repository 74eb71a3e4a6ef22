"""Published HTML as a program reads it: what points where, what may be pointed at."""

from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

POINTERS = ("href", "src", "action", "xlink:href")
TO_IDS = ("aria-labelledby", "aria-describedby", "aria-controls", "for", "headers")


@dataclass
class Pointing(HTMLParser):
    """Ids of a page, addresses it points to, ids it refers to, and what a strict policy refuses."""

    ids: list[str] = field(default_factory=list)
    addresses: list[str] = field(default_factory=list)
    references: list[str] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        for name, value in attrs:
            if name == "id":
                self.ids.append(value or "")
            elif name in POINTERS:
                self.addresses.append(value or "")
            elif name in TO_IDS:
                self.references += (value or "").split()
            elif name == "style" or name.startswith("on"):
                self.refused.append(f"<{tag} {name}>")
        if tag == "style" or (tag == "script" and not given.get("src")):
            self.refused.append(f"<{tag}>")


def read(file: Path) -> Pointing:
    """A page, read."""
    page = Pointing()
    page.feed(file.read_text(encoding="utf-8"))
    page.close()
    return page


def html_files(site: Path) -> list[Path]:
    """All pages of a site, in the order of their paths."""
    return sorted(site.rglob("*.html"))


def target_of(address: str, page: Path) -> tuple[Path, str] | None:
    """The file and the anchor that an address on a page leads to; None where it leads away."""
    split = urlsplit(address)
    if split.scheme or split.netloc:
        return None
    path = (page.parent / unquote(split.path)).resolve() if split.path else page
    return path, unquote(split.fragment)
