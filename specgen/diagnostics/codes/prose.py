"""SG5xx: prose."""

from typing import Final

from specgen.diagnostics.codes.weights import error, note, warning

UNKNOWN_REFERENCE: Final = error("SG501", "reference to what is not there")
"""The text refers to a value, part, position or document that the definitions do not have, or
have no longer. The document prints the reference as it was written, which no reader can use."""
REFERENCE_SYNTAX: Final = error("SG502", "reference that cannot be read")
"""What stands between the braces follows none of the forms of a reference, so nothing can be
printed for it. The document shows it as it was written."""
VALUE_CONTRADICTED: Final = warning("SG503", "typed value that contradicts a fact")
"""A value was typed into a text, and the definitions say another. One of the two is wrong, and
readers will find both on the same site."""
VALUE_TYPED: Final = note("SG504", "typed value where a fact exists")
"""The value is right today, but it was typed. When the definitions change, this text stays
behind; a reference in its place follows them."""
PART_NAMED: Final = warning("SG505", "text about a discontinued or replaced part")
"""The text speaks of a part that can no longer be ordered, or whose successor is known. Whoever
follows the text will ask for something that cannot be bought for long."""
DEAD_LINK: Final = warning("SG506", "link that leads nowhere")
"""A reader who follows the link finds nothing. What it led to has moved, or never was."""
UNKNOWN_SUBJECT: Final = error("SG507", "text about something unknown")
"""The folder or the head of the text names what it is about, and the definitions know nothing of
that name. Its short references have nothing to refer to."""
NO_VALUE: Final = warning("SG508", "reference to a fact without a value")
"""The fact exists, but a value it needs is not declared. The document would print `not declared`
in the middle of a sentence."""
PICTURE_MISSING: Final = error("SG509", "picture that is not there")
"""The page shows a picture from a file that is not there. A reader would see an empty frame in
its place."""
NO_ALTERNATIVE: Final = warning("SG510", "picture without a text in its place")
"""Nothing stands in the place of the picture for who cannot see it. Readers with a screen
reader, and whoever prints the words alone, would miss what it says."""
TEXT_UNPRINTED: Final = warning("SG511", "text that no document prints")
"""No template asks for a text of this name about this subject. Whoever wrote it believes that it
is printed."""
OF_UNSOUND: Final = error("SG512", "value of a system that has errors")
"""Of a system with errors no document is written, since its values could be wrong. A text about
something else must not print them either: it stays unprinted until they are fixed."""
DRAFT_NAMED: Final = warning("SG513", "draft named in what is published")
"""The text is published and the build is not. Its page is not there, its values may still change,
and readers ask for what cannot be ordered."""
LEVEL_SKIPPED: Final = warning("SG514", "heading that skips a level")
"""The heading is deeper by more than one level than the one above it. Who reads with a screen
reader, or by the outline of a PDF, looks for the level between and believes that it is missing."""
NOTE_LOST: Final = error("SG515", "footnote that cannot be printed")
"""A number in a text leads to a footnote, and each footnote is told once. One that is not there,
that is there twice or that stands where none can leaves readers with a sign that says nothing."""
NOTE_UNUSED: Final = warning("SG516", "footnote that nothing refers to")
"""The text holds a footnote and no number that leads to it, so it is not printed. Either its number
was lost when the text was changed, or the footnote was forgotten."""
ADMONITION: Final = error("SG517", "warning or note that cannot be read")
"""A warning begins with `::: warning`, says what to know and ends with `:::`. Of what is unfinished
or of another kind it is not known how grave it is and where it ends, and readers must not guess."""
TABLE_ROWS: Final = error("SG518", "table whose rows do not fit")
"""A row has more cells than the table has columns, or the line below its head has another number of
them. What is too much would be dropped without a word, or the table printed as it was typed."""
NOT_MARKDOWN: Final = error("SG519", "mark-up that is not known here")
"""Markdown has many dialects, and each means something else by the same signs. What is not known
here would stand in the document as it was typed: say it by what is known, or escape the signs."""
BLOCK: Final = error("SG520", "block that cannot be placed")
"""A text places a table, a figure or a list as templates do, and this call cannot be read, names
what there is not, or asks for what is not for its readers. What prints the text is not written."""
HTML_REMOVED: Final = error("SG521", "page with HTML that it may not have")
"""What a page writes in HTML could run in the reader's browser, show what is not there or ask
other hosts. Pages are Markdown; where `specgen.yaml` allows HTML, only what lays out words,
tables and pictures is kept."""
UNSAFE_LINK: Final = error("SG522", "link that does more than lead somewhere")
"""A link leads to a page, a file, another site or an address for mail. One that runs something,
carries its page in itself or opens a file on the reader's computer is taken out."""
PICTURE_ACTS: Final = error("SG523", "picture that does more than show")
"""The picture runs something, or fetches something from another place, when it is opened. What
does so is taken out of the file that is published."""
PICTURE_CLEANED: Final = note("SG524", "picture with parts that are left out")
"""Drawing programs leave notes of their own in pictures. They show nothing, and are left out of
the file that is published."""
BLOCK_EMPTY: Final = warning("SG525", "block that prints nothing")
"""The block that the text places has nothing to say of its system: a table without rows is not
printed. What leads up to it in the text leads to nothing."""
UNKNOWN_NUMBER: Final = warning("SG526", "order number that nothing has")
"""It looks like the order numbers of this project, and no part, platform or build has it. Whoever
orders by it gets nothing, or something else."""
PICTURE_UNREADABLE: Final = error("SG531", "picture that cannot be shown")
"""The file is damaged, is of another format than its ending says, or is larger than any page needs.
No document that places the picture is written."""
PICTURE_UNUSED: Final = note("SG532", "picture that nothing shows")
"""No template, text or page places the picture. Whoever made it believes that readers see it."""
PICTURE_COARSE: Final = warning("SG533", "picture too small for its print")
"""Printed as broad as it says, the picture has so few pixels to an inch that each of them shows. A
label in it cannot be read on paper."""
CALLOUT_UNCLEAR: Final = error("SG534", "callout that points at nothing or at two things")
"""A number on a picture names one position or part and stands at one place. Of this one nobody can
tell what it means, so no document with the picture is written."""
CALLOUT_OUTSIDE: Final = error("SG535", "callout outside of its picture")
"""The place lies beyond the edge of the picture: it was meant for another picture, or the picture
has been cut since. No document with the picture is written."""
CALLOUTS_MEET: Final = warning("SG536", "callouts that cover each other")
"""Two numbers lie on one place. A reader sees the later one alone, and looks for the other."""
SAMPLE_UNTOLD: Final = warning("SG537", "picture that is no sample and tells what differs")
"""The picture is said to show a unit of production, and in what it differs from one. Readers are
told neither."""
EARLIER_SHOWN: Final = note("SG538", "picture or text that shows an earlier part")
"""What is delivered now has another number or another look than the picture or the text shows.
Readers look for what they see, and find something else in their hands."""
TRANSLATION_DIFFERS: Final = error("SG541", "translation with other references than its text")
"""A text and its translations refer to the same values, parts and positions, each in its own words.
A translation that does not is left out: documents print the text as it was written."""
TRANSLATION_UNUSED: Final = warning("SG542", "translation of what nothing says")
"""The text has been changed or deleted, and the catalogue still has a translation of it that no
document prints. Somebody may believe that it is in use."""
TRANSLATION_MISSING: Final = note("SG543", "texts that wait for a translation")
"""The catalogue has no translation of them, or one of what they said before they were changed.
Documents in the language print these texts in the project's own."""
CATALOGUE_UNREADABLE: Final = error("SG544", "catalogue that cannot be read")
"""The file follows not the form of gettext's catalogues, so nothing of it is used. All texts of the
project stand in documents as they were written."""
