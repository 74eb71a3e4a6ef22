"""SG5xx: prose, written by hand beside the definitions."""

from collections.abc import Mapping
from typing import Final

PROSE: Final[Mapping[str, str]] = {
    "SG501": "The text refers to a value, part, position or document that the definitions do not "
    "have, or have no longer. The document prints the reference as it was written, which no reader "
    "can use.",
    "SG502": "What stands between the braces follows none of the forms of a reference, so nothing "
    "can be printed for it. The document shows it as it was written.",
    "SG503": "A value was typed into a text, and the definitions say another. One of the two is "
    "wrong, and readers will find both on the same site.",
    "SG504": "The value is right today, but it was typed. When the definitions change, this text "
    "stays behind; a reference in its place follows them.",
    "SG505": "The text speaks of a part that can no longer be ordered, or whose successor is "
    "known. Whoever follows the text will ask for something that cannot be bought for long.",
    "SG506": "A reader who follows the link finds nothing. What it led to has moved, or never was.",
    "SG507": "The folder or the head of the text names what it is about, and the definitions know "
    "nothing of that name. Its short references have nothing to refer to.",
    "SG508": "The fact exists, but a value it needs is not declared. The document would print "
    "`not declared` in the middle of a sentence.",
    "SG509": "The page shows a picture from a file that is not there. A reader would see an empty "
    "frame in its place.",
    "SG510": "Nothing stands in the place of the picture for who cannot see it. Readers with a "
    "screen reader, and whoever prints the words alone, would miss what it says.",
    "SG511": "No template asks for a text of this name about this subject. Whoever wrote it "
    "believes that it is printed.",
    "SG512": "Of a system with errors no document is written, since its values could be wrong. A "
    "text about something else must not print them either: it stays unprinted until they are "
    "mended.",
    "SG521": "What a page writes in HTML could run in the reader's browser, show what is not there "
    "or ask other hosts. Pages are Markdown; where `specgen.yaml` allows HTML, only what lays out "
    "words, tables and pictures is kept.",
    "SG522": "A link leads to a page, a file, another site or an address for mail. One that runs "
    "something, carries its page in itself or opens a file on the reader's computer is taken out.",
    "SG523": "The picture runs something, or fetches something from another place, when it is "
    "opened. What does so is taken out of the file that is published.",
    "SG524": "Drawing programs leave notes of their own in pictures. They show nothing, and are "
    "left out of the file that is published.",
}
