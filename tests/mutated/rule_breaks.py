# ruff: noqa: E501 (a table reads best with one row a line)
"""Breaks of what rules say: conditions that come to the same whatever is fitted, reasons that give
another limit than the condition; and twins of them that are sound."""

from typing import Final

from tests.mutated.breaks import PLATFORM, PROJECT, Break, one
from tests.mutated.sibling_breaks import Sound

AT: Final = "fixtures:\n"
LIST: Final = "documents: [sheet]"


def _rule(*lines: str) -> str:
    """A rule, one field a line, so that each has a line of its own."""
    return "rules:\n  - code: LANTERN-01\n" + "".join(f"    {line}\n" for line in lines)


def _idle(name: str, *lines: str, at: str) -> Break:
    return one(name, PLATFORM, AT, _rule(*lines) + AT, "SG228", at)


def _sound(name: str, *lines: str) -> Sound:
    return Sound(name, PLATFORM, AT, _rule(*lines) + AT)


INLET: Final = 'require: inlet <= "31 degC"'
HOT: Final = 'when: any(p.tdp > "250 W" for p in processors)'

RULE_BREAKS: Final = (
    _idle("ten times the power of any processor", 'when: any(p.tdp > "2050 W" for p in processors)', INLET, at='when: any(p.tdp > "2050 W"'),
    _idle("a tenth of the power of any processor", 'when: any(p.tdp > "2.05 W" for p in processors)', INLET, at='when: any(p.tdp > "2.05 W"'),
    _idle("the number first", 'when: any("2050 W" < p.tdp for p in processors)', INLET, at="when: any("),
    _idle("all processors together never draw that", 'when: sum(p.tdp for p in processors) > "2500 W"', INLET, at="when: sum("),
    _idle("a processor in a socket beyond all", 'when: part("CPU1").tdp > "2050 W"', INLET, at="when: part("),
    _idle("more drives than there are bays", "when: drives.count > 60", INLET, at="when: drives.count"),
    _idle("more drives of a sort than there are bays", 'when: count(d for d in drives if d.medium == "ssd") >= 60', INLET, at="when: count("),
    _idle("a demand that no processor meets", 'when: inlet > "40 degC"', 'require: all(p.tdp >= "400 W" for p in processors)', at="require: all("),
    _idle("higher than any summit", 'when: altitude > "18000 m"', INLET, at="when: altitude"),
    _idle("an inlet that no air has", 'forbid: inlet > "300 degC"', at="forbid: inlet"),
    _idle("a line that no line is", 'require: line >= "2 V"', at="require: line"),
    _idle("a part that is another platform's", 'forbid: has("bays-other")', at="forbid: has"),
    _idle("a backplane that is another platform's", 'when: part("FRONT").id == "bays-other"', INLET, at="when: part("),
    _idle("one of several that is another platform's", 'when: part("FRONT").id in ("bays-fast", "bays-other")', INLET, at="when: part("),
    one("a reason with another temperature", PLATFORM, AT, _rule(HOT, INLET, "because: Processors above 250 W are cooled up to 22 °C.") + AT, "SG227", "because:"),
    one("a reason with another power", PLATFORM, AT, _rule(HOT, INLET, "because: Processors above 350 W are cooled up to 31 °C.") + AT, "SG227", "because:"),
    one("a reason with one of two powers wrong", PLATFORM, AT, _rule(HOT, 'require: all(max(o.output for o in s.outputs) >= "600 W" for s in power_supplies)', "because: Processors above 250 W start up on supplies of 800 W.") + AT, "SG227", "because:"),
    one("a reason with another unit", PLATFORM, AT, _rule('require: altitude <= "1500 m"', "because: Its limits hold up to 1500 km.") + AT, "SG227", "because:"),
    one("a reason of the project's rule", PROJECT, LIST, f'{LIST}\nrules:\n  - code: COAST-01\n    require: line >= "100 V"\n    because: Lines of 200 V or more were tested.', "SG227", "because:"),
)  # fmt: skip

SOUND_RULES: Final = (
    _sound("a limit that some processors pass", HOT, INLET),
    _sound("a processor to come", 'when: any(p.tdp > "500 W" for p in processors)', INLET),
    _sound("no more than there are sockets", "require: processors.count <= 2"),
    _sound("a cold room", 'when: inlet < "10 degC"', "require: drives.count <= 6"),
    _sound("a line of DC", 'when: line < "0 V"', INLET),
    _sound("a part that closes a socket", 'when: has("duct")', INLET),
    _sound("a part that a backplane takes", 'when: has("e3-3840")', INLET),
    _sound("a soldered part", 'when: has("hub")', INLET),
    _sound("a reason that says what the condition does", HOT, INLET, "because: Processors above 250 W are cooled up to an inlet of 31 °C."),
    _sound("a reason in another unit of the same", HOT, INLET, "because: Processors above 0.25 kW are cooled up to 31 °C."),
    _sound("a reason that tells what happens", HOT, INLET, "because: Air leaves the drives at 45 °C and draws 12 W of fan power."),
    _sound("a reason that tells of the slot as well", 'when: any(a.power.maximum > "100 W" for a in accelerators)', INLET, "because: The slot gives 75 W; above 100 W the cable is warm."),
    _sound("a reason without numbers", HOT, INLET, "because: It grows warm."),
)  # fmt: skip
