"""YAML text to a tree that remembers where everything was written.

Built from parser events rather than by PyYAML's composer: no recursion, so depth cannot break it;
repeated keys, tags and aliases are seen before anything is lost.
"""

from collections.abc import Iterator
from dataclasses import field
from typing import Any

import yaml

from specgen.diagnostics import Code, Finding, Label, Span, codes
from specgen.frozen import state
from specgen.messages import NOTHING, Message, Nothing, message_of, say
from specgen.source.many_mistakes import MOST_MISTAKES, too_many_mistakes
from specgen.source.ruler import Ruler
from specgen.source.unfinished_marks import unfinished
from specgen.source.yaml_nodes import (
    YamlMapping,
    YamlNode,
    YamlScalar,
    YamlSequence,
    is_marked,
)

MOST_NODES = 2_000_000  # of one file, aliases counted with what they stand for
MOST_FROM_ALIASES = 20_000
DEEPEST = 60
MOST_KEYS = 5_000  # of one mapping
Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


_SPLIT = say("no definition has so many; name a range, or make several definitions")


@state
class _OpenNode:
    node: YamlSequence | YamlMapping
    anchor: str | None
    key: YamlScalar | None = None
    size: int = 1
    refused: bool = False  # the key was no word: its value is dropped with it


@state
class _Builder:
    """Turns events into a tree; problems are gathered in `findings`."""

    ruler: Ruler
    findings: list[Finding] = field(default_factory=list)
    stack: list[_OpenNode] = field(default_factory=list)
    anchors: dict[str, tuple[YamlNode, int]] = field(default_factory=dict)
    root: YamlNode | None = None
    expanded: int = 0
    doubling: YamlMapping | None = None
    stopped: bool = False

    def span(self, event: Any) -> Span:
        return self.ruler.span(event.start_mark, event.end_mark)

    def report(
        self,
        code: Code,
        message: Message,
        event: Any,
        help_: Message | Nothing = NOTHING,
        label: Message | Nothing = NOTHING,
    ) -> None:
        self.findings.append(Finding(code, message, Label(self.span(event), label), help=help_))

    def take(self, events: Iterator[Any]) -> None:
        documents, word, scalar = 0, yaml.ScalarEvent, self.scalar
        for event in events:
            if type(event) is word:  # nine of ten
                scalar(event)
                if self.stopped:
                    return
                continue
            match event:
                case yaml.MappingStartEvent() | yaml.SequenceStartEvent():
                    self.open(event)
                case yaml.MappingEndEvent() | yaml.SequenceEndEvent():
                    self.close(event)
                case yaml.AliasEvent():
                    self.alias(event)
                case yaml.DocumentStartEvent():
                    documents += 1
                    if documents > 1:
                        self.report(
                            codes.UNSUPPORTED_YAML,
                            say("a second YAML document in one file"),
                            event,
                            say("keep one document in a file; a list of definitions is fine"),
                        )
                        self.stopped = True
            if self.stopped:
                return

    def scalar(self, event: yaml.ScalarEvent) -> None:
        if event.tag is not None:
            self.refuse_tag(event)
        ruler = self.ruler
        # 17,000 of them for the demo, so what `YamlScalar.at` does stands here once more
        written = YamlScalar(event.value)
        written.span = ruler.span(event.start_mark, event.end_mark)
        written.plain = event.implicit[0]
        _, first, _, last, _ = written.span
        written.lines = tuple(ruler.lines[first - 1 : last]) if last > first else ()
        if ruler.looks:
            written.marked = first in ruler.marked or unfinished(written) is not None
        else:
            written.marked = False
            frame = self.stack[-1] if self.stack and event.anchor is None else None
            if frame is not None and not frame.refused:  # what `put` does with most of them
                frame.size += 1
                within, key = frame.node, frame.key
                if isinstance(within, YamlSequence):
                    within.append(written)
                elif key is None:
                    frame.key = written
                else:
                    self.entry(within, key, written)
                    frame.key = None
                return
        self.put(written, event.anchor, 1, event)

    def open(self, event: Any) -> None:
        if event.tag is not None:
            self.refuse_tag(event)
        node: YamlSequence | YamlMapping
        if isinstance(event, yaml.MappingStartEvent):
            node = YamlMapping()
            node.key_spans = {}
        else:
            node = YamlSequence()
        node.span = self.span(event)
        if len(self.stack) >= DEEPEST:
            self.report(
                codes.EXPANSION,
                say("nested more than {count} levels deep", count=DEEPEST),
                event,
                say("no definition needs this depth; look for a bracket too many"),
            )
            self.stopped = True
            return
        self.stack.append(_OpenNode(node, event.anchor))

    def close(self, event: Any) -> None:
        frame = self.stack.pop()
        start = frame.node.span
        end = event.end_mark
        if end.column == 0 and end.line > start.line - 1:
            frame.node.span = start  # a block ends where the next thing starts: keep its head
        else:
            last, column = self.ruler.at(end)
            frame.node.span = Span(start.file, start.line, start.column, last, column)
        self.put(frame.node, frame.anchor, frame.size, event)

    def alias(self, event: yaml.AliasEvent) -> None:
        known = self.anchors.get(event.anchor or "")
        if known is None:
            if any(frame.anchor == event.anchor for frame in self.stack):
                self.report(
                    codes.EXPANSION,
                    say("`{alias}` stands inside what it names", alias=f"*{event.anchor}"),
                    event,
                    say("write the value out instead of the alias"),
                )
            else:
                self.report(
                    codes.SYNTAX,
                    say("`{alias}` names no anchor above it", alias=f"*{event.anchor}"),
                    event,
                    say(
                        "a text that begins with `*` stands in quotes; an anchor is `{anchor}`",
                        anchor=f"&{event.anchor}",
                    ),
                )
            self.stopped = True
            return
        node, size = known
        self.expanded += size
        if self.expanded > MOST_FROM_ALIASES:
            self.report(
                codes.EXPANSION,
                say(
                    "aliases of this file stand for more than {count} values",
                    count=MOST_FROM_ALIASES,
                ),
                event,
                say("write the values out, or use `common` for what parts share"),
            )
            self.stopped = True
            return
        self.put(node, None, size, event)

    def put(self, node: YamlNode, anchor: str | None, size: int, event: Any) -> None:
        if anchor is not None:
            self.anchors[anchor] = (node, size)
        if not self.stack:
            self.root = node
            return
        frame = self.stack[-1]
        frame.size += size
        within, key = frame.node, frame.key
        if self.ruler.looks and is_marked(node):
            within.marked = True
        if isinstance(within, YamlSequence):
            within.append(node)
        elif frame.refused:
            frame.refused = False
        elif key is not None:
            self.entry(within, key, node)
            frame.key = None
        elif isinstance(node, YamlScalar):
            frame.key = node
        else:
            frame.refused = True
            self.report(
                codes.UNSUPPORTED_YAML,
                say("a key that is itself a list or a mapping"),
                event,
                say("keys are plain words here; quote the key if it starts with `{{` or `[`"),
            )

    def entry(self, fields: YamlMapping, key: YamlScalar, value: YamlNode) -> None:
        name = str(key)
        if name in fields:
            if len(self.findings) >= MOST_MISTAKES:
                self.too_many(key.span)
                return
            from specgen.source.doubled_keys import told_twice  # only where there are

            told_twice(
                self.findings, key, key.span, fields.key_where(name), self.doubling is fields
            )
            self.doubling = fields
            fields.doubled = True
            if fields[name] == "":  # what is doubled is told, and not that one of the two is empty
                fields[name] = value
            return
        if len(fields) >= MOST_KEYS:
            message = say("more than {most} keys in one mapping", most=MOST_KEYS)
            self.findings.append(Finding(codes.TOO_MUCH, message, Label(key.span), help=_SPLIT))
            self.stopped = True
            return
        if self.doubling is fields:
            self.doubling = None
        fields[name] = value
        fields.key_spans[name] = key.span

    def too_many(self, at: Span) -> None:
        self.findings.append(too_many_mistakes(at))
        self.stopped = True

    def refuse_tag(self, event: Any) -> None:
        if len(self.findings) >= MOST_MISTAKES:
            self.too_many(self.span(event))
            return
        if not event.tag.startswith("tag:yaml.org,2002:"):
            message = say("the tag `{tag}`", tag=event.tag)
            self.report(codes.UNSUPPORTED_YAML, message, event, say("delete the tag"))
        else:
            word = event.tag.rsplit(":", 1)[-1]
            self.report(
                codes.UNSUPPORTED_YAML,
                say("the tag `{tag}`", tag=f"!!{word}"),
                event,
                say("delete it; each field knows what it holds"),
            )


def read_tree(text: str, file: str) -> tuple[YamlNode | None, tuple[Finding, ...]]:
    """The tree of one file's text and what is wrong with its YAML.

    The tree is None where nothing can be made of the text. A text with a syntax error gives no
    tree, since what stands before the error may be half of something else.
    """
    ruler = Ruler(text, file)
    builder = _Builder(ruler)
    loader = Loader(text)
    try:
        builder.take(iter(loader.get_event, None))
    except yaml.MarkedYAMLError as error:
        from specgen.source.yaml_mistakes import explained  # only where there is a mistake

        return None, (*builder.findings, explained(error, ruler.lines, file))
    except (yaml.YAMLError, ValueError) as error:
        span = Span(file, 1, 1, 1, 1)
        message = say("a character that YAML does not allow")
        return None, (
            *builder.findings,
            Finding(
                codes.SYNTAX, message, Label(span), notes=(message_of(str(error).splitlines()[0]),)
            ),
        )
    finally:
        loader.dispose()
    if builder.stopped:
        return None, tuple(builder.findings)
    empty = builder.root is None or (isinstance(builder.root, YamlScalar) and not builder.root)
    if empty:
        span = Span(file, 1, 1, 1, 1)
        return None, (
            *builder.findings,
            Finding(
                codes.EMPTY_FILE,
                say("nothing is defined in this file"),
                Label(span),
                help=say("write a definition, or delete the file"),
            ),
        )
    return builder.root, tuple(builder.findings)
