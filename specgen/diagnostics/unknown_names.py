"""What is said of a name that nothing has, by the code of the finding."""

from collections.abc import Mapping
from typing import Final

from specgen.diagnostics import codes
from specgen.diagnostics.finding import Code
from specgen.messages import Message, say

NO_SUCH: Final[Mapping[Code, Message]] = {
    codes.UNKNOWN_PART: say("no part is named `{name}`"),
    codes.UNKNOWN_PLATFORM: say("no platform is named `{name}`"),
    codes.UNKNOWN_BUILD: say("no build is named `{name}`"),
    codes.UNKNOWN_KIND: say("no kind of part is named `{name}`"),
    codes.UNKNOWN_FAMILY: say("no family is named `{name}`"),
    codes.UNKNOWN_POSITION: say("no position is named `{name}`"),
    codes.UNKNOWN_TOOL: say("no tool is named `{name}`"),
    codes.UNKNOWN_FACT: say("no fact is named `{name}`"),
}
