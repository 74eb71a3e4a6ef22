"""Writing a result to a file or to standard output."""

import os
import sys
import tempfile
from pathlib import Path

import click


def write_out(data: bytes, output: Path | None) -> None:
    """Writes a file whole or not at all, so that a failed run leaves the old one as it was."""
    if output is None:
        sys.stdout.buffer.write(data)
        return
    try:
        handle, name = tempfile.mkstemp(dir=output.parent, prefix=f".{output.name}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
            Path(name).chmod(0o666 & ~_mask())
            Path(name).replace(output)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as problem:
        raise click.ClickException(f"cannot write {output}: {problem.strerror}") from None


def _mask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
