"""SG4xx: output."""

from collections.abc import Mapping
from typing import Final

OUTPUT: Final[Mapping[str, str]] = {
    "SG401": "The template uses a word or block that is not there, or breaks its own syntax. The "
    "document it would have filled is not written, so that no page appears half done.",
    "SG402": "The figure could not be laid out. The page is written without it, and what the "
    "picture shows stands there in words only.",
    "SG403": "The file could not be stored, for want of space or of permission. What was "
    "published before is left as it was.",
    "SG404": "The build has errors, so a sheet for it would state figures that are not true. Its "
    "page lists what was found instead, and the other builds are published as usual.",
    "SG405": "The document asks for a figure that no drawing is registered for. The place where "
    "it belongs would stay empty.",
}
