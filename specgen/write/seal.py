"""Vouching for a file: whoever changes a byte of it breaks the seal.

A seal is an Ed25519 signature (RFC 8032) of all the file but the seal, and the public key that it
can be checked with. Whether that key is the publisher's, only those can say who were given it.
"""

import base64
from enum import StrEnum
from typing import Final

from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric.ed25519 import (
    Ed25519PrivateKey,
    Ed25519PublicKey,
)

from specgen.frozen import frozen
from specgen.write.carried import sealed_with, unsealed, was_sealed

_MEANS: Final = b"specgen seal 1\n"
"""Before what is signed, so that a signature for one purpose serves no other."""
_PLAIN: Final = (serialization.Encoding.Raw, serialization.PublicFormat.Raw)


class NoKey(Exception):
    """A file that holds no Ed25519 key of the kind asked for."""


class Holds(StrEnum):
    """What a seal says."""

    NOT_SEALED = "not sealed"
    UNCHANGED = "unchanged since it was sealed"
    BROKEN = "changed after it was sealed"


@frozen
class Seal:
    """What a file's seal says, and the key that it names, in letters."""

    holds: Holds
    key: str = ""


def new_key() -> tuple[bytes, bytes]:
    """A private key and its public one, both PEM (RFC 7468, RFC 8410)."""
    private = Ed25519PrivateKey.generate()
    return (
        private.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        ),
        private.public_key().public_bytes(
            serialization.Encoding.PEM, serialization.PublicFormat.SubjectPublicKeyInfo
        ),
    )


def sealed(content: bytes, private: bytes) -> bytes:
    """The file with a seal, in place of any that it had. Raises NoKey; ValueError for a format
    that carries none."""
    try:
        key = serialization.load_pem_private_key(private, None)
    except (ValueError, TypeError, UnsupportedAlgorithm):
        raise NoKey from None
    if not isinstance(key, Ed25519PrivateKey):
        raise NoKey
    bare, _ = unsealed(sealed_with(content, ""))
    signature = key.sign(_MEANS + bare)
    named = key.public_key().public_bytes(*_PLAIN)
    return sealed_with(bare, f"{_letters(named)} {_letters(signature)}")


def key_in(public: bytes) -> str:
    """A public key in the letters that a seal names it by. Raises NoKey."""
    try:
        key = serialization.load_pem_public_key(public)
    except (ValueError, UnsupportedAlgorithm):
        raise NoKey from None
    if not isinstance(key, Ed25519PublicKey):
        raise NoKey
    return _letters(key.public_bytes(*_PLAIN))


def seal_of(content: bytes) -> Seal:
    """What the file's seal says of the rest of it."""
    bare, written = unsealed(content)
    if not written:  # a seal that is not where it belongs has had something put behind it
        return Seal(Holds.BROKEN if was_sealed(content) else Holds.NOT_SEALED)
    named, _, signature = written.partition(" ")
    try:
        key = Ed25519PublicKey.from_public_bytes(_bytes(named))
        key.verify(_bytes(signature), _MEANS + bare)
    except (ValueError, InvalidSignature):
        return Seal(Holds.BROKEN, named)
    return Seal(Holds.UNCHANGED, named)


def _letters(data: bytes) -> str:
    return base64.urlsafe_b64encode(data).decode("ascii")


def _bytes(letters: str) -> bytes:
    return base64.urlsafe_b64decode(letters.encode("ascii"))
