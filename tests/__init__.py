"""Set before anything of the program is imported, in this process and in those that tests start."""

import os
import sys
from pathlib import Path
from typing import Final

KEPT: Final = Path(__file__).resolve().parent.parent / ".pytest_cache"

# Limits that a run of the tests has proved serve the next one, and no user's own folder is touched.
os.environ.setdefault("SPECGEN_CACHE", str(KEPT / "kept"))
os.environ.setdefault("SPECGEN_CACHE_KEY", "of the tests")

# Modules are found compiled, also where the environment lets nobody keep them beside the sources:
# without, each process takes twice as long to start.
if sys.dont_write_bytecode:
    sys.dont_write_bytecode = False
    sys.pycache_prefix = str(KEPT / "compiled")
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    os.environ["PYTHONPYCACHEPREFIX"] = sys.pycache_prefix

# A reader of addresses that the tools for development bring along and `jsonschema` imports where it
# is there: it takes four seconds, and no schema of ours asks for one.
sys.modules.setdefault("rfc3987_syntax", None)  # type: ignore[arg-type]
