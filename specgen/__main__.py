"""`python -m specgen`."""

import sys

from specgen.cli import main

sys.exit(main())
