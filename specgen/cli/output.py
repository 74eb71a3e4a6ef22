"""Writing a result to a file or to standard output."""

import sys
import unicodedata
from pathlib import Path

import click

from specgen.whole import write_whole

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


def steering_nothing(json_text: str) -> str:
    """JSON in which characters that a terminal obeys are written by their numbers.

    They can stand in strings only, where `\\u009b` means the same.
    """
    if json_text.isascii():
        return json_text
    return "".join(
        f"\\u{ord(character):04x}"
        if character != "\n" and unicodedata.category(character) in _STEERING
        else character
        for character in json_text
    )
