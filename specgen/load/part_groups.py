"""A file of parts: what they have in common, and what was meant by a key that is none of it."""

from collections.abc import Iterator
from typing import Final

from specgen.diagnostics import Finding, Label, codes, did_you_mean, question
from specgen.load.tree_merging import laid_over
from specgen.messages import say
from specgen.source import YamlMapping, YamlSequence


def slipped(key: str, tree: YamlMapping, meant: tuple[str, ...]) -> Finding:
    """SG111: a key at the head of a file of parts that no field of theirs has, and what was meant.
    SG111: a key at the head of a file of parts that no field of theirs has, and what was meant."""
    at = Label(tree.key_where(key), say("not a field here"))
    message = say("no field is named `{key}`", key=key)
    return Finding(codes.UNKNOWN_FIELD, message, at, help=question(meant))


def overruled(common: YamlMapping, parts: YamlSequence) -> Iterator[Finding]:
    """SG223: fields that parts have in common, and that each of them states itself."""
    own = [each for each in parts if isinstance(each, YamlMapping)]
    for key in common if len(own) > 1 else ():
        if all(key in each for each in own):
            yield Finding(
                codes.UNUSED,
                say("every part of this file states `{key}` itself", key=key),
                Label(common.key_where(key), say("no part has it from here")),
                labels=(Label(own[0].key_where(key), say("the first")),),
                help=say("delete the line, or those of the parts that mean the same"),
            )


OF_GROUP: Final = ("kind", "common", "parts")


def strangers(tree: YamlMapping) -> list[Finding]:
    """Keys beside `kind`, `common` and `parts`: slips of these, and fields that belong below."""
    findings, fields = [], []
    for key in (each for each in tree if each not in OF_GROUP):
        close = did_you_mean(key, OF_GROUP)
        if not close:
            fields.append(key)
            continue
        findings.append(slipped(key, tree, close))
    if fields:
        at = Label(tree.key_where(fields[0]), say("not a field here"))
        message = say("no field is named `{key}`", key=fields[0])
        if len(fields) > 1:
            listed = ", ".join(f"`{each}`" for each in fields)
            message = say("fields of parts stand beside the parts: {listed}", listed=listed)
        help_ = say("move it into `common` or a part")
        if len(fields) > 1:
            help_ = say("indent them below `common:`, or move them into a part")
        findings.append(Finding(codes.UNKNOWN_FIELD, message, at, help=help_))
    return findings


def joined(common: YamlMapping, own: YamlMapping) -> YamlMapping:
    """A part's fields over those it shares with the others of its file."""
    keys = {**getattr(common, "key_spans", {}), **own.key_spans}
    return laid_over(common, own, {**common, **own}, keys)
