"""Where what takes long to work out is kept from run to run."""

import os
from pathlib import Path

from platformdirs import user_cache_path

NAMED_BY = "SPECGEN_CACHE"
"""The variable that names another folder; set and empty, nothing is kept."""


def kept_folder() -> Path | None:
    """The folder, which a run makes when it has something to keep; it can be deleted any time."""
    named = os.environ.get(NAMED_BY)
    if named is None:
        return user_cache_path("specgen", appauthor=False)
    return Path(named) if named else None
