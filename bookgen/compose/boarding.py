"""The board plans of a takeoff in, how each face is laid and each sheet is cut in finished words out."""

from __future__ import annotations

from bookgen.compose.show import Show
from bookgen.model.buying import Sheets
from bookgen.model.length import Length
from bookgen.model.listing import Column, Table
from bookgen.model.sheets import FaceLayout, SheetCut, named

PERCENT = 100


def board_words(sheets: Sheets, show: Show) -> tuple[str, ...]:
    """Return what is known of a plan: how much is wasted, how its joints lie, what can't be cut."""
    plan, terms = sheets.plan, show.terms
    words = []
    if plan.sheets:
        bound = plan.bound / plan.value * PERCENT
        words.append(
            terms["board waste"].format(percent=show.number(plan.wasted() * PERCENT, 1), bound=show.number(bound, 1))
        )
        unbacked = sum(len(layout.unbacked) for layout in plan.layouts)
        same = sum(1 for layout in plan.layouts if not layout.staggered)
        words.append(terms["board joints"].format(joints=plan.joints(), backed=plan.joints() - unbacked))
        if unbacked:
            words.append(terms["board unbacked"].format(count=unbacked))
        if same:
            words.append(terms["board not staggered"].format(count=same))
    words += map(show.name, plan.impossible)
    return tuple(words)


def layout_table(sheets: Sheets, show: Show) -> Table:
    """Return the faces that take more than one board: their size, their boards and where their butt joints fall."""
    terms = show.terms
    columns = (
        Column(terms["face"]),
        Column(terms["size"], figures=True),
        Column(terms["boards"], figures=True),
        Column(terms["joints at"]),
    )
    rows = tuple(
        (
            show.part(layout.face.name),
            _size(layout.face.wide, layout.face.high, show),
            str(len(layout.pieces)),
            _joints(layout, show),
        )
        for layout in sheets.plan.layouts
        if len(layout.pieces) > 1
    )
    return Table(columns, rows)


def sheet_table(sheets: Sheets, show: Show) -> Table:
    """Return every way to cut a sheet: how many alike, of which size, what comes off it and for what face."""
    terms = show.terms
    columns = (
        Column(terms["diagram"], figures=True),
        Column(terms["sheets"], figures=True),
        Column(terms["of size"], figures=True),
        Column(terms["cut from it"]),
    )
    rows = tuple(
        (
            str(number),
            str(row.count),
            _size(row.size.wide, row.size.long, show),
            "; ".join(
                f"{name}\u00a0{_size(cut.patch.wide(), cut.patch.high(), show)} ({_faces(cut, show)})"
                for name, cut in named(row.cuts)
            ),
        )
        for number, row in enumerate(sheets.plan.sheets, 1)
    )
    return Table(columns, rows)


def _faces(cut: SheetCut, show: Show) -> str:
    return ", ".join(dict.fromkeys(map(show.part, cut.goes_to)))


def _joints(layout: FaceLayout, show: Show) -> str:
    if not layout.joints:
        return show.terms["no butt joint"]
    words = ", ".join(show.length(joint) for joint in dict.fromkeys(layout.joints))
    return show.terms["joint with block"].format(joints=words) if layout.unbacked else words


def _size(wide: Length, long: Length, show: Show) -> str:
    return f"{show.length(wide)} × {show.length(long)}"
