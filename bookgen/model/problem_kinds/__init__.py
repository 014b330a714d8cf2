"""Every kind of problem that the program can report, grouped by where it is found, in one explicit tuple.

A new kind goes into the module of its room; a new room gets a module of its own, named in the tuple below.
"""

from bookgen.model.problem_kinds.files import FILE_KINDS
from bookgen.model.problem_kinds.forms import FORM_KINDS
from bookgen.model.problem_kinds.kind import ProblemKind
from bookgen.model.problem_kinds.level import LEVEL_KINDS
from bookgen.model.problem_kinds.names import NAME_KINDS
from bookgen.model.problem_kinds.places import PLACE_KINDS
from bookgen.model.problem_kinds.prices import PRICE_KINDS
from bookgen.model.problem_kinds.seeing import SEEING_KINDS
from bookgen.model.problem_kinds.soffits import SOFFIT_KINDS
from bookgen.model.problem_kinds.uprights import UPRIGHT_KINDS
from bookgen.model.problem_kinds.values import VALUE_KINDS
from bookgen.model.problem_kinds.walls import WALL_KINDS

PROBLEM_KINDS: tuple[ProblemKind, ...] = (
    *FILE_KINDS,
    *FORM_KINDS,
    *VALUE_KINDS,
    *NAME_KINDS,
    *PLACE_KINDS,
    *LEVEL_KINDS,
    *PRICE_KINDS,
    *SEEING_KINDS,
    *SOFFIT_KINDS,
    *WALL_KINDS,
    *UPRIGHT_KINDS,
)

__all__ = ["PROBLEM_KINDS", "ProblemKind"]
