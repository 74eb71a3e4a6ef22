import re

import pytest

from specgen.shipped import document_style, theme_folder

STYLE = document_style().read_text(encoding="utf-8")
COLOURS = dict(re.findall(r"(--[\w-]+): (light-dark\([^)]+\));", STYLE))


def luminance(colour: str) -> float:
    # Source: WCAG 2.2, definition of relative luminance
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    # Source: WCAG 2.2, definition of contrast ratio
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("light", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("text", ["--ink", "--ink-soft", "--accent"])
@pytest.mark.parametrize("ground", ["--paper", "--paper-raised"])
def test_text_stands_out_from_its_ground(text: str, ground: str, light: int) -> None:
    # Source: WCAG 2.2, 1.4.3 contrast (minimum), level AA: 4.5:1
    pair = [re.findall(r"#[0-9a-f]{6}", COLOURS[name])[light] for name in (text, ground)]
    assert contrast(*pair) >= 4.5


@pytest.mark.parametrize("light", [0, 1], ids=["light", "dark"])
def test_ink_stands_out_from_the_tint_of_a_chosen_result(light: int) -> None:
    pair = [re.findall(r"#[0-9a-f]{6}", COLOURS[n])[light] for n in ("--ink", "--accent-tint")]
    assert contrast(*pair) >= 4.5


def test_a_mailed_sheet_needs_nothing_but_the_style_of_documents() -> None:
    used = set(re.findall(r"var\((--[\w-]+)", STYLE))
    assert used <= set(re.findall(r"(--[\w-]+):", STYLE))
    assert "</" not in STYLE
    assert not re.search(r"url\(|@import|@font-face", STYLE)


def test_every_colour_of_the_shell_is_one_of_the_document() -> None:
    shell = (theme_folder() / "css/shell.css").read_text(encoding="utf-8")
    assert set(re.findall(r"var\((--[\w-]+)", shell)) <= set(re.findall(r"(--[\w-]+):", STYLE))


def test_scripts_make_no_request_but_for_the_index() -> None:
    for script in (theme_folder() / "js").glob("*.js"):
        text = script.read_text(encoding="utf-8")
        if script.name == "source.js":  # reads the page that a link on this page leads to
            assert text.count("fetch(") == 1
            assert "url.origin === location.origin" in text
            text = text.replace("fetch(", "")
        assert not re.search(r"\bfetch\(|XMLHttpRequest|WebSocket|eval\(|innerHTML", text)
