"""What is declared and nothing uses, where that is more likely a slip than a provision.

Parts that no build has yet are a catalog; of them nothing is said.
"""

from collections.abc import Iterable, Iterator, Set

from specgen.diagnostics import Finding, Label, codes, did_you_mean, question
from specgen.diagnostics.slips import slips_of
from specgen.diagnostics.suggest import quoted
from specgen.messages import say
from specgen.model import Definitions
from specgen.rules.definitions.records import things
from specgen.source import YamlMapping, YamlScalar, YamlSequence


def unused(definitions: Definitions) -> Iterator[Finding]:
    """SG223, SG220: terms for words that no definition has, families without a platform."""
    project = definitions.project
    known = {family.id for family in project.families}
    used = {platform.family for platform in definitions.platforms.values()}
    for at, family in enumerate(project.families):
        if family.id not in used and used and used <= known:  # a family that nobody knows is told
            yield Finding(
                codes.UNUSED,
                say("no platform is of the family `{family}`", family=family.id),
                Label(project.origin.at("families", at, "id")),
                help=question(did_you_mean(family.id, used)),
            )
    if project.terms:
        yield from _terms(definitions)


def _terms(definitions: Definitions) -> Iterator[Finding]:
    project = definitions.project
    words = _words(definitions)
    lonely = project.terms.keys() - words
    for term in (each for each in project.terms if each in lonely):
        meant = slips_of(term, words - project.terms.keys())
        twin = slips_of(term, project.terms.keys() - {term})
        yield Finding(
            codes.SLIP if meant or twin else codes.UNUSED,
            say("`{term}` is printed otherwise, and no definition says it", term=term)
            if not meant
            else say("no definition says `{term}`, and {others} is close to it", term=term,
                     others=quoted(meant, "or")),
            Label(project.origin.key("terms", term), say("a term for nothing")),
            help=question(meant or twin),
        )  # fmt: skip


def _words(definitions: Definitions) -> Set[str]:
    """Every word that stands alone as a value, or as a key, in parts, platforms and builds."""
    words: set[str] = set()
    seen: set[int] = set()  # what parts have in common
    for thing in (*things(definitions), *definitions.declared):
        stack: list[object] = [] if thing is definitions.project else [thing.origin.tree]
        while stack:
            node = stack.pop()
            if isinstance(node, YamlMapping | YamlSequence) and id(node) not in seen:
                seen.add(id(node))
                inner: Iterable[object] = node
                if isinstance(node, YamlMapping):
                    words.update(node)
                    inner = node.values()
                for each in inner:
                    if type(each) is YamlScalar:
                        words.add(each)
                    else:
                        stack.append(each)
    return set(map(str, words))
