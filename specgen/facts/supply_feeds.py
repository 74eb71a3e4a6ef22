"""Which power supply is on which feed: as build or platform says, else shared out in turn."""

from collections.abc import Mapping, Sequence
from functools import partial

from specgen.assembly import Assembly, Place
from specgen.facts.fact import Declared, Trail
from specgen.facts.inputs import fit_leaf
from specgen.messages import say
from specgen.model import FEED_NAMES, Build, Platform, PowerSupply, expand


def feeds_of(assembly: Assembly) -> tuple[str, ...]:
    """The feeds that conditions state; none where no power supply is fitted."""
    count = assembly.conditions.feeds
    return FEED_NAMES[:count] if count and assembly.fitted(PowerSupply) else ()


def declared_feeds(platform: Platform, build: Build | None) -> Mapping[str, str]:
    """The feed of each position that the build, or else the platform, names with one."""
    holders = (platform,) if build is None else (platform, build)
    return {
        name: feed
        for holder in holders
        for feed, texts in holder.feeds.items()
        for text in texts
        for name in expand(text)
    }


def supplies_by_feed(assembly: Assembly) -> Mapping[str, tuple[Place, ...]]:
    """The positions of the power supplies on each feed.

    One of which nothing is said goes to the feed with the fewest, so in turn where nothing is.
    """
    return assembly.once("supplies by feed", lambda: _shared_out(assembly))


def _shared_out(assembly: Assembly) -> Mapping[str, tuple[Place, ...]]:
    feeds = feeds_of(assembly)
    known = declared_feeds(assembly.platform, assembly.build)
    found: dict[str, list[Place]] = {feed: [] for feed in feeds}
    others: list[Place] = []
    for place, _ in assembly.fitted(PowerSupply) if feeds else ():
        found.get(known.get(place.name, ""), others).append(place)
    for place in others:
        found[_with_fewest(feeds, {feed: len(on) for feed, on in found.items()})].append(place)
    return {feed: tuple(on) for feed, on in found.items()}


def shared_out(feeds: Sequence[str], counts: Mapping[str, int]) -> Mapping[str, int]:
    """How many power supplies are on each feed: `counts` by the feed named, or `""` for none."""
    on = {feed: counts.get(feed, 0) for feed in feeds}
    for _ in range(counts.get("", 0) if feeds else 0):
        on[_with_fewest(feeds, on)] += 1
    return on


def _with_fewest(feeds: Sequence[str], on: Mapping[str, int]) -> str:
    return min(feeds, key=lambda feed: on[feed])


def feed_trail(assembly: Assembly, places: tuple[Place, ...]) -> Trail:
    """Where it is written that power supplies are fitted, and on which feed each of them is."""
    lines: list[Declared] = []
    build, platform = assembly.build, assembly.platform
    holders: tuple[Build | Platform, ...] = (platform,) if build is None else (build, platform)
    for holder in holders:
        for feed, texts in holder.feeds.items():
            names = {name for text in texts for name in expand(text)}
            if not names.isdisjoint(place.name for place in places):
                at = partial(holder.origin.place, "feeds", feed)
                lines.append(Declared(say("feed {feed}", feed=feed), tuple(texts), at))
    return (*map(fit_leaf, places), *lines)
