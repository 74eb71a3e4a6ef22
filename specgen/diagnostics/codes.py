"""All codes. A number is never used twice, and never for something else.

SG1xx text and fields, SG2xx names, SG3xx engineering, SG4xx output, SG5xx prose. Why each one
matters is written in `specgen/diagnostics/about/`, one module a hundred.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from specgen.diagnostics.finding import Code, Severity


def _error(number: str, title: str) -> Code:
    return Code(number, title, Severity.ERROR)


def _decided(number: str, title: str) -> Code:
    """An error that a build may accept with a reason."""
    return Code(number, title, Severity.ERROR, allowable=True)


def _warning(number: str, title: str) -> Code:
    return Code(number, title, Severity.WARNING)


def _note(number: str, title: str) -> Code:
    return Code(number, title, Severity.NOTE)


# SG1xx: text and fields
UNREADABLE: Final = _error("SG100", "file that cannot be read")
SYNTAX: Final = _error("SG101", "text that is not YAML")
DUPLICATE_KEY: Final = _error("SG102", "key written twice in one mapping")
EXPANSION: Final = _error("SG103", "alias that grows without bound")
UNSUPPORTED_YAML: Final = _error("SG104", "part of YAML that definitions do without")
EMPTY_FILE: Final = _error("SG105", "file that defines nothing")
LEADS_OUT: Final = _error("SG106", "link that leads out of the project")
NOT_PUBLISHED: Final = _warning("SG107", "file that is not published")
UNKNOWN_FIELD: Final = _error("SG111", "unknown field")
WRONG_TYPE: Final = _error("SG112", "value of another shape")
WRONG_VALUE: Final = _error("SG113", "value outside what is allowed")
MISSING_FIELD: Final = _error("SG114", "missing field")
UNKNOWN_KIND: Final = _error("SG115", "unknown kind of definition")
EMPTY_VALUE: Final = _error("SG116", "field without a value")
FIELD_TAKEN: Final = _error("SG117", "field of a kind under a name that is taken")
CONTRADICTION: Final = _error("SG118", "definition that contradicts itself")
NO_UNIT: Final = _error("SG121", "value without a unit")
WRONG_DIMENSION: Final = _error("SG122", "unit of another dimension")
UNKNOWN_UNIT: Final = _error("SG123", "unknown unit")
NOT_A_NUMBER: Final = _error("SG124", "value that is not a number")
BAD_RANGE: Final = _error("SG125", "range of positions that cannot be read")
TO_DO: Final = _warning("SG126", "something left to do")
TO_DO_PUBLISHED: Final = _error("SG127", "something left to do in what is published")
DOUBTFUL_UNIT: Final = _warning("SG128", "unit that is probably another")
RULE_TEXT: Final = _error("SG131", "expression that cannot be read")
RULE_LANGUAGE: Final = _error("SG132", "expression that goes beyond the language")
RULE_NAME: Final = _error("SG133", "unknown name in an expression")
RULE_TYPE: Final = _error("SG134", "unlike things put together in an expression")
RULE_NO_STATEMENT: Final = _error("SG135", "expression that comes to nothing of use")
RULE_TOO_LARGE: Final = _error("SG136", "expression that is too large")
RULE_SHAPE: Final = _error("SG137", "rule without one thing to require or forbid")
VALUE_SHAPE: Final = _error("SG138", "declared value whose fields do not go together")
VALUE_CIRCLE: Final = _error("SG139", "declared values that rest on each other in a circle")

# SG2xx: names
UNKNOWN_PART: Final = _error("SG201", "unknown part")
UNKNOWN_PLATFORM: Final = _error("SG202", "unknown platform")
UNKNOWN_POSITION: Final = _error("SG203", "position that does not exist with this choice")
UNKNOWN_ENDPOINT: Final = _error("SG204", "link end that names no port or position")
DUPLICATE_NAME: Final = _error("SG205", "two definitions with one id")
DUPLICATE_POSITION: Final = _error("SG206", "position brought twice")
UNKNOWN_FAMILY: Final = _error("SG207", "unknown family")
POSITION_FILLED_TWICE: Final = _error("SG209", "position filled twice")
LINK_CYCLE: Final = _error("SG210", "links that lead back to themselves")
UNKNOWN_FACT: Final = _error("SG211", "unknown fact")
UNUSED_ALLOW: Final = _warning("SG212", "allowance that nothing needs")
UNKNOWN_DOCUMENT: Final = _error("SG213", "unknown document")
NUMBER_TWICE: Final = _error("SG214", "one order number for two things")
UNKNOWN_LANGUAGE: Final = _error("SG215", "language without a catalogue")
UNKNOWN_ATTRIBUTE: Final = _error("SG216", "attribute that no part declares")
NOTHING_FITS: Final = _warning("SG217", "position that no part of the catalog fits")
LIFE_DATES: Final = _error("SG218", "life of a part that contradicts itself")
UNKNOWN_TECHNOLOGY: Final = _error("SG219", "memory technology that nobody describes")

# SG3xx: engineering. Fit of a part in its position
WRONG_KIND: Final = _error("SG301", "part of another kind than the position takes")
WRONG_SOCKET: Final = _error("SG302", "part for another socket")
TOO_TALL: Final = _error("SG303", "part too tall for the position")
TOO_LONG: Final = _error("SG304", "part too long for the position")
WRONG_CONNECTOR: Final = _error("SG305", "connector or form that does not go in")
WRONG_INTERFACE: Final = _error("SG306", "part with another interface")
WRONG_SWAP: Final = _error("SG307", "part of another swap class")
WRONG_KEY: Final = _error("SG308", "keying or mounting pattern that does not match")
NOT_LISTED: Final = _error("SG309", "part the platform does not list")
TOO_WIDE: Final = _error("SG310", "part wider than the slots beside it allow")

# SG3xx: positions, needs, links
UNUSABLE_POSITION: Final = _error("SG311", "part in a position that is unusable")
BLOCKED_POSITION: Final = _error("SG312", "part in a position that another part blocks")
NEED_UNMET: Final = _error("SG313", "need that nothing in the build meets")
RESOURCE_OVERCOMMITTED: Final = _error("SG314", "more taken of a resource than there is")
LANES_OVERCOMMITTED: Final = _error("SG315", "more lanes taken than there are")
SPLIT_IMPOSSIBLE: Final = _error("SG316", "port that cannot split this way")
LINK_NARROWED: Final = _note("SG317", "link narrower or slower than the part")
POSITION_MUST_BE_FILLED: Final = _error("SG318", "empty position that must be filled")
PROTOCOL_MISMATCH: Final = _error("SG319", "drive the controller cannot speak to")

# SG3xx: memory
MIXED_MEMORY: Final = _error("SG321", "memory modules that must not mix")
POPULATION_ORDER: Final = _error("SG322", "memory not fitted in its order")
UNBALANCED_MEMORY: Final = _warning("SG323", "memory channels filled unevenly")
MEMORY_DERATED: Final = _note("SG324", "memory slower than its modules")
MEMORY_MISSING: Final = _error("SG325", "processor without memory")
MEMORY_CHANNELS: Final = _error("SG326", "memory on more channels than the processor has")

# SG3xx: processors, cooling, surroundings
SOCKET_TDP: Final = _error("SG331", "processor above the power of its socket")
HEATSINK_TDP: Final = _error("SG332", "processor above the power of its heat sink")
FANS_MISSING: Final = _error("SG333", "too few fans")
MIXED_PROCESSORS: Final = _error("SG334", "processors that must not mix")
INLET_TOO_WARM: Final = _error("SG335", "inlet air warmer than the build allows")
UNCOOLED: Final = _error("SG336", "processor that nothing cools")

# SG3xx: storage
CACHE_WITHOUT_ENERGY: Final = _error("SG341", "write cache without an energy pack")
RAID_UNSUPPORTED: Final = _error("SG342", "RAID level the controller does not offer")
VOLUME_TOO_SMALL: Final = _error("SG343", "volume with too few drives")
VOLUME_MEMBER: Final = _error("SG344", "volume with a member it cannot have")
VOLUME_MIXED: Final = _warning("SG345", "volume of unequal drives")
VOLUME_SPLIT: Final = _error("SG346", "volume spread over several controllers")
SPARE_UNFIT: Final = _error("SG347", "hot spare that could take no member's place")

# SG3xx: supplies
INLET_UNCORDED: Final = _note("SG350", "inlet without a power cord")
SUPPLY_OVERLOADED: Final = _error("SG351", "supplies overloaded")
SUPPLY_MIXED: Final = _error("SG352", "supplies that must not mix")
SUPPLY_MISSING: Final = _error("SG353", "too few supplies")
REDUNDANCY_LOST: Final = _error("SG354", "load too high once a supply has failed")
LINE_VOLTAGE: Final = _error("SG355", "supply not rated at the line voltage")
SLOT_POWER: Final = _error("SG356", "part above the power of its slot")
CORD_MISMATCH: Final = _error("SG357", "power cord that does not mate")
CORD_VOLTAGE: Final = _error("SG358", "power cord not made for the line")
INPUT_CURRENT: Final = _error("SG359", "input current above a rating")

# SG3xx: life of parts, cabling
WITHDRAWN_PART: Final = _error("SG361", "withdrawn part in a published build")
REPLACED_PART: Final = _note("SG362", "part with a successor")
CONNECTOR_TAKEN: Final = _error("SG363", "two cables on one connector")
TRANSCEIVER_MISMATCH: Final = _error("SG364", "transceiver that does not suit its cage")
SOLDERED_REPLACED: Final = _error("SG365", "part in place of a soldered one")
PLANNED_PART: Final = _decided("SG366", "planned part in a published build")

# SG3xx: rules about rules
RULE_NEVER: Final = _warning("SG371", "rule whose case never arises")
RULE_CONTRADICTED: Final = _warning("SG372", "rule that contradicts itself or another")
RULE_REPEATS: Final = _note("SG373", "rule that repeats what holds anyway")
OUT_OF_REACH: Final = _warning("SG374", "part or position that rules put out of reach")

# SG3xx: values that are worked out, and that no system can have
VALUE_IMPOSSIBLE: Final = _error("SG381", "value that no working system has")
VALUE_DOUBTFUL: Final = _warning("SG382", "value that somebody should decide about")

# SG3xx: air, rack and floor, where they are stated
AIRFLOW_SHORT: Final = _error("SG390", "fans that move less air than is needed")
RACK_TOO_SHALLOW: Final = _error("SG391", "system too deep for the rack")
RAILS_LENGTH: Final = _error("SG392", "rails too short or too long for the rack")
RAILS_OVERLOADED: Final = _error("SG393", "system too heavy for its rails")
RACK_FULL: Final = _error("SG394", "more rack units than the rack has")
RACK_OVERLOADED: Final = _error("SG395", "more weight than the rack carries")
FLOOR_OVERLOADED: Final = _error("SG396", "more weight than the floor bears")
RACK_TOO_NARROW: Final = _error("SG397", "system too wide for the rack")

# SG4xx: output
TEMPLATE_ERROR: Final = _error("SG401", "template that cannot be filled in")
DRAWING_FAILED: Final = _error("SG402", "drawing that could not be made")
LETTER_MISSING: Final = _warning("SG403", "letter that no font for print has")
TEXT_UNTRANSLATED: Final = _note("SG404", "text without a translation")
NO_SOLVER: Final = _warning("SG405", "question that no solver is there to answer")

# SG5xx: prose
UNKNOWN_REFERENCE: Final = _error("SG501", "reference to what is not there")
REFERENCE_SYNTAX: Final = _error("SG502", "reference that cannot be read")
VALUE_CONTRADICTED: Final = _warning("SG503", "typed value that contradicts a fact")
VALUE_TYPED: Final = _note("SG504", "typed value where a fact exists")
PART_NAMED: Final = _warning("SG505", "text about a withdrawn or replaced part")
DEAD_LINK: Final = _warning("SG506", "link that leads nowhere")
UNKNOWN_SUBJECT: Final = _error("SG507", "text about something unknown")
NO_VALUE: Final = _warning("SG508", "reference to a fact without a value")
PICTURE_MISSING: Final = _error("SG509", "picture that is not there")
NO_ALTERNATIVE: Final = _warning("SG510", "picture without a text in its place")
TEXT_UNPRINTED: Final = _warning("SG511", "text that no document prints")
OF_UNSOUND: Final = _error("SG512", "value of a system that has errors")
HTML_REMOVED: Final = _error("SG521", "page with HTML that it may not have")
UNSAFE_LINK: Final = _error("SG522", "link that does more than lead somewhere")
PICTURE_ACTS: Final = _error("SG523", "picture that does more than show")
PICTURE_CLEANED: Final = _note("SG524", "picture with parts that are left out")

CODES: Final[Mapping[str, Code]] = MappingProxyType(
    {code.id: code for code in tuple(globals().values()) if isinstance(code, Code)}
)
"""Every code by its number, in the order above."""
