"""What stands in the ready HTML of a page that somebody has written."""

from typing import Final

from specgen.document.html_reader import HtmlReader
from specgen.site.page import TOP, Places

_TITLE: Final = "h1"
_HEADING: Final = f"h{TOP}"
_BELOW: Final = f"h{TOP + 1}"


class _Reader(HtmlReader):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.anchors: list[str] = []
        self.headings: list[tuple[str, str, list[str]]] = []
        """The element of each, its anchor, its words."""
        self.texts: list[str] = []
        self._open = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        anchor = dict(attrs).get("id") or ""
        self.anchors.append(anchor)
        if tag in (_TITLE, _HEADING, _BELOW):
            self._open = tag
            self.headings.append((tag, anchor, []))

    def handle_endtag(self, tag: str) -> None:
        if tag == self._open:
            self._open = ""

    def handle_data(self, data: str) -> None:
        self.texts.append(data)
        if self._open:
            self.headings[-1][2].append(data)


class ReadPage:
    """Its title, its words, and where links can lead in it."""

    def __init__(self, reader: _Reader) -> None:
        named = [
            (tag, " ".join("".join(words).split()), anchor)
            for tag, anchor, words in reader.headings
        ]
        self.title = next((words for tag, words, _ in named if tag == _TITLE), "")
        self.words = " ".join(" ".join(reader.texts).split())
        headings, below = (
            tuple((words, at) for tag, words, at in named if tag == level and at)
            for level in (_HEADING, _BELOW)
        )
        self.places = Places(headings, frozenset(filter(None, reader.anchors)), below)


def read_page(html: str) -> ReadPage:
    """A page read once, for its title, the search, the menu and the links that lead to it."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    return ReadPage(reader)
