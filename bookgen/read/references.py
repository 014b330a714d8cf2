"""Record files in; every name in them that points nowhere, every tag used twice and every lone chapter out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from bookgen.model.frozen import dataclass
from bookgen.model.problem import Problem
from bookgen.read.near import did_you_mean, listed, nearest
from bookgen.read.source import ANY, Path, Source, in_treatments, one_line
from bookgen.trade.cautions import cautions
from bookgen.trade.limits import LocalLimitError, limits, local_limit

ACCESS_TAG: Path = ("access", ANY, "tag")
USED_TAGS: tuple[Path, ...] = (("upkeep", ANY, "tag"), ("photos", ANY, ANY, "marks", ANY, "tag"))
WORDED: tuple[tuple[Path, Path], ...] = (
    (("book", "cover"), ("book", "cover shows")),
    (("book", "theme options", "logo"), ("book", "theme options", "logo shows")),
)
_TAG = re.compile(r"[0-9]{1,3}")


@dataclass(frozen=True, slots=True)
class Reference:
    """Where a name is used in an obstacle record, and under which key of project.yaml it must stand."""

    patterns: tuple[Path, ...]
    listed_under: str
    code: str
    rule: str


REFERENCES = (
    Reference(
        (("room",), ("access", ANY, "room"), *in_treatments("furring", "areas", ANY, "room")),
        "rooms",
        "unknown-room",
        "no room of project.yaml has this key",
    ),
    Reference(
        in_treatments("utility room", "wall"),
        "partitions",
        "unknown-partition",
        "no partition of project.yaml has this key",
    ),
    Reference((("access", ANY, "ties", ANY, "from"),), "marks", "unknown-mark", "no mark of project.yaml has this key"),
)


def reference_problems(project: Source | None, obstacles: tuple[Source, ...], *, whole: bool) -> Iterator[Problem]:
    """Yield a Problem for every name that points nowhere.

    Names of project.yaml are left alone while that can't be read, and names that another record may hold until the
    project is *whole*: every file of it could be read.
    """
    for source in obstacles:
        if project:
            yield from _unknown_keys(project, source)
        yield from _unknown_cautions(source)
    yield from _tags_twice(obstacles)
    if project:
        yield from _local_limits(project)
        yield from _without_words(project)
    if whole:
        yield from _largest_things(obstacles)
        yield from _unknown_tags(project, obstacles)
        yield from _lone_chapters(obstacles)


def _without_words(project: Source) -> Iterator[Problem]:
    """Yield a Problem for a picture of the project record of which nothing says what it shows."""
    rule = "nothing says what the picture shows for those who can't see it"
    for path, words in WORDED:
        for found, _ in project.texts(path):
            if project.at(words) is None:
                yield project.problem("picture-without-words", found, rule, f"write {words[-1]}: and what is on it")


def _unknown_keys(project: Source, source: Source) -> Iterator[Problem]:
    for reference in REFERENCES:
        if project.is_spoilt((reference.listed_under,)):
            continue
        listed = project.at((reference.listed_under,))
        keys = tuple(listed) if isinstance(listed, dict) else ()
        for path, text in (use for pattern in reference.patterns for use in source.texts(pattern)):
            if text in keys:
                continue
            none = f"there are none yet: add it under {reference.listed_under}: in project.yaml"
            yield source.problem(reference.code, path, reference.rule, did_you_mean(text, keys) if keys else none)


def _unknown_cautions(source: Source) -> Iterator[Problem]:
    known = {row.id: row.hazard for row in cautions()}
    for path, text in source.texts(("cautions", ANY, "hazard")):
        if text not in known:
            close = nearest(text, known) or _by_words(text, known)
            repair = f"did you mean {close}?" if close else "choose one of those that bookgen explain cautions lists"
            yield source.problem("unknown-caution", path, "no caution has this key", repair)


def _local_limits(project: Source) -> Iterator[Problem]:
    """Yield a Problem for each figure of a local ordinance that is none, and for a place whose changes are not held."""
    for path, text in project.texts(("codes", "jurisdiction")):
        held = limits().jurisdictions()  # read only where somebody asks
        if text not in held:
            repair = f"write one of {listed(held)}, or its figures under local:"
            yield project.problem("unknown-jurisdiction", path, "no local changes of this place are held", repair)
    for path, text in project.texts(("codes", "local", ANY, "limit")):
        figure = project.at((*path[:-1], "is"))
        try:
            local_limit(text, one_line(figure) if isinstance(figure, str) else "", "")
        except LocalLimitError as error:
            close = limits().near(text)
            repair = error.repair or (did_you_mean(text, close) if close else "choose one of the tables")
            at = path if error.code == "unknown-limit" else (*path[:-1], "is")
            yield project.problem(error.code, at, str(error), repair)


def _by_words(text: str, known: Mapping[str, str]) -> str | None:
    """Return the keys that hold a word of *text*, such as sewage-at-cleanout for sewage."""
    words = {word for word in re.split(r"[\s_-]+", text.casefold()) if len(word) > 2}
    found = [key for key in known if words & set(key.split("-"))]
    return " or ".join(found[:4]) or None


def _largest_things(obstacles: tuple[Source, ...]) -> Iterator[Problem]:
    """Yield a Problem where the largest thing of a utility room is nowhere among what is hidden."""
    things = {text for source in obstacles for _, text in source.texts(("inside", ANY, "what"))}
    for source in obstacles:
        for pattern in in_treatments("utility room", "largest"):
            for path, text in source.texts(pattern):
                if text not in things:
                    rule = "nothing of this name stands under inside: in any record"
                    repair = did_you_mean(text, sorted(things)) if things else "add it under inside:"
                    yield source.problem("unknown-thing", path, rule, repair)


def _tags_twice(obstacles: tuple[Source, ...]) -> Iterator[Problem]:
    """Yield a Problem for every tag that is given out a second time."""
    owners: dict[str, str] = {}
    for source in obstacles:
        for path, text in source.texts(ACCESS_TAG):
            tag = _tag(text)
            if tag in owners:
                rule = f"the tag is given out already, at {owners[tag]}"
                yield source.problem("tag-twice", path, rule, "give this access point a number of its own")
            elif tag:
                owners[tag] = str(source.place(path))


def _unknown_tags(project: Source | None, obstacles: tuple[Source, ...]) -> Iterator[Problem]:
    """Yield a Problem for upkeep that is done at a tag nobody has, and for a mark on a photo that shows one."""
    known = {_tag(text) for source in obstacles for _, text in source.texts(ACCESS_TAG)}
    tags = sorted(tag for tag in known if tag)
    for user in (*obstacles, *((project,) if project else ())):
        for path, text in (use for pattern in USED_TAGS for use in user.texts(pattern)):
            tag = _tag(text)
            if tag and tag not in known:
                repair = f"write one of {listed(tags)}" if tags else "add the access point, or delete tag:"
                yield user.problem("unknown-tag", path, "no access point has this tag", repair)


def _tag(text: str) -> str | None:
    """Return a tag as it is printed; None for what is none, which has a Problem of its own."""
    return f"{int(text):02d}" if _TAG.fullmatch(text) else None


def _lone_chapters(obstacles: tuple[Source, ...]) -> Iterator[Problem]:
    """Yield a Problem for a chapter title that only one record has: most likely a slip of the pen."""
    titles = [(source, title) for source in obstacles if isinstance(title := source.at(("chapter",)), str)]
    names = [one_line(title) for _, title in titles]
    for source, title in titles:
        name = one_line(title)
        if names.count(name) == 1 and not source.is_spoilt(("chapter",)) and name:
            others = [other for other in names if other != name]
            close = nearest(name, others)
            repair = f"did you mean {close}?" if close else "write it in the other record too, or delete chapter:"
            rule = "a chapter gathers two records or more, and no other record has this title"
            yield source.problem("lone-chapter", ("chapter",), rule, repair)
