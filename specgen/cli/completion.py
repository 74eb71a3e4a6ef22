"""`specgen completion`."""

import click
from click.shell_completion import get_completion_class

SHELLS = ("bash", "zsh", "fish")


@click.command("completion")
@click.argument("shell", type=click.Choice(SHELLS))
def command(shell: str) -> int:
    """Print what makes SHELL complete specgen's commands and options.

    For bash: eval "$(specgen completion bash)"
    """
    from specgen.cli.run import specgen

    completion = get_completion_class(shell)
    assert completion is not None
    click.echo(completion(specgen, {}, "specgen", "_SPECGEN_COMPLETE").source())
    return 0
