"""Reading HTML that anybody may have written.

Python's reader is the base; what it raises on (`<![a`, which older ones take for a section of SGML)
is what HTML says it is: a comment up to the next `>`. Source: the HTML standard, 13.2.5.42, markup
declaration open state (from memory).
"""

from html.parser import HTMLParser


class HtmlReader(HTMLParser):
    """Python's reader of HTML, without an input that it raises on or reads without end."""

    def close(self) -> None:
        """The end of the text. A tag or a comment that is open there is none: Python's way of
        reading it again from each `<` takes minutes for a megabyte of them (CVE-2025-6069)."""
        if "<" not in self.rawdata:
            super().close()

    def parse_marked_section(self, i: int, report: bool = True) -> int:
        """Of `<![`, where a section of SGML is expected."""
        return self.parse_bogus_comment(i, report)
