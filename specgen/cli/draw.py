"""`specgen draw`."""

from pathlib import Path

import click

from specgen.cli.one_build import one_build
from specgen.cli.output import write_out
from specgen.cli.terminal import in_project, tell
from specgen.document.pictures import DRAWINGS, drawing_of
from specgen.drawings import Engine, standalone


@click.command("draw")
@click.argument("build")
@click.argument("what", type=click.Choice(list(DRAWINGS)))
@in_project
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    help="The file to write; standard output without it.",
)
@click.option(
    "--engine",
    type=click.Choice(["embedded", "dot"]),
    default="embedded",
    help="Lay out with the embedded program, or with this system's dot.",
)
def command(build: str, what: str, project: Path, output: Path | None, engine: str) -> int:
    """Draw BUILD as SVG: its topology, from processors to ports."""
    found, case = one_build(project, build)
    drawing = drawing_of(case, what, Engine(name="dot" if engine == "dot" else "embedded"))
    if drawing.finding is not None:
        tell((drawing.finding,), found.sources.texts, project)
        return 1
    if not drawing.svg:
        raise click.ClickException(f"`{build}` has nothing to draw")
    write_out(standalone(drawing.svg).encode(), output)
    return 0
