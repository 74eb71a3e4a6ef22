"""A process forked after something was set waits for ever: it must be known before it forks."""

import pytest

from specgen.drawings import typesetter
from specgen.drawings.picture import Element, Picture
from specgen.drawings.png import png


def test_a_picture_counts_as_something_set(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(typesetter, "_compiled_in", set())
    assert not typesetter.has_compiled()
    picture = Element("svg", {"xmlns": "http://www.w3.org/2000/svg", "viewBox": "0 0 1 1"})
    png(Picture(picture, 1, 1), dots=72)
    assert typesetter.has_compiled()
