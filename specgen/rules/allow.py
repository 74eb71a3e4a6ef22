"""Warnings that a build accepts, with a reason."""

from collections.abc import Iterable, Iterator, Mapping

from specgen.assembly import Assembly, State
from specgen.diagnostics import Code, Finding, Label, Severity, codes, did_you_mean, question
from specgen.messages import say


def without_allowed(
    assembly: Assembly, findings: Iterable[Finding], declared: Mapping[str, Code]
) -> Iterator[Finding]:
    """The findings less the warnings that the build allows; SG212 for allowances without use.

    `declared` has the codes of the project's own rules beside those built in.
    While there are errors, or parts that nobody defines, a warning may be hidden behind one of
    them, so its allowance is left alone.
    """
    build = assembly.build
    accepted = () if build is None else tuple(entry.code for entry in build.allow)
    allowed, used, left = frozenset(accepted), set[str](), set[str]()
    errors = any(place.state is State.UNKNOWN for place in assembly.places.values())
    for finding in findings:
        if finding.code.may_be_allowed and finding.code.id in allowed:
            used.add(finding.code.id)
        else:
            if finding.code.may_be_allowed:
                left.add(finding.code.id)
            errors |= finding.severity is Severity.ERROR
            yield finding
    if build is not None:
        for index, code in enumerate(accepted):
            if code in used:
                continue
            known = codes.CODES.get(code) or declared.get(code)
            if errors and known is not None and known.may_be_allowed:
                continue
            at = Label(build.origin.at("allow", index, "code"), say("allows nothing"))
            yield _unused(code, known, at, declared, left)


def _unused(
    code: str, known: Code | None, at: Label, declared: Mapping[str, Code], left: set[str]
) -> Finding:
    """`left` are codes of warnings that nothing allows: one of them may have been meant."""
    other = question(did_you_mean(code, left)) or say("delete it")
    if known is None:
        message = say("no finding has the code `{code}`", code=code)
        help_ = question(did_you_mean(code, (*codes.CODES, *declared)))
    elif known.severity is Severity.ERROR and not known.allowable:
        message, help_ = say("{code} is an error, which cannot be allowed", code=code), other
    else:
        message, help_ = say("{code} does not occur in this build", code=code), other
    return Finding(codes.UNUSED_ALLOW, message, at, help=help_)
