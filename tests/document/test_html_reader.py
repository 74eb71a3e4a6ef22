"""HTML that anybody may have written is read to its end, whatever it is."""

import pytest

from specgen.document.html_reader import HtmlReader
from specgen.document.prose.page_html import read_markup
from specgen.document.prose.passages import markup_of
from specgen.document.prose.texts import parsed
from specgen.write.carried import audited
from tests.source.test_large_inputs import SIZE
from tests.timing import NO_HANG, stopwatch

ODD = (
    "<![a", "<![a x>", "<![", "<![if x]>", "<![CDATA[x]]>", "<![ a [ b ]]>", "<![endif]-->", "<!",
    "<!>", "<!doctype", "<!doctype [<!a", "<!element a (b", "<!entity % x", "<!-", "<!--", "<!-->",
    "<?", "<? ",
    "</", "</ a", "</a b", "<a b='", "<a =", "&#", "&#x", "&#99999999999;", "&#xd800;", "<\x00",
)  # fmt: skip


@pytest.mark.parametrize("odd", ODD)
def test_nothing_is_raised_on_and_what_follows_is_read(odd: str) -> None:
    reader = HtmlReader()
    reader.feed(f"<p>{odd}")
    reader.feed("<b>x</b>")
    reader.close()
    assert audited(f"<!doctype html>{odd}".encode()) is None
    prose, _ = parsed(f"# A\n\n<div>\n{odd}\n</div>\n", "pages/a.md")
    pieces = markup_of(prose)
    assert pieces
    assert any(read_markup(piece).first for piece in pieces)


@pytest.mark.parametrize("piece", ["<!--", "<![a ", "<!", "<a ", "<a b='", "</", "<?", "&#", "<"])
def test_a_megabyte_that_is_never_closed_ends(piece: str) -> None:
    record = '<!--specgen-record {"form":1}-->'
    used = stopwatch()
    assert audited(f"<!doctype html>{record}{piece * (SIZE // len(piece))}".encode()) is None
    assert used() < NO_HANG
