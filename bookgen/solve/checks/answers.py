"""answer-fits-nothing: a record says that a finding is settled, and that check finds nothing of the kind in it.

    PASS   answered: [{finding: valve-shut-in, ...}]    (the valve is behind board, and the plumber has answered)
    FAIL   answered: [{finding: valve-shut-in, ...}]    (an opening was framed since, and nothing is left to settle)

The answer is kept as it is: a paper that somebody may ask for. It settles nothing, so look whether it stands in the
record that it is about.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from bookgen.model.frozen import dataclass
from bookgen.model.place import Place
from bookgen.model.problem import Finding, Problem, Settled, Severity
from bookgen.model.project import PROJECT_FILE, Project
from bookgen.model.records.obstacle import Answer
from bookgen.trade.tables import Sure
from bookgen.trade.tongue import Say, tongue
from bookgen.trade.words import near

CODE = "answer-fits-nothing"


@dataclass(frozen=True, slots=True)
class _Given:
    """An answer as a record gives it: its file, where it stands, and what it is to settle."""

    file: str
    place: Place
    answer: Answer

    def fits(self, finding: Finding) -> bool:
        """Tell whether it is about a finding; what is within the figure asks for no answer."""
        about = self.answer.about
        return (
            finding.severity is not Severity.WITHIN
            and (finding.place.file, finding.code) == (self.file, self.answer.finding)
            and (about is None or about == finding.where)
        )


def settled(project: Project, found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings with their answers, and one more for each answer that fits none.

    A finding that has been answered keeps its severity; of two answers the later one in the record counts.
    """
    findings, answers = tuple(found), tuple(_given(project))
    seen = [_with(finding, [one for one in answers if one.fits(finding)]) for finding in findings]
    say = tongue(project.record.language).say
    idle = [_idle(one, say) for one in answers if not any(one.fits(finding) for finding in findings)]
    return (*seen, *idle)


def answer_problems(project: Project, found: Iterable[Finding], codes: tuple[str, ...]) -> tuple[Problem, ...]:
    """Return `unknown-check` for an answer to no check of *codes*, `answer-unclear` where several findings fit one."""
    findings, problems = tuple(found), []
    for one in _given(project):
        code = one.answer.finding
        if code not in codes:
            close = ", ".join(near(code, codes))
            repair = f"did you mean {close}?" if close else "write the name that bookgen check prints with the finding"
            problems.append(Problem(one.place, "unknown-check", "answered", code, "no check has this name", repair))
            continue
        names = tuple(dict.fromkeys(finding.where for finding in findings if one.fits(finding)))
        if len(names) > 1:
            rule = f"it finds {len(names)} things in this record, and one answer is about one of them"
            repair = f"write about: and one of {'; '.join(names)}"
            problems.append(Problem(one.place, "answer-unclear", "answered", code, rule, repair))
    return tuple(problems)


def _given(project: Project) -> Iterator[_Given]:
    for file, answers in (
        (PROJECT_FILE, project.record.answered),
        *((file.file, file.record.answered) for file in project.obstacles),
    ):
        for index, answer in enumerate(answers):
            yield _Given(file, project.places.of(file, "answered", index, "finding"), answer)


def _with(finding: Finding, answers: list[_Given]) -> Finding:
    if not answers:
        return finding
    last = answers[-1].answer
    return replace(finding, answered=Settled(last.by, last.on, last.paper))


def _idle(one: _Given, say: Say) -> Finding:
    answer = one.answer
    named = {"by": answer.by, "day": answer.on.isoformat(), "paper": answer.paper, "finding": answer.finding}
    says = (
        say(
            "{by} has answered it on {day} ({paper}), and {finding} finds nothing about {about} in this record that "
            "needs an answer",
            about=answer.about,
            **named,
        )
        if answer.about
        else say(
            "{by} has answered it on {day} ({paper}), and {finding} finds nothing in this record that needs an answer",
            **named,
        )
    )
    hint = say(
        "look whether it belongs to another record; if what it was about has been changed since, keep the paper and "
        "delete the answer"
    )
    return Finding(
        CODE, Severity.NOTE, one.place, answer.finding, says, say("nothing to settle"), say("a finding of this record"),
        say("the records themselves"), Sure.COMMON_PRACTICE.value, hint,
    )  # fmt: skip
