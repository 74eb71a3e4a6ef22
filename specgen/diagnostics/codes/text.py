"""SG1xx: text and fields of definitions."""

from typing import Final

from specgen.diagnostics.codes.weights import error, warning

UNREADABLE: Final = error("SG100", "file that cannot be read")
"""The file is not there, may not be opened, or is not text in UTF-8. Whatever it defines is
missing from every build and page until it can be read."""
SYNTAX: Final = error("SG101", "text that is not YAML")
"""The text breaks the rules of YAML, most often by a wrong indentation, a missing colon or an
open quote. Nothing after that place can be understood with certainty, so the file is left out."""
DUPLICATE_KEY: Final = error("SG102", "key written twice in one mapping")
"""One mapping holds the same key twice. A plain reader of YAML keeps the last and drops the
first without a word, and a value that somebody wrote would be lost."""
EXPANSION: Final = error("SG103", "alias that grows without bound")
"""Aliases in the file refer to themselves, or repeat each other so often that a few lines unfold
into more than a computer can hold. Write the repeated part out, or name it once as a definition
of its own."""
UNSUPPORTED_YAML: Final = error("SG104", "part of YAML that definitions do without")
"""Definitions use the plain part of YAML: mappings with words as keys, lists and values, one
document a file. Tags, keys that are lists or mappings, and several documents in one file mean
different things to different readers, so they are left out."""
EMPTY_FILE: Final = error("SG105", "file that defines nothing")
"""The file is empty or holds only comments. An empty definition is nearly always a file saved
too early or in the wrong place, and a part or build may be missing because of it."""
LEADS_OUT: Final = error("SG106", "link that leads out of the project")
"""A link in the project leads to a file or folder outside of it, or to something hidden within.
Followed, it would publish what lies on the computer that publishes, so nothing behind it is
read, printed or copied."""
NOT_PUBLISHED: Final = warning("SG107", "file that is not published")
"""Of what lies in `pages/`, pages, pictures and files to hand out are published, known by their
endings. A browser could run other files as part of the site, so they are left out."""
TOO_MUCH: Final = error("SG108", "more than is looked at")
"""A file holds more mistakes, keys, rules or values than anybody writes by hand, and what follows
has not been looked at. Fix what is told first, or split what a program has made."""
UNKNOWN_FIELD: Final = error("SG111", "unknown field")
"""The field is not one that this kind of definition has. A misspelt field would be passed over,
and what was written in it would reach no page and no check."""
WRONG_TYPE: Final = error("SG112", "value of another shape")
"""The field takes a value of another shape: a list where one word stands, say, or a mapping
where a list is needed. Guessing what was meant could put a wrong value on a sheet."""
WRONG_VALUE: Final = error("SG113", "value outside what is allowed")
"""The value is not among the words this field knows, or lies outside the range it allows. The
checks and the values that rest on it cannot be worked out."""
MISSING_FIELD: Final = error("SG114", "missing field")
"""A field that this kind of definition needs is not there. A sheet states values only where they
are declared, and some of them rest on this field."""
UNKNOWN_KIND: Final = error("SG115", "unknown kind of definition")
"""The file says it defines a kind of thing that is not known here. Without the kind there is no
telling which fields and which checks belong to it."""
EMPTY_VALUE: Final = error("SG116", "field without a value")
"""The field is there but nothing is written in it. Leave the field out if it does not apply; an
empty one hides whether a value is absent or forgotten."""
FIELD_TAKEN: Final = error("SG117", "field of a kind under a name that is taken")
"""A kind of the project's own has a field whose name is taken: every part has it, a trait of the
kind brings it, or positions ask for it in another meaning. Whoever reads the field would read
something else than what its parts declare."""
CONTRADICTION: Final = error("SG118", "definition that contradicts itself")
"""Two fields of one definition, or the entries of one list, cannot be true together: a maximum
below a typical value, a slot twice in an order, a range that ends before it begins. Whatever is
worked out from them is wrong, whoever fits the part."""
MISPLACED: Final = error("SG119", "outline outside of what it belongs to")
"""Drawings are to scale, and whoever works at the system finds its parts by them. What is said to
lie outside of the chassis, or of the part that brings it, is drawn in the air; mostly a number
has a wrong digit or unit, or a range goes on by a wrong step."""
NO_UNIT: Final = error("SG121", "value without a unit")
"""Every value carries its unit in the file, so that watts are never taken for kilowatts or
decimal gigabytes for binary ones. The same value is printed in many places, and a guessed unit
would be wrong in all of them."""
WRONG_DIMENSION: Final = error("SG122", "unit of another dimension")
"""The value has a unit, but of another dimension than the field: a size where a power is needed,
for instance. Usually two values were swapped or a line was copied."""
UNKNOWN_UNIT: Final = error("SG123", "unknown unit")
"""The unit is not one that specgen can read. Spelling counts: `GB` is a thousand million bytes,
`GiB` is 2 to the power of 30, and `Gb` is neither."""
NOT_A_NUMBER: Final = error("SG124", "value that is not a number")
"""A value is needed here, and what stands before the unit cannot be read as a number. Write
plain digits with a point for the decimals, without signs that group them."""
BAD_RANGE: Final = error("SG125", "range of positions that cannot be read")
"""A range names the first and the last position with two points between them, as in `BAY 0..7`; a
single capital before the number counts along: `DIMM 1A1..1H2` is 1A1, 1A2, 1B1 and so on up to 1H2.
Commas join names and ranges, each position once: `DIMM A1, A3..A5`. This one cannot be read so, and
it is unknown which positions it means."""
TO_DO: Final = warning("SG126", "something left to do")
"""A mark or a placeholder says that somebody meant to come back. Until then nobody can rely on
what stands there."""
TO_DO_PUBLISHED: Final = error("SG127", "something left to do in what is published")
"""A mark or a placeholder says that somebody meant to come back, and what holds it is published.
A reader would take a placeholder for a value; nothing with one is written."""
DOUBTFUL_UNIT: Final = warning("SG128", "unit that is probably another")
"""Memory is counted in powers of two and drives in powers of ten, links in bits and what is read
in bytes. A value under the wrong one is off by 7 % and more, or by eight times, and reads as if
it were right. Nor is anything built of values a thousand times off, as a slip of a prefix makes
them."""
STACKED: Final = warning("SG129", "outlines that lie on one another")
"""Two things cannot be in one place. Drawings show one of them only, and a callout names what
nobody sees; mostly an outline was copied and its numbers were not changed, or a range has no
`step`. Positions that are never in use together are not told: a part of one `blocks` the other,
or a rule of the platform names both."""
DOUBTFUL_VALUE: Final = warning("SG130", "value that is probably another")
"""The value can be read and breaks no law, but nothing that is built has it beside the others: two
values were exchanged, a digit is missing or one too many, or the part's own name says another. It
would stand in every document and sum as if it were right."""
RULE_TEXT: Final = error("SG131", "expression that cannot be read")
"""What stands here is not an expression: a bracket or a quote is open, a sign is missing, or
there is a character that means nothing here. A rule that cannot be read is not applied, and
systems that break it would pass; a value that cannot be read is on no page."""
RULE_LANGUAGE: Final = error("SG132", "expression that goes beyond the language")
"""Rules and values are written in a small part of Python's expressions, so that a checker, a
solver and a page can all read them. This one uses something outside of it; the whole language is
described with the package `specgen.expressions`."""
RULE_NAME: Final = error("SG133", "unknown name in an expression")
"""An expression uses a name that nothing has: a collection, a condition, a function, a field of
a part, or a word that the field can never hold. With a misspelt name the rule would hold for
every system or for none."""
RULE_TYPE: Final = error("SG134", "unlike things put together in an expression")
"""An expression compares or adds things of different sorts, a power and a number for instance,
or asks something for a field that has none. Quantities carry their unit, in quotes, in rules as
everywhere."""
RULE_NO_STATEMENT: Final = error("SG135", "expression that comes to nothing of use")
"""A condition says of a system that something holds or not; one that yields a number, a
quantity or a text says nothing. A value is something to print: a number, an amount, a text, or
whether something holds; a part or a collection is none of these."""
RULE_TOO_LARGE: Final = error("SG136", "expression that is too large")
"""The expression is longer or deeper than a reader can follow, or takes more steps on a system
than a check may take. It is not applied."""
RULE_SHAPE: Final = error("SG137", "rule without one thing to require or forbid")
"""A rule states one thing: what a system must keep, or what it must not be. With both or
neither it is not clear what is asked."""
VALUE_SHAPE: Final = error("SG138", "declared value whose fields do not go together")
"""The key of a value names one fact on one system. With `over` there are several of it, and a
step in braces says which, as in `house.{position}.share`; without `over` there is none. Some
first words are kept for facts that documents make, and a unit goes with a number or an amount
alone."""
VALUE_CIRCLE: Final = error("SG139", "declared values that rest on each other in a circle")
"""Each value is worked out of others, and these lead back to the first: none of them has
anything to start from. Work one of them out of declared fields or of other facts."""
