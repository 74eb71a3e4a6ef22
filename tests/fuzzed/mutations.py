"""Texts made wrong at random: what an author, a merge or somebody hostile could leave in a file."""

from collections.abc import Callable

Pick = Callable[[int, int], int]

TOKENS = (
    "", " ", "\n", "\n\n", "\t", "\r", "\r\n", "\0", "\ufeff", "\u202e", "\u2028", "\ue000",
    "\ud7ff", "é", "𝟙", "Ⅷ", "²", "'", '"', "`", "\\", "{", "}", "[", "]", "(", ")", ":", ": ",
    "- ", "? ", "#", " # ", "|", ">", "&a ", "*a", "&a *a", "<<: *a",
    "!!python/object:os.remove x", "!!binary x", "!", "%", "@", ",", ";", "=", "~", "null", "yes",
    "true", "on", "0", "-1", "1", "00", "0x10", "1_0", "1e999", "-1e-999", ".inf", "NaN",
    "9" * 30, "0." + "0" * 30 + "1", "1/3", "2026-13-45", "∞", "0 W", "-3 W", "9" * 30 + " W",
    "1 furlong", "5 GB/s/s", "W", "1..99999999", "A1..A9999", "A..Z", "1..0", "x4", "x0", "..",
    ".", "/", "../..", "CON", "x" * 300, "x" * 5000, "{{", "}}", "{% for a in b %}",
    "{% endfor %}", "{#", "{{ table('x') }}", "{{ x.y.z }}", "<script>", "</p>", "<!--", "&amp;",
    "&#0;", "[a](javascript:b)", "![a](b)", "| a | b |\n| --- | --- |\n", "```", "***", "$",
    "(" * 200, "[" * 2000, "{" * 500, "- " * 200, "> " * 300, "not " * 300, "a." * 300,
    "1+" * 300, "`" * 500, "and", "or", "not", "in", "if", "else", "lambda: 0", "x for x in",
    "count(", "any(", "sum(", "part(", "fact(", "it", "it.position", "platform", "processors",
    "drives", "<=", "==", "!=", "+", "*", "**", 'msgid ""', 'msgstr "', "msgctxt", "msgid_plural",
    "msgstr[9]", "#, fuzzy", "#~ ", "\\x", "%s",
)  # fmt: skip
_LAST = len(TOKENS) - 1


def changed(text: str, pick: Pick, most: int = 4) -> str:
    """The text with some places changed; `pick` chooses between two whole numbers."""
    for _ in range(pick(1, most)):
        lines = text.split("\n")
        change = pick(0, 9)
        if change <= 3:  # something else in place of some characters
            at = pick(0, len(text))
            text = text[:at] + TOKENS[pick(0, _LAST)] + text[at + pick(0, 12) :]
        elif change <= 5:  # a value, or a key
            number = pick(0, len(lines) - 1)
            key, colon, value = lines[number].partition(":")
            token = TOKENS[pick(0, _LAST)]
            indent = key[: len(key) - len(key.lstrip(" -"))]
            whole = f"{indent}{token}:{value}" if change == 5 else f"{key}{colon} {token}"
            text = "\n".join((*lines[:number], whole, *lines[number + 1 :]))
        elif change <= 7:  # a line elsewhere, again, or indented otherwise
            number, to = (pick(0, len(lines) - 1) for _ in range(2))
            line = " " * pick(0, 3) + lines[number]
            kept = lines if change == 7 else [*lines[:number], *lines[number + 1 :]]
            text = "\n".join((*kept[:to], line, *kept[to:]))
        elif change == 8:  # cut off
            text = text[: pick(0, len(text))]
        else:  # a word in place of another
            words = text.split(" ")
            one, two = (pick(0, len(words) - 1) for _ in range(2))
            words[one] = words[two]
            text = " ".join(words)
    return text


def changed_bytes(content: bytes, pick: Pick) -> bytes:
    """Content with some places changed, as text or byte by byte."""
    if pick(0, 3):
        text = changed(content.decode("utf-8", "surrogateescape"), pick)
        return text.encode("utf-8", "surrogateescape" if _is_escaped(text) else "surrogatepass")
    for _ in range(pick(1, 4)):
        at, end = pick(0, len(content)), pick(0, 4)
        content = content[:at] + bytes([pick(0, 255)]) * pick(0, 2) + content[at + end :]
    return content


def _is_escaped(text: str) -> bool:
    return all("\udc80" <= each <= "\udcff" for each in text if "\ud800" <= each <= "\udfff")
