"""The builds that platforms are shown by."""

from collections.abc import Iterator

from specgen.diagnostics import Finding, Label, codes, meant, question
from specgen.messages import Message, Nothing, say
from specgen.model import Definitions


def unfit_to_show(definitions: Definitions) -> Iterator[Finding]:
    """SG225: `shown` of a platform that names no published build of it."""
    for platform in definitions.platforms.values():
        if platform.shown is None:
            continue
        build = definitions.builds.get(platform.shown)
        fit = [
            each.id
            for each in definitions.builds.values()
            if each.platform == platform.id and each.published
        ]
        if build is None:
            message = say("no build is named `{build}`", build=platform.shown)
        elif build.platform != platform.id:
            other = definitions.platforms.get(build.platform)
            message = say(
                "`{build}` is a build of {other}, not of {platform}",
                build=build.id,
                other=build.platform if other is None else other.name,
                platform=platform.name,
            )
        elif not build.published:
            message = say("`{build}` is a draft and is not published", build=build.id)
        else:
            continue
        at = Label(platform.origin.at("shown"), say("the pictures of {name}", name=platform.name))
        yield Finding(codes.UNFIT_TO_SHOW, message, at, help=_instead(platform.shown, fit))


def _instead(name: str, fit: list[str]) -> Message | Nothing:
    if not fit:
        return say("leave the field out: the chassis is shown as it is")
    return meant(name, fit) or question(tuple(fit[:3]))
