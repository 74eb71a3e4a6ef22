"""A photo or a drawing in files as HTML: the file in its sizes, its numbers in a layer over it."""

import base64
from collections.abc import Sequence
from typing import Final

from specgen.document.tree_image import Image
from specgen.drawings.number_marks import over_screen
from specgen.drawings.picture import Picture, written
from specgen.images.prepared import Rendition
from specgen.write.html_text import text_of

COLUMN: Final = "(min-width: 62rem) 56rem, 100vw"
"""How broad a picture stands on a page, as `document.css` has it."""


def image_open(image: Image, folder: str | None, anchor: str, tongue: str, credit: str) -> str:
    """A picture with its numbers, up to what stands below it; `anchor` and `tongue` are attributes
    of it and of its caption. Its files lie in a `folder`, seen from the page, or, where there is
    none, in the page itself."""
    parts = [f'<figure class="picture"{anchor}>']
    if image.captioned and image.title:
        parts.append(f"<figcaption{tongue}>{text_of(image.title)}</figcaption>\n")
    parts.append(_layers(image, folder))
    if credit:
        parts.append(f'<p class="credit">{credit}</p>\n')
    return "".join(parts)


def _layers(image: Image, folder: str | None) -> str:
    alternative = text_of(image.text)
    if image.dark:
        shown = _shown(image.screen, folder, alternative, ' class="light-only"')
        shown += _shown(image.dark, folder, alternative, ' class="dark-only"')
    else:
        shown = _shown(image.screen, folder, alternative)
    layer = written(Picture(over_screen(image.marks), 0, 0)).strip() if image.marks else ""
    return f'<div class="pictured">{shown}{layer}</div>\n'


def _shown(files: Sequence[Rendition], folder: str | None, alternative: str, kind: str = "") -> str:
    whole = files[-1]
    if folder is None:
        data = base64.b64encode(whole.content).decode()
        source = f' src="data:{whole.media};base64,{data}"'
    else:
        source = f' src="{folder}{whole.name}" loading="lazy"'
    if folder is not None and len(files) > 1:
        sizes = ", ".join(f"{folder}{each.name} {each.width}w" for each in files)
        source += f' srcset="{sizes}" sizes="{COLUMN}"'
    size = f'width="{whole.width}" height="{whole.height}"'
    return f'<img{kind}{source} {size} alt="{alternative}">'
