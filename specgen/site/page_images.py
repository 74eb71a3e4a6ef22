"""Pictures of a project's own on the pages that people write."""

from functools import partial
from pathlib import Path

from specgen.document.illustrated.picture_uses import placed_by
from specgen.document.illustrated.placed_picture import image_of
from specgen.document.maker import FoundElsewhere
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import Prose
from specgen.document.tree_walks import renditions_of
from specgen.document.wording import Wording
from specgen.frozen import frozen
from specgen.messages.catalogue import language_of
from specgen.site.page_writer import Picture
from specgen.site.workshop import pictures_from, put_pictures
from specgen.write.html import fragment
from specgen.write.writer_options import Resolve


@frozen
class PageImages:
    """Makes them from the files of the project in the folder `root`; what pages show of them waits
    in `scratch` to be published."""

    root: Path
    scratch: Path
    subjects: Subjects

    def on(self, text: Prose, path: str, resolve: Resolve) -> Picture:
        """What shows pictures in a text, whose page has a path of the site."""
        return partial(self._html, text, pictures_from(path), resolve)

    def _html(
        self, text: Prose, folder: str, resolve: Resolve, source: str, words: str, title: str
    ) -> str:
        illustration = placed_by(source, text.file, self.subjects.definitions)
        if illustration is None:
            return ""
        try:
            image = image_of(self.root, illustration, self.subjects, words, title)
        except FoundElsewhere:  # told where pictures are looked at
            return ""
        put_pictures(self.scratch, renditions_of((image,)))
        project = self.subjects.definitions.project
        language = text.language or project.language
        worded = Wording(language_of(language)).block(image)
        return fragment((worded,), language, resolve, folder)
