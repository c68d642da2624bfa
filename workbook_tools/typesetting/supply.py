"""The supply picture as the printed schedule shows it: on one page where it can be, else on several.

    supply_picture(schedule, places)    a Chapter, or None where nothing feeds anything

Not here: where a box stands (schedule.supply_layout), which page it stands on (schedule.supply_pages).
"""

from __future__ import annotations

from workbook_tools.definitions import PRIORITIES
from workbook_tools.files.text_width import wrapped
from workbook_tools.schedule.model import ClientSchedule
from workbook_tools.schedule.supply_layout import Box, Drawing
from workbook_tools.schedule.supply_pages import not_drawn, picture_title, supply_drawings
from workbook_tools.typesetting.marks import mark_of
from workbook_tools.typesetting.model import Chapter, DrawnBox, DrawnRoom, DrawnWire, Picture, Run, Words
from workbook_tools.typesetting.places import Places

__all__ = ["supply_picture"]

_PAPER = {"letter": (279.4, 215.9), "a4": (297.0, 210.0)}
_MARGINS, _HEADS, _LINE, _TITLE = 32.0, 46.5, 3.4, 9.0
"""Of a page across: both margins; head, foot and title; a line of the legend; the title of one picture of several. [mm]"""

_LEGEND_POINTS = 7.6


def supply_picture(schedule: ClientSchedule, places: Places) -> Chapter | None:
    """Return what feeds what, drawn."""
    long, short = _PAPER[schedule.firm.paper]
    wide = long - _MARGINS
    legend = _legend(schedule)
    lines = wrapped("".join(run.text for run in legend), wide * 96 / 25.4 * 0.9, _LEGEND_POINTS)
    made = supply_drawings(schedule.tree, wide, short - _HEADS - _LINE * len(lines), _TITLE)
    if not made.drawings:
        return None
    several = len(made.drawings) > 1
    pictures = []
    for number, (drawing, tops) in enumerate(zip(made.drawings, made.tops, strict=True), 1):
        title = picture_title(schedule.tree, number, len(made.drawings), tops) if several else ""
        pictures.append(_picture(schedule, places, drawing, title))
    return Chapter(
        "picture", "Supply picture: what feeds what", wide=True, pictures=tuple(pictures), legend=legend
    )


def _legend(schedule: ClientSchedule) -> Words:
    signs = (Run(f"{priority}{_GAP}", mark=mark_of(priority)) for priority in PRIORITIES)
    return *signs, Run(
        f"Grey ground: one room.{_GAP}Broken line: a second source.{_GAP}{not_drawn(schedule.tree)}".rstrip()
    )


_GAP = "\u00a0\u00a0 "


def _picture(schedule: ClientSchedule, places: Places, drawing: Drawing, title: str) -> Picture:
    return Picture(
        title=title,
        wide=drawing.wide,
        high=drawing.high,
        letters=drawing.letters.points,
        small=drawing.letters.small,
        rooms=tuple(DrawnRoom(place.areas, place.name, place.x, place.y) for place in drawing.places),
        wires=tuple(DrawnWire(wire.points, wire.broken) for wire in drawing.wires),
        boxes=tuple(_box(schedule, places, box) for box in drawing.boxes),
    )


def _box(schedule: ClientSchedule, places: Places, box: Box) -> DrawnBox:
    node = schedule.tree[box.at]
    priority = schedule.priority_of(node)
    return DrawnBox(
        x=box.x,
        y=box.y,
        wide=box.wide,
        high=box.high,
        mark=mark_of(priority),
        urgent=priority == PRIORITIES[0],
        source=node.source,
        name=places.row(node.row, box.name, strong=True),
        kind=box.kind,
        lines=box.lines,
    )
