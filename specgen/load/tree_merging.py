"""One tree laid over another: what they have in common is merged, and keeps its lines."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import field
from typing import Any, Final

from specgen.diagnostics import Span
from specgen.frozen import frozen, state
from specgen.model.name_ranges import BadRange, expand, joined_names, natural, nth
from specgen.source import YamlMapping, YamlNode, YamlScalar, YamlSequence, is_marked, plain_value

BY: Final = ("name", "code", "of")
"""The fields that entries of lists are known by."""
OF_POSITIONS: Final = frozenset({"fit", "positions", "ports"})
"""Fields that hold something for each position, many under one key or name."""
WHOLE: Final = frozenset({"source"})
"""Fields whose values tell of one thing together: one of another is another."""
ALONG: Final = frozenset({"of", "cools", "neighbour", "from", "to"})
"""Fields that run along a range of positions."""
_ANY: Final = 10**6  # letters of a line


@frozen
class SaidAgain:
    """A field that was said again, and the place of what it was to change."""

    field: str
    at: Span
    base: Span


def laid_over(
    base: YamlMapping, own: YamlMapping, fields: dict[str, Any], keys: dict[str, Span]
) -> YamlMapping:
    """Fields of two mappings as one at the place of the upper."""
    made = YamlMapping(fields)
    made.span, made.key_spans = own.span, keys
    made.marked = is_marked(own) or is_marked(base)
    made.doubled = getattr(own, "doubled", False)
    return made


@state
class Merge:
    """Lays one tree over another; `same` are fields that said what was there before, and
    `inseparable` positions that could not be told from others of their range."""

    same: list[SaidAgain] = field(default_factory=list)
    inseparable: list[SaidAgain] = field(default_factory=list)

    def over(self, base: YamlMapping, own: YamlMapping, name: str = "") -> YamlMapping:
        """The fields of both; of one that both have, what both hold."""
        if name == "fit":
            return self._positions(base, own)
        first = own if not name else {}  # what a definition is called stands at its head
        fields, keys = (
            {**{key: None for key in first if key not in base}, **base},
            {**base.key_spans},
        )
        for key, value in own.items():
            at = own.key_spans[key]
            fields[key] = (
                self._both(key, base[key], value, (base.key_spans[key], at))
                if key in base
                else value
            )
            keys[key] = at
        return laid_over(base, own, fields, keys)

    def _both(self, key: str, base: YamlNode, own: YamlNode, at: tuple[Span, Span]) -> YamlNode:
        if isinstance(base, YamlMapping) and isinstance(own, YamlMapping) and key not in WHOLE:
            return self.over(base, own, key)
        if isinstance(base, YamlSequence) and isinstance(own, YamlSequence):
            by = _known_by(base, own)
            if by is not None:
                return self._list(base, own, by, ranged=key in OF_POSITIONS)
        if plain_value(base) == plain_value(own):
            self.same.append(SaidAgain(key, at[1], at[0]))
        return own

    def _positions(self, base: YamlMapping, own: YamlMapping) -> YamlMapping:
        """Parts by position: a range gives way where one of it has another part."""
        fields, keys = {**base}, {**base.key_spans}
        for text, value in own.items():
            names = _names(text)
            under = [
                (key, each) for key in fields if (each := set(names).intersection(_names(key)))
            ]
            told = set().union(*(each for _, each in under))
            alike = [key for key, _ in under if plain_value(fields[key]) == plain_value(value)]
            if under and len(alike) == len(under) and told == set(names) and not _runs(value):
                self.same.append(SaidAgain(text, own.key_spans[text], keys[alike[0]]))
                continue
            below = fields.get(text)
            if isinstance(below, YamlMapping) and isinstance(value, YamlMapping):
                fields[text] = self.over(below, value)
                continue
            fields, keys = _without_names(fields, keys, set(names))
            fields[text], keys[text] = value, own.key_spans[text]
        return laid_over(base, own, fields, keys)

    def _list(
        self, base: YamlSequence, own: YamlSequence, by: str, *, ranged: bool
    ) -> YamlSequence:
        """Entries that are known by a name: those of one name are merged, others come behind."""
        entries: list[YamlMapping] = [*base]
        for each in own:
            names = _names(each[by]) if ranged else (str(each[by]),)
            left = dict.fromkeys(names)
            made: list[YamlMapping] = []
            for below in entries:
                theirs = _names(below[by]) if ranged else (str(below[by]),)
                common = [name for name in theirs if name in left]
                if not common:
                    made.append(below)
                    continue
                rest = [name for name in theirs if name not in left]
                if rest and not _separable(below):
                    self.inseparable.append(SaidAgain(common[0], each[by].span, below[by].span))
                    made.append(below)
                elif not rest:
                    made.append(self._entry(below, each, by))
                else:
                    made += _narrowed(below, by, rest)
                    made += [self._entry(part, each, by) for part in _narrowed(below, by, common)]
                left = {name: None for name in left if name not in common}
            if len(left) == len(names):
                made.append(each)
            elif left:
                text = next(joined_names(left, _ANY))
                made.append(_renamed(each, by, scalar_at(text, each[by])))
            entries = made
        return _sequence(own, entries, base)

    def _entry(self, base: YamlMapping, own: YamlMapping, by: str) -> YamlMapping:
        """An entry with what another says of it, under its name."""
        name = scalar_at(str(base[by]), own[by])
        return self.over(_renamed(base, by, None), _renamed(own, by, name))


def left_out(tree: YamlMapping, path: str) -> tuple[YamlMapping | None, list[str]]:
    """A tree without what a path leads to, `memory_mode` or `fit.BAY 0..3`; None where nothing is
    there, with the paths that might be meant."""
    known: list[str] = []
    less = _less(tree, path, "", "", known)
    assert less is None or isinstance(less, YamlMapping)
    return less, known


def _less(node: YamlNode, rest: str, name: str, way: str, known: list[str]) -> YamlNode | None:
    if isinstance(node, YamlMapping):
        return _less_mapping(node, rest, name, way, known)
    if isinstance(node, YamlSequence):
        return _less_list(node, rest, name, way, known)
    return None


def _less_mapping(
    node: YamlMapping, rest: str, name: str, way: str, known: list[str]
) -> YamlMapping | None:
    known += [way + key for key in node]
    fields, keys = {**node}, {**node.key_spans}
    names = set(_names(rest)) if name == "fit" else {rest}
    held = {each for key in node for each in (_names(key) if name == "fit" else (key,))}
    if names <= held:
        if name == "fit":
            fields, keys = _without_names(fields, keys, names)
        else:
            del fields[rest]
        return laid_over(node, node, fields, keys)
    for key, inner in node.items():
        if rest.startswith(f"{key}."):
            less = _less(inner, rest[len(key) + 1 :], key, f"{way}{key}.", known)
            if less is not None:
                return laid_over(node, node, {**fields, key: less}, keys)
    return None


def _less_list(
    node: YamlSequence, rest: str, name: str, way: str, known: list[str]
) -> YamlSequence | None:
    by = _known_by(node, node)
    if by is None:
        known += [f"{way}{each}" for each in node if isinstance(each, YamlScalar)]
        left = [each for each in node if each != rest]
        return _sequence(node, left, node) if len(left) < len(node) else None
    ranged = name in OF_POSITIONS
    known += [f"{way}{each[by]}" for each in node]
    wanted = set(_names(rest)) if ranged else {rest}
    held = [set(_names(each[by])) if ranged else {str(each[by])} for each in node]
    if wanted <= set().union(*held):
        entries: list[YamlMapping] = []
        for each, own in zip(node, held, strict=True):
            kept = [name for name in _names(each[by]) if name not in wanted] if ranged else []
            if own.isdisjoint(wanted):
                entries.append(each)
            elif kept and not _separable(each):
                return None
            elif kept:
                entries += _narrowed(each, by, kept)
        return _sequence(node, entries, node)
    for at, each in enumerate(node):
        if rest.startswith(f"{each[by]}."):
            more = rest[len(each[by]) + 1 :]
            less = _less(each, more, "", f"{way}{each[by]}.", known)
            if less is not None:
                return _sequence(node, [*node[:at], less, *node[at + 1 :]], node)
    return None


def _known_by(base: YamlSequence, own: YamlSequence) -> str | None:
    """What the entries of two lists are known by, each by another; None where by nothing."""
    entries = [*base, *own]
    if not entries or not all(isinstance(each, YamlMapping) for each in entries):
        return None
    for by in BY:
        if all(isinstance(each.get(by), YamlScalar) for each in entries):
            alone = all(len({str(e[by]) for e in each}) == len(each) for each in (base, own))
            return by if alone else None
    return None


def _names(text: str) -> tuple[str, ...]:
    """The positions that a text stands for, itself where it is no range."""
    try:
        return expand(str(text))
    except BadRange:
        return (str(text),)


def _without_names(
    fields: dict[str, Any], keys: dict[str, Span], names: set[str]
) -> tuple[dict[str, Any], dict[str, Span]]:
    """Parts by position without some positions, each line still in its place."""
    left: dict[str, Any] = {}
    places: dict[str, Span] = {}
    for key, value in fields.items():
        own = _names(key)
        if names.isdisjoint(own):
            left[key], places[key] = value, keys[key]
            continue
        for text, inner in _lines(value, own, [name for name in own if name not in names]):
            left[text], places[text] = inner, keys[key]
    return left, places


def _lines(
    value: YamlNode, names: Sequence[str], kept: list[str]
) -> Iterator[tuple[str, YamlNode]]:
    """Some of the positions of a line with what is said of them: one by one where it runs along."""
    if _runs(value):
        for name in kept:
            yield name, _along(value, names.index(name), len(names))
    else:
        for text in joined_names(sorted(kept, key=natural), _ANY):
            yield text, value


def _narrowed(entry: YamlMapping, by: str, kept: list[str]) -> Iterator[YamlMapping]:
    """An entry for some of the positions that it stands for."""
    for text, inner in _lines(entry, _names(entry[by]), kept):
        assert isinstance(inner, YamlMapping)
        yield _renamed(inner, by, scalar_at(text, entry[by]))


def _renamed(entry: YamlMapping, by: str, name: YamlScalar | None) -> YamlMapping:
    """An entry under another name, or under none."""
    fields = {key: value for key, value in entry.items() if key != by}
    fields = fields if name is None else {by: name, **fields}
    return laid_over(entry, entry, fields, entry.key_spans)


def _separable(entry: YamlMapping) -> bool:
    """Whether one of several positions can be told by itself: those of an outline lie in a row."""
    outline = entry.get("outline")
    return not (isinstance(outline, YamlMapping) and ("step" in outline or "down" in outline))


def _runs(value: YamlNode) -> bool:
    """Whether something of a value runs along the positions that it is said of."""
    if not isinstance(value, YamlMapping):
        return False
    return any(
        _runs(inner) or (key in ALONG and (".." in inner or "," in inner))
        for key, inner in value.items()
    )


def _along(value: YamlNode, index: int, count: int) -> YamlNode:
    """What is said of the nth of several positions."""
    if not isinstance(value, YamlMapping):
        return value
    fields = {
        key: scalar_at(nth(inner, index, count) or "", inner)
        if key in ALONG and isinstance(inner, YamlScalar)
        else _along(inner, index, count)
        for key, inner in value.items()
    }
    return laid_over(value, value, fields, value.key_spans)


def scalar_at(text: str, written: YamlScalar) -> YamlScalar:
    """Another text at the place of one that was written."""
    made = YamlScalar.at(text, written.span, written.plain)
    made.marked = written.marked
    return made


def _sequence(own: YamlSequence, entries: Iterable[YamlNode], base: YamlSequence) -> YamlSequence:
    made = YamlSequence(entries)
    made.span, made.marked = own.span, is_marked(own) or is_marked(base)
    return made
