"""`specgen seal`."""

import os
from collections.abc import Iterator
from pathlib import Path

import click

from specgen.cli.written_output import write_out
from specgen.diagnostics.glyphs import harmless
from specgen.source import PROJECT_FILE
from specgen.write.seal import NoKey, new_key, sealed

ENDINGS = (".html", ".pdf", ".json")


@click.command("seal")
@click.argument("files", metavar="FILE|FOLDER...", nargs=-1, type=click.Path(path_type=Path))
@click.option("--key", type=click.Path(path_type=Path), help="The private key to seal with.")
@click.option(
    "--new-key",
    "new",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Make a private key, and FILE.pub for those who are to trust it.",
)
def command(files: tuple[Path, ...], key: Path | None, new: Path | None) -> int:
    """Seal published files, so that `specgen audit` can tell whether they are yours and unchanged.

    Of a folder, every HTML, PDF and JSON file in it. A file that is sealed again has the new seal
    only. The private key must not lie in a project, whose files others may read:

    \b
    specgen seal --new-key ~/publisher.key
    specgen seal public/ --key ~/publisher.key
    specgen audit sheet.pdf --trust ~/publisher.key.pub
    """
    if new is not None:
        if files or key is not None:
            raise click.UsageError("`--new-key` makes a key and seals nothing")
        return _make(new)
    if key is None or not files:
        raise click.UsageError("name the files to seal, and the key with `--key`")
    _not_in_project(key)
    private = _read(key)
    count = 0
    for path in _files(files):
        content = _read(path)
        try:
            made = sealed(content, private)
        except NoKey:
            raise click.UsageError(
                f"{harmless(str(key))} holds no private Ed25519 key; `--new-key` makes one"
            ) from None
        except ValueError:
            if path in files:
                raise click.UsageError(
                    f"{harmless(str(path))} is no HTML, PDF or JSON that specgen wrote"
                ) from None
            continue
        write_out(made, path)
        count += 1
    click.echo(f"sealed: {count} {'file' if count == 1 else 'files'}")
    return 0


def _make(path: Path) -> int:
    _not_in_project(path)
    public = path.with_name(f"{path.name}.pub")
    for each in (path, public):
        if each.exists():
            raise click.UsageError(f"{harmless(str(each))} is there already, and is kept")
    private, shared = new_key()
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "wb") as file:
            file.write(private)
    except OSError as problem:
        reason = f"cannot write {harmless(str(path))}: {problem.strerror}"
        raise click.ClickException(reason) from None
    write_out(shared, public)
    click.echo(f"{path}: keep it to yourself\n{public}: for whoever is to trust what you seal")
    return 0


def _not_in_project(key: Path) -> None:
    if any((folder / PROJECT_FILE).is_file() for folder in key.resolve().parents):
        raise click.UsageError("a private key must not lie in a project, whose files others read")


def _files(named: tuple[Path, ...]) -> Iterator[Path]:
    for path in named:
        if path.is_dir():
            yield from (
                each
                for each in sorted(path.rglob("*"))
                if each.suffix in ENDINGS and each.is_file() and not each.is_symlink()
            )
        else:
            yield path


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as problem:
        reason = f"cannot read {harmless(str(path))}: {problem.strerror}"
        raise click.ClickException(reason) from None
