"""What was measured and what a code asks in, one Finding out; how sure the figure is decides how grave it can be.

Nobody is told to stop by a figure that was only remembered or retold: those are for asking. No finding says that
the work is in order; it says what was measured, what was asked, and by whom.
"""

from __future__ import annotations

from dataclasses import replace

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.model.place import Place
from bookgen.model.problem import Finding, Severity
from bookgen.model.tape import Tape
from bookgen.solve.checks.amounts import amount
from bookgen.trade.limits import Limit, Sense
from bookgen.trade.tables import Sure
from bookgen.trade.tongue import Tongue

PROVEN = frozenset({Sure.OFFICIAL, Sure.QUOTED, Sure.COMPUTED})


@dataclass(frozen=True, slots=True)
class Said:
    """What a check saw: its code, the place in the records, the place on the level, and finished words.

    *tape* is what the project is measured with; what is asked is read on it too, in words of *tongue*.
    """

    code: str
    place: Place
    where: str
    says: str
    measured: str
    hint: str
    tape: Tape
    tongue: Tongue


def severity(limit: Limit) -> Severity:
    """Return how grave it is to miss a limit: stop only for a figure that somebody has seen."""
    return Severity.STOP if limit.sure in PROVEN else Severity.ASK


def judged(said: Said, limit: Limit, kept: bool, missed: Severity | None = None) -> Finding:
    """Return the Finding of a limit that was kept or missed; *missed* makes a miss less grave than the figure would."""
    if kept:
        return finding(said, limit, Severity.WITHIN)
    if limit.length is not None and said.measured in {said.tape.long(limit.length), said.tape.short(limit.length)}:
        # As a tape shows it, the two are the same.
        past = said.tongue.say("{measured}, and a little past the figure", measured=said.measured)
        said = replace(said, measured=past)
    return finding(said, limit, severity(limit) if missed is None else missed)


def finding(said: Said, limit: Limit, grave: Severity) -> Finding:
    """Return a Finding of a limit with a severity that the check has chosen itself."""
    found = sourced(said, grave, asked(limit, said.tape, said.tongue), limit.cited, limit.sure)
    return replace(found, figure=limit.length)


def keeps(limit: Limit, value: Length) -> bool:
    """Tell whether a length keeps to a limit that is one."""
    asks = length_of(limit)
    match limit.sense:
        case Sense.AT_LEAST:
            return value >= asks
        case Sense.AT_MOST:
            return value <= asks
        case Sense.LESS_THAN:
            return value < asks
        case Sense.MORE_THAN:
            return value > asks
    raise ValueError(f"{limit.id} is nothing to keep to")


def practice(said: Said, grave: Severity, wanted: str, source: str) -> Finding:
    """Return a Finding that no code asks for: what the trade does, or what the records themselves promise."""
    return sourced(said, grave, wanted, source, Sure.COMMON_PRACTICE)


def sourced(said: Said, grave: Severity, wanted: str, source: str, sure: Sure) -> Finding:
    """Return a Finding of a figure that need be no row of the limits."""
    return Finding(
        said.code, grave, said.place, said.where, said.says, said.measured, wanted,
        said.tongue.source(source), sure.value, _hint(said, grave),
    )  # fmt: skip


def unheld(said: Said, code: str, authority: str) -> Finding:
    """Return the Finding of something that no edition held here has a figure for."""
    say = said.tongue.say
    says = say("{says}, and no figure of {code} is held here", says=said.says, code=code)
    told = replace(said, says=says, hint=say("ask {authority}", authority=authority))
    return sourced(told, Severity.ASK, say("not known"), code, Sure.MEMORY)


def asked(limit: Limit, tape: Tape, tongue: Tongue) -> str:
    """Return what a limit asks, in words: at least 3 feet; a rule in its own words."""
    if limit.sense is Sense.RULE or limit.value is None:
        return tape.told(tongue.say(limit.applies))
    if limit.length is not None:
        figure = tape.long(limit.length)
    else:
        figure = amount(limit.value, limit.unit or "", tape, tongue)
    return compared(limit.sense, figure, tongue)


def compared(sense: Sense, figure: str, tongue: Tongue) -> str:
    """Return a figure with how a measured one is to stand to it: at least 36 in."""
    match sense:
        case Sense.AT_LEAST:
            return tongue.say("at least {figure}", figure=figure)
        case Sense.AT_MOST:
            return tongue.say("at most {figure}", figure=figure)
        case Sense.LESS_THAN:
            return tongue.say("less than {figure}", figure=figure)
        case Sense.MORE_THAN:
            return tongue.say("more than {figure}", figure=figure)
    return tongue.say("exactly {figure}", figure=figure)


def length_of(limit: Limit) -> Length:
    """Return a limit as a length; one that is none is our own bug."""
    if limit.length is None:
        raise ValueError(f"{limit.id} is no length")
    return limit.length


def _hint(said: Said, grave: Severity) -> str:
    """Return what to do; there is nothing to do about what keeps to the figure."""
    if grave is Severity.WITHIN:
        return said.tongue.say("check against your local code")
    return said.tongue.say("{hint}; check against your local code", hint=said.hint)
