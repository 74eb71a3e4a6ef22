"""Slips in what readers see: words of parts' names, order numbers, the words of `terms`.

Each is held against others that are written alike: a word that several names have, the shape that
order numbers share, the key that a term is of.
"""

import re
from collections import Counter
from collections.abc import Iterator
from typing import Any, Final

from specgen.diagnostics import Finding, Label, codes, question
from specgen.diagnostics.slips import is_slip
from specgen.diagnostics.suggest import bare_of
from specgen.messages import say
from specgen.model import Build, Definitions, Part, Platform
from specgen.model.pedigree import FieldPath
from specgen.rules.definitions.records import rules_of, things

SEVERAL: Final = 3
"""So many that are written alike tell how one is meant."""
LONG: Final = 6
"""A word of so many letters is no mark, and has its letters in one order."""
_WORD: Final = re.compile(r"[^\W_]+(?:-[^\W_]+)*")


def named_words(definitions: Definitions) -> Iterator[Finding]:
    """SG220 for slips in names, order numbers and terms."""
    yield from _words_of_names(definitions)
    yield from _numbers(definitions)
    yield from _terms(definitions)
    yield from _codes(definitions)


def _words_of_names(definitions: Definitions) -> Iterator[Finding]:
    """A word that one name alone has, and that is another which several have, with a slip."""
    holders: dict[str, list[Part]] = {}
    for part in definitions.parts.values():
        for word in dict.fromkeys(_WORD.findall(part.name)):
            holders.setdefault(word, []).append(part)
    usual = [word for word, parts in holders.items() if len(parts) >= SEVERAL]
    by_look: dict[str, str] = {bare_of(word): word for word in usual if len(word) > 2}
    long = [word for word in usual if len(word) >= LONG and word.isalpha()]
    for word, parts in holders.items():
        if len(parts) > 1 or len(word) < SEVERAL:
            continue
        meant = by_look.get(bare_of(word))
        if meant is None and len(word) >= LONG - 1 and word.isalpha():
            meant = next((each for each in long if _slip(word, each)), None)
        if meant is not None and meant.lower() != word.lower():
            yield _finding(parts[0], "name", word, meant)


def _slip(word: str, other: str) -> bool:
    """Whether one is the other with a slip, and not its plural or another form of it."""
    one, two = word.lower(), other.lower()
    if abs(len(one) - len(two)) > 1 or one.startswith(two) or two.startswith(one):
        return False
    return is_slip(one, two)


def _numbers(definitions: Definitions) -> Iterator[Finding]:
    """An order number of a shape of its own that would have that of others without a slip."""
    holders = [each for each in things(definitions) if isinstance(each, Part | Platform | Build)]
    shapes: dict[str, int] = {}
    numbered = [each for each in holders if each.number]
    for each in numbered:
        shape = _shape(each.number or "")
        shapes[shape] = shapes.get(shape, 0) + 1
    usual = {_bare_shape(shape): shape for shape, count in shapes.items() if count >= SEVERAL}
    stems = Counter(_stem(each.number or "") for each in numbered)
    for each in numbered:
        number = each.number or ""
        shape, right = _shape(number), _digits(number)
        meant = usual.get(_bare_shape(_shape(right)))
        if shapes[shape] > 1 or meant in (None, shape) or right == number:
            continue
        like = _like(number, meant or "")
        if stems[_stem(like)] >= SEVERAL:
            yield _finding(each, "number", number, like)


def _stem(number: str) -> str:
    """What stands before its first digit."""
    return re.split(r"\d", number, maxsplit=1)[0]


_SHAPE: Final = re.compile(r"(\d+)|([A-Z]+)|([a-z]+)")


def _shape(number: str) -> str:
    return _SHAPE.sub(lambda match: "9" if match[1] else "A" if match[2] else "a", number)


def _bare_shape(shape: str) -> str:
    return re.sub(r"[-_ ]", "", shape).upper()


_AMONG: Final = re.compile(r"(?<=\d)[OolI]|[OolI](?=\d)")


def _digits(number: str) -> str:
    """The number with digits for letters among digits, hyphens for what looks like them."""
    digits = _AMONG.sub(lambda match: "0" if match[0] in "Oo" else "1", number)
    return re.sub(r"[_ ]", "-", digits).upper()


def _like(number: str, shape: str) -> str:
    made = _digits(number)
    return made if _shape(made) == shape else re.sub(r"^([A-Z]+)(\d)", r"\1-\2", made)


def _terms(definitions: Definitions) -> Iterator[Finding]:
    """What a short word is printed as, where it is that word with a slip."""
    project = definitions.project
    for key, words in project.terms.items():
        one, two = bare_of(key), bare_of(str(words))
        if one != two and is_slip(two, one):
            yield Finding(
                codes.SLIP,
                say("`{key}` is printed as {words}, which is written otherwise", key=key,
                    words=str(words)),
                Label(project.origin.key("terms", key)),
                help=say("write the same in both"),
            )  # fmt: skip


def _codes(definitions: Definitions) -> Iterator[Finding]:
    """The word of a rule's code that one rule has, and that is another's with a slip."""
    held: dict[str, list[tuple[Any, FieldPath]]] = {}
    for thing in things(definitions):
        for path, own in rules_of(thing):
            for at, rule in enumerate(own):
                word = rule.code.rpartition("-")[0]
                held.setdefault(word, []).append((thing, (*path, at, "code")))
    usual = [word for word, rules in held.items() if len(rules) >= SEVERAL]
    for word, rules in held.items():
        meant = next((each for each in usual if is_slip(word, each)), None)
        if len(rules) == 1 and meant is not None:
            ((thing, path),) = rules
            yield Finding(
                codes.SLIP,
                say("`{word}` is close to `{other}`, which stands elsewhere", word=word,
                    other=meant),
                Label(thing.origin.at(*path)),
                help=question((meant,)),
            )  # fmt: skip


def _finding(holder: Part | Platform | Build, field: str, word: str, meant: str) -> Finding:
    return Finding(
        codes.SLIP,
        say("`{word}` is close to `{other}`, which stands elsewhere", word=word, other=meant),
        Label(holder.origin.at(field)),
        help=question((meant,)),
    )
