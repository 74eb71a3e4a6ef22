"""The most and the least a platform can reach over all valid builds, each with a build as proof.

A solver looks for the build in a model that leaves out no valid build (`closure`, `machine`,
`wiring`, `together`, `stated`); the ordinary checks then judge what it found (`solve`). On that
stand limits (`limit`, `table`, `kept`, `reach`), wishes and what stands in their way (`wish`,
`conflict`), the nearest valid builds (`near`), and rules about rules (`deep`).
"""

from specgen.limits.closure import TooLarge
from specgen.limits.conflict import Conflict, binding
from specgen.limits.deep import doubts
from specgen.limits.kept import PRINTED, kept_limits
from specgen.limits.limit import Limit, Status, best, limit_of
from specgen.limits.near import Change, Near, Unpriced, completed, nearest
from specgen.limits.objectives import OBJECTIVES, Objective
from specgen.limits.reach import Reach, promised, reaches
from specgen.limits.reason import Reason
from specgen.limits.solve import Solver
from specgen.limits.solver import NoSolver, NotWhole
from specgen.limits.table import AXES, Choice, choices, table_of
from specgen.limits.wish import Wish, granted

__all__ = [
    "AXES",
    "OBJECTIVES",
    "PRINTED",
    "Change",
    "Choice",
    "Conflict",
    "Limit",
    "Near",
    "NoSolver",
    "NotWhole",
    "Objective",
    "Reach",
    "Reason",
    "Solver",
    "Status",
    "TooLarge",
    "Unpriced",
    "Wish",
    "best",
    "binding",
    "choices",
    "completed",
    "doubts",
    "granted",
    "kept_limits",
    "limit_of",
    "nearest",
    "promised",
    "reaches",
    "table_of",
]
