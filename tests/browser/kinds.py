"""Kinds of pages of a site, and where those of a kind lie."""

from typing import Final

KINDS: Final = {
    "start": "index.html",
    "platforms": "platforms.html",
    "platform": "platforms/*.html",
    "builds": "builds.html",
    "build": "builds/*.html",
    "parts": "parts.html",
    "part": "parts/*.html",
    "document": "builds/*/engineering.html",
    "facts": "platforms/*/facts.html",
    "compare": "compare.html",
    "rules": "rules.html",
    "rule": "rules/*.html",
    "limits": "limits.html",
    "limits of a platform": "limits/*.html",
}
