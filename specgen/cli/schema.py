"""`specgen schema`."""

from pathlib import Path

import click

from specgen.cli.known_kinds import kinds_above
from specgen.cli.terminal import quietly
from specgen.write import json


@click.command("schema")
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path))
@quietly
def command(folder: Path, quiet: bool) -> int:
    """Write the JSON Schemas of all definition files and of exported data into FOLDER, and
    fields.md, the reference of all fields for people.

    Where FOLDER lies within a project, they know the kinds of part that it declares. A file names
    its schema in its first line, so that editors complete and check it:

    \b
    # yaml-language-server: $schema=../.schemas/part.json
    """
    from specgen.load.field_reference import FILE, reference
    from specgen.load.schema import schemas  # pydantic makes them, which takes long to import

    try:
        folder.mkdir(parents=True, exist_ok=True)
        kinds = kinds_above(folder)
        made = {**schemas(kinds), **json.schemas(), FILE: reference(kinds)}
        for name, text in made.items():
            (folder / name).write_text(text, encoding="utf-8", newline="\n")
            if not quiet:
                click.echo(folder / name)
    except OSError as problem:
        raise click.ClickException(f"cannot write to {folder}: {problem.strerror}") from None
    return 0
