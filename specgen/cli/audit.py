"""`specgen audit`."""

import json
from collections.abc import Iterator
from pathlib import Path

import click

from specgen.cli.one_build import asked
from specgen.cli.systems import document_about, system
from specgen.cli.terminal import NoSuch, in_project
from specgen.cli.written_output import steering_nothing
from specgen.diagnostics.glyphs import harmless
from specgen.document.record import Record, Stated, compared, digest_of
from specgen.document.shelf import templates_of
from specgen.frozen import frozen
from specgen.shipped import documents_about
from specgen.write.carried import Audited, audited
from specgen.write.seal import Holds, NoKey, Seal, key_in, seal_of


@click.command("audit")
@click.argument("files", metavar="FILE...", nargs=-1, required=True)
@in_project
@click.option(
    "--trust",
    multiple=True,
    metavar="FILE",
    help="The public key of a publisher; can be given several times.",
)
@click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to print."
)
def command(files: tuple[str, ...], project: Path, trust: tuple[str, ...], form: str) -> int:
    """Say whether a published FILE still agrees with the definitions, value by value.

    FILE is HTML, PDF or JSON that specgen wrote, of this project or an earlier state of it. Its
    seal, where it has one, says whether it is unchanged; with `--trust`, whether it is yours. Of a
    PDF the values are those it was published with: only a seal tells whether its pages show them.

    Exit status 1 where a value differs, a seal is broken or is not of a key that is trusted.
    """
    trusted = {_key(each): each for each in trust}
    results = [_audit(name, project, trusted) for name in files]
    if form == "json":
        text = json.dumps([each.data for each in results], indent=1, ensure_ascii=False)
        click.echo(steering_nothing(text))
    else:
        for result in results:
            for line in result.lines():
                click.echo(harmless(line))
    return 0 if all(each.good for each in results) else 1


@frozen
class _Result:
    """What is known of one file. `trouble` says why its values could not be compared."""

    file: str
    record: Record | None
    seal: Seal
    asks: bool
    """Whether keys were named that a seal has to be by."""
    trusted: str | None
    """Which of them the seal is by."""
    whole: bool
    """Whether what it shows is what it was published with."""
    agreeing: int
    differing: tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...]
    trouble: str = ""

    @property
    def good(self) -> bool:
        sealed = self.seal.holds is not Holds.BROKEN and (bool(self.trusted) or not self.asks)
        return sealed and self.whole and not self.differing and not self.trouble

    @property
    def data(self) -> dict[str, object]:
        """For programs."""
        record = self.record
        return {
            "file": self.file,
            "of": record and record.of,
            "document": record and record.document,
            "language": record and record.language,
            "date": record and record.date,
            "edition": record and record.edition,
            "seal": self.seal.holds.value,
            "key": self.seal.key or None,
            "trusted": self.trusted,
            "agreeing": self.agreeing,
            "differing": [
                {"key": key, "then": list(then), "now": list(now)}
                for key, then, now in self.differing
            ],
            "trouble": self.trouble or None,
            "good": self.good,
        }

    def lines(self) -> Iterator[str]:
        """For people."""
        yield f"{self.file}: {self._what()}"
        yield f"  seal: {self._seal()}"
        if self.trouble:
            yield f"  {self.trouble}"
            return
        if not self.whole:
            yield "  values in it were changed after it was published"
        total = self.agreeing + len(self.differing)
        yield f"  {self.agreeing} of {total} values agree with the definitions"
        for key, then, now in self.differing:
            yield f"    {key}: {_listed(then)}, now {_listed(now)}"

    def _what(self) -> str:
        record = self.record
        if record is None:
            return "no record of what it is"
        words = [record.document or "data", f"of {record.of}", record.number, record.date]
        words += [record.edition, record.language, *record.at]
        return ", ".join(filter(None, words))

    def _seal(self) -> str:
        said, key = self.seal.holds.value, self.seal.key
        if not key:
            return said
        if self.asks:
            return f"{said}, by {self.trusted or f'a key that is not trusted: {key}'}"
        return f"{said}, by the key {key}; `--trust` says whose it is"


def _listed(values: tuple[str, ...]) -> str:
    return " and ".join(values) or "not printed"


def _audit(name: str, project: Path, trusted: dict[str, str]) -> _Result:
    content = _read(name)
    seal, asks = seal_of(content), bool(trusted)
    of = trusted.get(seal.key)
    found = audited(content)
    if found is None:
        trouble = "it carries no record: specgen did not write it, or it was changed"
        return _Result(name, None, seal, asks, of, True, 0, (), trouble)
    record = found.record
    now, trouble = _now(found, project)
    agreeing, differing = (0, ()) if trouble else compared(found.shown, now)
    whole = not record.digest or digest_of(found.shown) == record.digest
    told = tuple((each.key, each.then, each.now) for each in differing)
    return _Result(name, record, seal, asks, of, whole, agreeing, told, trouble)


def _now(found: Audited, project: Path) -> tuple[Stated, str]:
    """What the same document states today, or why there is none."""
    record = found.record
    try:
        survey, case = system(project, record.of, record.at)
    except NoSuch:
        return (), f"there is no build or platform `{record.of}` any more"
    except click.UsageError as problem:
        return (), f"its conditions are no longer known: {problem.message}"
    if not case.sound:
        return (), f"`{record.of}` has errors today, so that nothing can be said of its values"
    if not record.document:
        from specgen.document.data import build_data
        from specgen.write import json as json_form

        today = audited(json_form.text(build_data(case)))
        return (() if today is None else today.shown), ""
    if record.document not in documents_about("build" if case.build else "platform", project):
        return (), f"there is no document `{record.document}` any more"
    templates = templates_of(project, record.language)
    made, problems = document_about(survey, case, record.document, templates, asked(record.at))
    if made is None or made.record is None:
        return (), f"the document has errors today: {problems[0].message if problems else ''}"
    return made.record.values, ""


def _read(name: str) -> bytes:
    try:
        return Path(name).read_bytes()
    except OSError as problem:
        reason = f"cannot read {harmless(name)}: {problem.strerror}"
        raise click.ClickException(reason) from None


def _key(name: str) -> str:
    try:
        return key_in(_read(name))
    except NoKey:
        raise click.UsageError(f"{harmless(name)} holds no public Ed25519 key") from None
