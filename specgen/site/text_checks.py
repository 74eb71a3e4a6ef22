"""What is wrong with the texts of a project, with what they say and where their links lead, and
with its pictures."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from specgen.diagnostics import Finding, arrange, codes
from specgen.document.illustrated.earlier_parts import earlier_in_texts
from specgen.document.illustrated.picture_checks import check_pictures
from specgen.document.prose.checks import check_prose
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import Prose, read_texts
from specgen.load.definitions import Loaded
from specgen.site.attachments import attachments
from specgen.site.text_links import dead_links

if TYPE_CHECKING:
    from specgen.site.page import Page

_DOUBTFUL = (
    codes.UNKNOWN_REFERENCE,
    codes.UNKNOWN_SUBJECT,
    codes.UNKNOWN_POSITION,
    codes.DEAD_LINK,
    codes.PICTURE_UNUSED,
)


def check_texts(
    root: Path, loaded: Loaded, subjects: Subjects, made: "Sequence[Page] | None" = None
) -> tuple[tuple[Prose, ...], tuple[Finding, ...]]:
    """The texts of a project and what is wrong with them; `made` are its pages, where there are.

    Nothing is said of names that may stand in unreadable files.
    """
    texts, found = read_texts(root)
    findings = [
        *found,
        *check_prose(texts, subjects),
        *dead_links(root, texts, subjects, made),
        *attachments(root).findings,
        *check_pictures(root, texts, subjects),
        *earlier_in_texts(texts, subjects.definitions),
    ]
    if loaded.findings:
        findings = [each for each in findings if each.code not in _DOUBTFUL]
    return texts, arrange(findings)
