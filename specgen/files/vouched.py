"""Files of a cache that are believed only where whoever runs the program has written them.

A bound on what can be reached cannot be checked without proving it anew, which is what keeping it
is to save. So an entry carries a tag that takes a key to make: `SPECGEN_CACHE_KEY`, such as a
secret of CI, else a file that only this user reads. Who can write the cache alone (whoever
contributes, an archive of CI) can take entries away and never make one.
"""

import hashlib
import hmac
import os
import secrets
from contextlib import suppress
from pathlib import Path
from typing import Final

from specgen.files.locks import is_ours
from specgen.files.whole import keep

KEY_IN: Final = "SPECGEN_CACHE_KEY"
_SIZE: Final = 32


def keep_vouched(path: Path, content: bytes) -> None:
    """Keeps an entry; without a key nothing is kept."""
    key = _key()
    if key is not None:
        keep(path, _tag(key, path.name, content) + b"\n" + content)


def read_vouched(path: Path) -> bytes | None:
    """An entry that was kept; None where there is none, or whose tag is not ours."""
    try:
        tag, _, content = path.read_bytes().partition(b"\n")
    except OSError:
        return None
    key = _key()
    if key is None or not hmac.compare_digest(tag, _tag(key, path.name, content)):
        return None
    return content


def _tag(key: bytes, name: str, content: bytes) -> bytes:
    """Of the name as well, so that no entry can stand in for another."""
    text = name.encode("utf-8", "surrogateescape") + b"\n" + content
    return hmac.new(key, text, hashlib.sha256).hexdigest().encode()


def _key() -> bytes | None:
    named = os.environ.get(KEY_IN)
    if named:
        return hashlib.sha256(named.encode("utf-8", "surrogateescape")).digest()
    from platformdirs import user_state_path  # only where something is kept

    path = user_state_path("specgen", appauthor=False) / "cache.key"
    with suppress(OSError):
        return _read(path) or _made(path)
    return None


def _read(path: Path) -> bytes | None:
    """The key in a file that nobody else can have read or written."""
    if not is_ours(path) or (os.name == "posix" and path.stat().st_mode & 0o077):
        return None
    key = path.read_bytes()
    return key if len(key) == _SIZE else None


def _made(path: Path) -> bytes | None:
    path.parent.mkdir(parents=True, exist_ok=True)
    aside = path.with_name(f".{secrets.token_hex(8)}.key")
    try:
        with os.fdopen(os.open(aside, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "wb") as file:
            file.write(secrets.token_bytes(_SIZE))
        aside.replace(path)
    finally:
        aside.unlink(missing_ok=True)
    return _read(path)  # another run may have been quicker
