"""The most and the least a platform can reach over all valid builds, each with a build as proof.

A solver looks for the build in a model that leaves out no valid build (`closure`, `machine`,
`wiring`, `stated`); the ordinary checks then judge what it found (`solve`).
"""

from specgen.limits.closure import TooLarge
from specgen.limits.limit import Limit, Status
from specgen.limits.objectives import OBJECTIVES, Objective
from specgen.limits.solve import Solver, best
from specgen.limits.solver import NoSolver, NotWhole

__all__ = [
    "OBJECTIVES",
    "Limit",
    "NoSolver",
    "NotWhole",
    "Objective",
    "Solver",
    "Status",
    "TooLarge",
    "best",
]
