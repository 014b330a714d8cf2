"""Papers, people and house facts in, the book's back matter out."""

from __future__ import annotations

from bookgen.compose.show import Show
from bookgen.model.book import Chapter, IndexRow, PaperGroup, PaperRow, PersonRow
from bookgen.model.records import Project
from bookgen.model.records.project import Paper

PAPERS = "papers"  # the folder of the book that holds their files
KINDS = ("permit", "inspection", "warranty", "manual", "report")


def paper_groups(record: Project, show: Show) -> tuple[PaperGroup, ...]:
    """Return the papers by kind, in the order they were written."""
    groups = []
    for kind in KINDS:
        rows = tuple(_row(paper, show) for paper in record.papers if paper.kind == kind)
        if rows:
            groups.append(PaperGroup(show.terms[f"papers {kind}"], rows))
    return tuple(groups)


def _row(paper: Paper, show: Show) -> PaperRow:
    file = f"{PAPERS}/{paper.file}" if paper.file else ""
    return PaperRow(paper.what, paper.number or "", _days(paper, show), paper.where or "", paper.contact or "", file)


def _days(paper: Paper, show: Show) -> str:
    """Return the date of a paper, and when it ends."""
    ends = show.terms["paper ends"].format(day=show.day(paper.ends)) if paper.ends else ""
    return ", ".join(filter(None, (show.day(paper.on) if paper.on else "", ends)))


def people_rows(record: Project) -> tuple[PersonRow, ...]:
    """Return the trades on the job."""
    return tuple(PersonRow(p.role, p.name, p.phone or "", p.licence or "") for p in record.people)


def index_rows(chapters: tuple[Chapter, ...], show: Show) -> tuple[IndexRow, ...]:
    """Return the index: every thing, trade word, access point and room, with the chapters it stands in."""
    found: dict[str, set[tuple[int, str, str]]] = {}
    for chapter in chapters:
        target = (chapter.number, chapter.slug, chapter.title)
        words = [chapter.title, chapter.room, chapter.treatment]
        words += [row.what for row in chapter.hidden] + [row.trade for row in chapter.hidden]
        words += [reach.what for reach in chapter.reaches] + [reach.trade_word for reach in chapter.reaches]
        for word in filter(None, words):
            found.setdefault(word, set()).add(target)
    ordered = sorted(found.items(), key=lambda item: show.terms.tongue.order(item[0]))
    return tuple(IndexRow(word, tuple(sorted(targets)), show.terms.tongue.initial(word)) for word, targets in ordered)
