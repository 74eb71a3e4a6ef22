"""Writing a result to a file or to standard output."""

import sys
import unicodedata
from collections.abc import Mapping
from pathlib import Path

import click

from specgen.document.tree import Document
from specgen.document.tree_walks import renditions_of
from specgen.files.whole import write_whole

_STEERING = ("Cc", "Cf", "Zl", "Zp")


def write_out(data: bytes, output: Path | None, *, binary: bool = False) -> None:
    """Writes a file whole or not at all, so that a failed run leaves the old one as it was.

    What is `binary` is refused to a terminal.
    """
    if output is None:
        if binary and sys.stdout.isatty():
            raise click.UsageError("this format is no text for a terminal: name a file with -o")
        sys.stdout.buffer.write(data)
        return
    target = output.resolve()  # through links, so that a link stays one
    try:
        if target.exists() and not target.is_file():  # a pipe or a device
            target.write_bytes(data)
            return
        write_whole(target, data)
    except OSError as problem:
        raise click.ClickException(f"cannot write {output}: {problem.strerror}") from None


def write_folder(files: Mapping[str, bytes], target: Path) -> None:
    """Writes files into a folder, all of them or none: it takes the place of the one before.

    A folder that holds anything else is refused.
    """
    from specgen.site.publish import CannotPublish, publishing

    try:
        with publishing(target) as staged:
            for name, content in files.items():
                path = staged / name
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_bytes(content)
    except CannotPublish as problem:
        more = f" ({problem.help})" if problem.help else ""
        raise click.ClickException(f"{problem.message}{more}") from None


def write_pictures(document: Document, folder: Path, below: str) -> None:
    """Writes the files of a document's pictures where a document in `folder` refers to them."""
    for each in renditions_of(document.blocks):
        target = folder / below / each.name
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
            write_whole(target, each.content)
        except OSError as problem:
            raise click.ClickException(f"cannot write {target}: {problem.strerror}") from None


def steering_nothing(json_text: str) -> str:
    """JSON in which characters that a terminal obeys are written by their numbers.

    They can stand in strings only, where `\\u009b` means the same.
    """
    steering = {
        ord(sign): _by_number(sign)
        for sign in set(json_text) - {"\n"}
        if unicodedata.category(sign) in _STEERING
    }
    return json_text.translate(steering) if steering else json_text


def _by_number(sign: str) -> str:
    """A character as JSON writes it by its number, in two where it takes more than 16 bits."""
    code = sign.encode("utf-16-be").hex()
    return "".join(f"\\u{code[at : at + 4]}" for at in range(0, len(code), 4))
