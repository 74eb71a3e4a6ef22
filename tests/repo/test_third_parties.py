"""What is shipped and what is installed with it: breadths of letters, copyrights, licences."""

import importlib.util
import json
import re
from types import ModuleType

import pytest

from tests.conftest import ROOT

FONTS = ROOT / "site" / "print" / "fonts"


def script(name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(name, ROOT / ".dev" / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_drawings_are_laid_out_with_the_letters_of_the_shipped_font():
    """Source: the table `hmtx` of the shipped font, read by fontTools."""
    letters = script("letters")
    assert letters.WRITTEN.read_text(encoding="utf-8") == letters.breadths()
    regular = json.loads(letters.breadths())["regular"]
    assert "a" in regular["556"], "as in every metric equal of the face"


@pytest.mark.parametrize("font", ["Arimo-400Regular", "NotoSansJP-400Regular-subset"])
def test_a_fonts_licence_has_the_copyright_that_the_font_states(font: str):
    """Source: the table `name` of the font, entry 0, read by fontTools."""
    from fontTools.ttLib import TTFont

    notice = TTFont(FONTS / f"{font}.ttf")["name"].getDebugName(0)
    text = (FONTS / f"{font.split('-')[0]}-LICENSE.txt").read_text(encoding="utf-8")
    assert text.splitlines()[0] == notice.removesuffix(".")


def test_the_list_of_packages_is_that_of_the_lock_with_licences_that_are_allowed():
    third_party = script("third_party")
    written = third_party.WRITTEN.read_text(encoding="utf-8")
    rows = re.findall(r"^\| ([\w.-]+) \| (\d[\w.+!-]*) \| (.+) \|$", written, re.MULTILINE)
    pins = third_party._PIN.findall(third_party.LOCK.read_text(encoding="utf-8"))
    assert [row[:2] for row in rows] == list(dict.fromkeys(pins))
    for name, _, stated in rows:
        assert set(re.split(r" AND | OR ", stated)) <= third_party.ALLOWED, name


def test_a_licence_that_nobody_has_read_ends_the_run(monkeypatch: pytest.MonkeyPatch):
    third_party = script("third_party")
    monkeypatch.setattr(third_party, "ALLOWED", third_party.ALLOWED - {"MIT"})
    with pytest.raises(third_party.Unread, match="MIT"):
        third_party.licence("pydantic")
