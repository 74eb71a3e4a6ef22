"""An engineering error is a value that checker and solver share, or it is said here why not."""

from specgen.diagnostics import Severity
from specgen.diagnostics.codes import CODES
from specgen.fitness import REQUIREMENTS
from specgen.rules import CONSTRAINTS
from specgen.rules.judged import JUDGEMENTS

POSITIONS = "what positions are: `limits.machine` has them as the structure of every server"
LINKS = "what links are: `limits.wiring` has them as the structure of every server"
ASKED_AFTERWARDS = "the solver proposes, this check refuses: "
APART = {
    "SG311": POSITIONS,
    "SG312": POSITIONS,
    "SG313": "needs are values themselves, declared with parts and positions",
    "SG333": "likewise: a need of fans",
    "SG315": LINKS,
    "SG316": ASKED_AFTERWARDS + "how a port divides hangs on all links that are there at once",
    "SG319": LINKS,
    "SG363": LINKS,
    "SG342": ASKED_AFTERWARDS + "volumes are the build's, not chosen with the parts",
    "SG343": ASKED_AFTERWARDS + "likewise",
    "SG344": ASKED_AFTERWARDS + "likewise",
    "SG346": ASKED_AFTERWARDS + "likewise",
    "SG347": ASKED_AFTERWARDS + "likewise",
    "SG351": "SG354 with no failure to survive: one constraint finds both",
}


def test_every_engineering_error_is_a_shared_value_or_says_why_it_is_none() -> None:
    errors = {
        code.id
        for code in CODES.values()
        if code.id.startswith("SG3") and code.severity is Severity.ERROR
    }
    constraints = (each for chain in CONSTRAINTS for each in chain.constraints)
    shared = {row.code.id for row in REQUIREMENTS} | {each.code.id for each in constraints}
    shared |= {row.code.id for row in JUDGEMENTS}
    assert errors - shared == APART.keys()
    assert all(APART.values())
