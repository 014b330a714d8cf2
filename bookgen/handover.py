"""A project folder in, the owner's parcel or what keeps it from being handed over out; a second hall beside `bind`."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from bookgen.bind import Early, Progress, RefusedError, composed_book, contents, records_of, write_book
from bookgen.cache import working_cache
from bookgen.check import Checked
from bookgen.compose.parcel import parcel_label
from bookgen.early import engine_for
from bookgen.model.book import Edition
from bookgen.model.parcel import Parcel
from bookgen.model.problem import Finding, unanswered_stops
from bookgen.render.ahead import working_ahead
from bookgen.render.parcel import BOOK, PAPERS, paper_digests, read_parcel, write_parcel
from bookgen.render.publish import refuse_foreign, staged


class RevisionError(Exception):
    """The parcel would not be newer than the one it replaces; the message says what to do."""


@dataclass(frozen=True, slots=True)
class HandedOver:
    """What `hand_over` did: the folder of the parcel and what is different in it, or why there is none.

    *stops* are findings that nobody has answered.
    """

    target: Path | None
    checked: Checked
    stops: tuple[Finding, ...] = ()
    changes: str = ""


def hand_over(folder: Path, target: Path, since: Path | None, *, originals: bool, progress: Progress) -> HandedOver:
    """Make the owner's parcel of a project in *target*; *originals* puts the photos in as they came off the phone.

    *since* is the folder of the last parcel; what stands at *target* is taken for it where none is named. Nothing of
    *target* is touched unless the whole new parcel stands, and nothing is made while a finding that says stop has no
    answer. Raises OSError where the machine is in the way; NoParcelError, RevisionError and TargetRefusedError
    for wrong use.
    """
    refuse_foreign(target)
    before = _last(target, since)
    engine = engine_for(folder, Edition.OWNER.value)
    with working_cache(progress) as store, working_ahead(store.sort("pictures")) as ahead:
        composed, checked = composed_book(folder, Edition.OWNER, store, Early(ahead, engine))
        if composed is None:
            return HandedOver(None, checked)
        stops = unanswered_stops(checked.findings)
        if stops:
            return HandedOver(None, checked, stops)
        book, project = composed.book, composed.project
        records, papers = records_of(project), paper_digests(project.papers)
        replaced = _replaced(before, project.record.book.revision, records, papers) if before else None
        label = parcel_label(book, project, (records, papers), replaced, photos=originals)
        files = [(f"photos/{name}", photo.path) for name, photo in sorted(project.photos.items()) if originals]
        files += [(f"{PAPERS}/{name}", file) for name, file in sorted(project.papers.items())]
        try:
            with staged(target, contents(book, "parcel")) as staging:
                (staging / BOOK).mkdir()
                write_book(composed, staging / BOOK, store, progress)
                write_parcel(staging, label, records, files)
        except RefusedError as refused:
            return HandedOver(None, Checked(checked.solved, refused.problems))
    return HandedOver(target, checked, changes=label.changes)


def _last(target: Path, since: Path | None) -> Parcel | None:
    if since is not None:
        return read_parcel(since)
    return read_parcel(target) if target.is_dir() and any(target.iterdir()) else None


def _replaced(before: Parcel, revision: int, records: dict[str, str], papers: dict[str, str]) -> Parcel | None:
    """Return the parcel that this one replaces; None where it is the same one, made again.

    Raises RevisionError where other records or papers would go out under a number that has been given out already.
    """
    if revision > before.revision:
        return before
    if revision == before.revision and (records, papers) == (dict(before.records), dict(before.papers)):
        return None
    raise RevisionError(
        f"the last parcel is revision {before.revision}, and this would be revision {revision}; "
        f"write revision: {before.revision + 1} and its date under book: in project.yaml"
    )
