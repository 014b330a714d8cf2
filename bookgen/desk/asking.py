"""Answers typed at a terminal in, what `start` lays out; each question with its default, and a way back.

The word `back` returns to the question before; an answer given before is the default then.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from bookgen.desk.start import LANGUAGES, UNITS, Start

BACK = "back"
EARLIEST, LATEST = 1500, 2100  # years that a house may have been built in
Read = Callable[[str], str]
Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Question:
    """One question: the answer's field, its words, and the answers that can stand, where only some can."""

    field: str
    words: str
    choices: tuple[str, ...] = ()

    def wrong(self, answer: str) -> str:
        """Return what is wrong with an answer and what to type instead; "" where it can stand."""
        if self.choices and answer not in self.choices:
            return f"{answer} is none of them; type {' or '.join(self.choices)}"
        if self.field == "built" and not (answer.isascii() and answer.isdigit() and _a_year(int(answer))):
            return f"{answer} is no year of building; type four digits such as 1991"
        if not answer.isprintable():
            return "that holds signs that can't be seen; type it again"
        return ""


QUESTIONS = (
    Question("title", "What do you call this job?"),
    Question("house", "What sort of house is it?"),
    Question("built", "What year was it built?"),
    Question("owner", "Who owns it?"),
    Question("contractor", "Who does the work?"),
    Question("language", "In which language is the book?", LANGUAGES),
    Question("units", "In which units?", UNITS),
)


class WrongAnswerError(ValueError):
    """An answer given beforehand can't stand; the message says what to write instead."""


def beforehand(given: Start) -> Start:
    """Return answers given beforehand; raises WrongAnswerError for one that can't stand."""
    for question in QUESTIONS:
        if wrong := question.wrong(getattr(given, question.field)):
            raise WrongAnswerError(f"--{question.field}: {wrong}")
    return given


def ask(read: Read, tell: Tell, given: Start) -> Start:
    """Return the answers to all questions; *read* shows a prompt and returns a line, *given* holds the defaults."""
    tell(f"A few questions. Enter takes what stands in brackets, {BACK} returns to the question before.")
    place = 0
    while place < len(QUESTIONS):
        question = QUESTIONS[place]
        default = getattr(given, question.field)
        choices = f" ({', '.join(question.choices)})" if question.choices else ""
        answer = read(f"{question.words}{choices} [{default}]: ").strip() or default
        if answer.casefold() == BACK:
            if not place:
                tell("This is the first question.")
            place = max(place - 1, 0)
        elif wrong := question.wrong(answer):
            tell(wrong)
        else:
            given = replace(given, **{question.field: answer})
            place += 1
    return given


def _a_year(year: int) -> bool:
    return EARLIEST <= year <= LATEST
