"""SG2xx: names."""

from collections.abc import Mapping
from typing import Final

NAMES: Final[Mapping[str, str]] = {
    "SG201": "No part in the catalog has this id. The build cannot be calculated for a part "
    "nobody has described, and everything that rests on it is left open.",
    "SG202": "No platform has this id. A build takes its positions, limits and size from its "
    "platform, so without one nothing about it can be said.",
    "SG203": "The position is not there with the parts that were chosen. Positions come from the "
    "platform and from the parts in it: another riser or backplane brings others.",
    "SG204": "A link runs from an owner to a position, and one of its ends names neither a port "
    "nor a position. Its lanes, width and speed cannot be worked out.",
    "SG205": "Two definitions carry the same id. Every build that names it could mean either, and "
    "the values would depend on which file happened to be read last.",
    "SG206": "Two owners bring a position of the same name. The name printed on the board would "
    "point at two places, and a reader could fit the part in the wrong one.",
    "SG207": "No family has this id. Platforms are compared within their family, so this one "
    "would be missing from the comparison.",
    "SG209": "The build puts two parts into one position. Only one can be there, and the sheet "
    "must not count both.",
    "SG210": "Following the links from owner to owner leads back to where it began. In a machine "
    "every link ends at a processor or a hub; a circle has no width and no speed.",
    "SG211": "No fact has this key. The place that asks for it would stay empty on the page.",
    "SG212": "The build accepts a warning that does not occur. Perhaps the cause has been mended; "
    "left standing, the allowance would hide the same warning when it comes back.",
    "SG213": "No document has this name. It was asked for to be published and cannot be made.",
    "SG214": "Whoever orders by this number gets one of the two things, and not always the one "
    "that the sheet shows. Parts, platforms and builds share one list of numbers.",
    "SG215": "No catalogue has words for this language. Every document would come out in English, "
    "marked as something else.",
    "SG216": "A rule asks for an attribute, or for a word of one, that no part in the catalog has "
    "declared. It can never hold, and whoever relies on it relies on nothing.",
    "SG217": "There are parts of the kind that the position takes, and none has what the position "
    "asks for. Often it is spelled otherwise there; else the catalog lacks the part.",
    "SG218": "The days and the status of the part cannot all be true. Which builds may be "
    "published, and what the solver offers, hang on them.",
    "SG219": "Bandwidth follows from the width of a memory channel, which the technology says. "
    "Nobody has said how wide a channel of this technology is, and a width is never guessed.",
}
