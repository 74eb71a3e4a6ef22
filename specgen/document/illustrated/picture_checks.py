"""What is wrong with the pictures of a project: their files, callouts, subjects, and their use.

Costs nothing where there are none; of each picture its file is read, its head and its end looked
at, and no pixel (0.3 ms for a photo of 300 kB).
"""

from collections.abc import Iterable, Iterator
from pathlib import Path

from specgen.diagnostics import Finding, Label, codes, did_you_mean, question
from specgen.document.illustrated.earlier_parts import earlier_in_picture
from specgen.document.illustrated.picture_callouts import callout_findings
from specgen.document.illustrated.picture_files import file_findings, size_in
from specgen.document.illustrated.picture_uses import uses_of
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import Prose
from specgen.document.template_calls import OnDisk
from specgen.messages import say
from specgen.model import SAMPLE, Illustration


def check_pictures(root: Path, texts: Iterable[Prose], subjects: Subjects) -> Iterator[Finding]:
    """Everything that is found in the pictures of the project in the folder `root`."""
    known = subjects.definitions.illustrations
    if not known:
        return
    uses = uses_of(subjects.definitions, texts, OnDisk(root))
    for illustration in known.values():
        yield from file_findings(root, illustration)
        yield from _subject(illustration, subjects)
        size, _ = size_in(root, illustration)
        yield from callout_findings(illustration, size, subjects)
        yield from _sample(illustration)
        yield from earlier_in_picture(illustration, subjects)
        if uses.certain and illustration.id not in uses.files:
            yield Finding(
                codes.PICTURE_UNUSED,
                say("no template, text or page places the picture `{name}`", name=illustration.id),
                Label(illustration.origin.at("id")),
                help=say(
                    'write `{{{{ picture("{name}") }}}}` in a template, or delete it',
                    name=illustration.id,
                ),
            )


def _subject(illustration: Illustration, subjects: Subjects) -> Iterator[Finding]:
    """SG507: a picture of what nobody has defined."""
    subject = illustration.subject
    if subject and not subjects.kind(subject):
        yield Finding(
            codes.UNKNOWN_SUBJECT,
            say("no build, platform or part has the id `{subject}`", subject=subject),
            Label(illustration.origin.at("subject")),
            help=question(did_you_mean(subject, subjects.ids)),
        )


def _sample(illustration: Illustration) -> Iterator[Finding]:
    """SG537: differences of a picture that is said to show what is delivered."""
    if illustration.differs and illustration.shows != SAMPLE:
        yield Finding(
            codes.SAMPLE_UNTOLD,
            say("what differs is told of a production unit"),
            Label(illustration.origin.key("differs")),
            help=say("write `shows: {sample}`, or take it out", sample=SAMPLE),
        )
