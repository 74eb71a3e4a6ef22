"""SG2xx: names that definitions use for one another."""

from typing import Final

from specgen.diagnostics.codes.weights import error, note, warning

UNKNOWN_PART: Final = error("SG201", "unknown part")
"""No part in the catalog has this id. The build cannot be calculated for a part nobody has
described, and everything that rests on it is left open."""
UNKNOWN_PLATFORM: Final = error("SG202", "unknown platform")
"""No platform has this id. A build takes its positions, limits and size from its platform, so
without one nothing about it can be said."""
UNKNOWN_POSITION: Final = error("SG203", "position that does not exist with this choice")
"""The position is not there with the parts that were chosen. Positions come from the platform
and from the parts in it: another riser or backplane brings others."""
UNKNOWN_ENDPOINT: Final = error("SG204", "link end that names no port or position")
"""A link runs from an owner to a position, and one of its ends names neither a port nor a
position. Its lanes, width and speed cannot be worked out."""
DUPLICATE_NAME: Final = error("SG205", "two definitions with one id")
"""Two definitions carry the same id. Every build that names it could mean either, and the values
would depend on which file happened to be read last."""
DUPLICATE_POSITION: Final = error("SG206", "position brought twice")
"""Two owners bring a position of the same name. The name printed on the board would point at two
places, and a reader could fit the part in the wrong one."""
UNKNOWN_FAMILY: Final = error("SG207", "unknown family")
"""No family has this id. Platforms are compared within their family, so this one would be
missing from the comparison."""
POSITION_FILLED_TWICE: Final = error("SG209", "position filled twice")
"""The build puts two parts into one position. Only one can be there, and the sheet must not
count both."""
LINK_CYCLE: Final = error("SG210", "links that lead back to themselves")
"""Following the links from owner to owner leads back to where it began. In a system every link
ends at a processor or a hub; a circle has no width and no speed."""
UNKNOWN_FACT: Final = error("SG211", "unknown fact")
"""No fact has this key. The place that asks for it would stay empty on the page."""
UNUSED_ALLOW: Final = warning("SG212", "allowance that nothing needs")
"""The build accepts a warning that does not occur. Perhaps the cause is gone; left
standing, the allowance would hide the same warning when it comes back."""
UNKNOWN_DOCUMENT: Final = error("SG213", "unknown document")
"""No document has this name. It was asked for to be published and cannot be made."""
NUMBER_TWICE: Final = error("SG214", "one order number for two things")
"""Whoever orders by this number gets one of the two things, and not always the one that the
sheet shows. Parts, platforms and builds share one list of numbers."""
UNKNOWN_LANGUAGE: Final = error("SG215", "language without a catalogue")
"""No catalogue has words for this language. Every document would come out in English, marked as
something else."""
UNKNOWN_ATTRIBUTE: Final = error("SG216", "attribute that no part declares")
"""A rule asks for an attribute, or for a word of one, that no part in the catalog has declared.
It can never hold, and whoever relies on it relies on nothing."""
NOTHING_FITS: Final = warning("SG217", "position that no part of the catalog fits")
"""There are parts of the kind that the position takes, and none has what the position asks for.
Often it is spelled otherwise there; else the catalog lacks the part."""
LIFE_DATES: Final = error("SG218", "life of a part that contradicts itself")
"""The days and the status of the part cannot all be true. Which builds may be published, and
what the solver offers, depend on them."""
UNKNOWN_TECHNOLOGY: Final = error("SG219", "memory technology that nobody describes")
"""Bandwidth follows from the width of a memory channel, which the technology says. Nobody has
said how wide a channel of this technology is, and a width is never guessed."""
SLIP: Final = warning("SG220", "word that is probably another")
"""The word differs from another by what a hurried hand or eye makes of it, and nothing meets it:
no part has it, or no position asks for it. What should go together does not."""
NAMES_ALIKE: Final = warning("SG221", "two things of one name")
"""Readers know a system or a part by its name. Where two have one, nobody can tell from a page,
an offer or a list which of them is meant. Names may repeat where only one of them can be ordered:
a part that is discontinued, a build that is not published."""
DOUBTFUL_DAY: Final = warning("SG222", "day that is probably another")
"""A day a hundred years off is a slip of the hand (2206 for 2026), and so is one that is later than
what rests on it: a source after the edition that cites it, a measurement after the sheet. What is
orderable, what a rule asks and how old a source is are worked out from it."""
UNUSED: Final = note("SG223", "something declared that nothing uses")
"""Mostly what nothing uses is a slip in its name: the thing that should be used is not. It may as
well be there for later, so this is a note."""
DOUBTFUL_CHANNEL: Final = warning("SG224", "memory slot that is probably on another channel")
"""The channels of a processor have equal numbers of slots, but for one; or the slot belongs to
another processor than the one whose order it stands in. Rates, bandwidth and which modules may be
mixed follow from the channel that a slot is on."""
UNFIT_TO_SHOW: Final = error("SG225", "build that cannot show a platform")
"""The pictures of a platform are those of one of its builds. What a reader sees there must be
something that the platform takes and that can be ordered."""
UNSTATED: Final = warning("SG226", "value that all parts alike state, and one does not")
"""Sums and judgements leave out what is not stated, or are not made at all: fans without airflow,
a drive without a draw. Where every other part of the sort has the value, its line was forgotten."""
TOLD_OTHERWISE: Final = warning("SG227", "text that tells of something else")
"""A text says something else than what stands beside it: a summary that was copied names another
platform or counts other drives than are there, the reason of a rule gives another limit than its
condition. A reader believes the sentence."""
IDLE_CONDITION: Final = warning("SG228", "condition that is always true or never")
"""A rule that never applies, or that nothing can break, guards against nothing. Where a number lies
far beyond all parts, or a part goes into no position there, it is probably another."""
ACCESS_CIRCLE: Final = error("SG229", "covers that lie over one another in a circle")
"""To reach the one, the other has to be out of the way first, and the other way round. No order of
access can be printed, and no procedure written, for what lies under them."""
UNKNOWN_TOOL: Final = error("SG230", "unknown tool")
"""A technician is told to bring what nobody describes. Tools are named once, under `tools` of
specgen.yaml, and printed as they are called there."""
UNKNOWN_BUILD: Final = error("SG241", "unknown build")
"""No build has this id. One that is like another takes its parts, volumes and conditions over, so
without the other nothing about it can be said."""
LIKE_ITSELF: Final = error("SG242", "definition that is like itself")
"""Following `like` from one definition to the next leads back to where it began. Each takes over
what the next one says, and none of them says it."""
NOT_TAKEN_OVER: Final = error("SG243", "difference to what is not taken over")
"""A definition that is like another leaves something out, or changes it, that the other does not
have by itself. Mostly it has another name there; what was to differ does not."""
