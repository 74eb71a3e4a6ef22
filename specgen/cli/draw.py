"""`specgen draw`."""

from pathlib import Path

import click

from specgen.cli.one_build import findings_about
from specgen.cli.systems import system
from specgen.cli.terminal import asked_conditions, in_project, print_findings
from specgen.cli.written_output import write_out
from specgen.document.figures import DRAWINGS, drawing_of
from specgen.drawings import LayoutEngine, standalone
from specgen.drawings.letter_outlines import outlined
from specgen.drawings.png import png


@click.command("draw")
@click.argument("name", metavar="BUILD|PLATFORM")
@click.argument("what", type=click.Choice(list(DRAWINGS)))
@in_project
@asked_conditions
@click.option("--to", "form", type=click.Choice(["svg", "png"]), default="svg", help="The format.")
@click.option(
    "--words",
    type=click.Choice(["text", "outlines"]),
    default="text",
    help="Words of an SVG as text, or as outlines of letters that need no font.",
)
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
def command(
    name: str,
    what: str,
    project: Path,
    at: tuple[str, ...],
    form: str,
    words: str,
    output: Path | None,
    engine: str,
) -> int:
    """Draw a build: its topology, a side of it to scale, its memory, lanes, power, or rack.

    A platform is drawn with nothing in it.
    """
    found, case = system(project, name, at)
    if not case.sound:
        print_findings(findings_about(found, name), found.sources.texts, project)
        return 1
    drawing = drawing_of(case, what, LayoutEngine(name="dot" if engine == "dot" else "embedded"))
    if drawing.finding is not None:
        print_findings((drawing.finding,), found.sources.texts, project)
        return 1
    if drawing.picture is None:
        why = " ".join(drawing.diagram.text)
        raise click.ClickException(f"`{name}` has nothing to draw" + (f": {why}" if why else ""))
    if form == "png":
        write_out(png(drawing.picture), output, binary=True)
    else:
        lettered = outlined(drawing.picture) if words == "outlines" else drawing.picture
        write_out(standalone(lettered).encode(), output)
    return 0
