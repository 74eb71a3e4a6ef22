"""A local server that makes the site again when a file changes, and reloads the browser."""

import logging
import secrets
from collections.abc import Callable, Iterable
from pathlib import Path

from mkdocs.livereload import LiveReloadServer


class CannotPreview(Exception):
    """The server cannot start: the address is taken or not ours."""


def _silent(_: object) -> None:
    pass


def preview(
    build: Callable[[], None],
    folders_to_watch: Iterable[Path],
    host: str,
    port: int,
    site_dir: Path,
    *,
    ready: Callable[[str], None] = _silent,
    failed: Callable[[Exception], None] = _silent,
) -> None:
    """Build, serve `site_dir`, build again on every change; until it is interrupted.

    A build that raises is told to `failed`, and the last good site goes on being served.
    `ready` is told the address once. Raises CannotPreview.
    """
    server = start(build, folders_to_watch, host, port, site_dir, failed)
    ready(server.url)
    try:
        server.serve()  # type: ignore[no-untyped-call]
    except KeyboardInterrupt:
        pass
    except OSError as problem:
        raise CannotPreview(f"cannot serve on {host}:{port}: {problem.strerror}") from problem
    finally:
        server.shutdown()


def start(
    build: Callable[[], None],
    folders_to_watch: Iterable[Path],
    host: str,
    port: int,
    site_dir: Path,
    failed: Callable[[Exception], None],
) -> LiveReloadServer:
    """Build once, and make the server that will watch and serve."""

    def build_or_report() -> None:
        try:
            build()
        except Exception as problem:
            # Raised further, the server would keep every reader waiting for the next good build.
            failed(problem)

    logging.getLogger("mkdocs.livereload").setLevel(logging.CRITICAL)
    build_or_report()
    server = _Server(build_or_report, host=host, port=port, root=str(site_dir.resolve()))
    for folder, recursive in watched(folders_to_watch, site_dir):
        server.watch(str(folder), recursive=recursive)
    return server


class _Server(LiveReloadServer):
    """The server, whose script the policy of the page knows, and no other."""

    def _inject_js_into_html(self, content: bytes, epoch: int) -> bytes:
        made: bytes = super()._inject_js_into_html(content, epoch)  # type: ignore[no-untyped-call]
        once = secrets.token_urlsafe(16).encode()
        before, _, after = made.rpartition(b"<script>")
        before = before.replace(b"script-src ", b"script-src 'nonce-%b' " % once, 1)
        return b'%b<script nonce="%b">%b' % (before, once, after)


def watched(folders: Iterable[Path], site_dir: Path) -> list[tuple[Path, bool]]:
    """The folders to watch, and whether with all that is below; never the published site itself.

    A site published inside a watched folder would otherwise set off the next build for ever.
    """
    site = site_dir.resolve()
    found: list[tuple[Path, bool]] = []
    waiting = [folder.resolve() for folder in folders if folder.exists()]
    while waiting:
        folder = waiting.pop()
        if not site.is_relative_to(folder):
            found.append((folder, True))
        elif folder != site:
            found.append((folder, False))
            inside = (e for e in folder.iterdir() if e.is_dir() and not e.is_symlink())
            waiting += [each for each in inside if not each.name.startswith(".")]
    return sorted(set(found))
