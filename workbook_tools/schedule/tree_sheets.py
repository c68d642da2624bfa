"""The supply tree on paper: an indented list that folds, and the same tree as a picture.

    write_tree(recorder, schedule)      the sheet Supply tree
    write_picture(recorder, schedule)   the sheet Supply picture

Not here: the tree itself (tree), where the picture's boxes stand (supply_pages), drawing (supply_picture).
"""

from __future__ import annotations

from io import BytesIO

from workbook_tools.rules.plain_english import plural
from workbook_tools.schedule.equipment_texts import with_level
from workbook_tools.schedule.headings import ROOM_LEVEL
from workbook_tools.schedule.list_sheets import LINK, begin, without
from workbook_tools.schedule.model import ClientSchedule
from workbook_tools.schedule.printed_page import WIDTH, Cell, Column
from workbook_tools.schedule.recorder import Recorder
from workbook_tools.schedule.supply_pages import not_drawn, picture_title, supply_drawings
from workbook_tools.schedule.supply_picture import FACE, draw

__all__ = ["write_picture", "write_tree"]

_DEEPEST_INDENT, _DEEPEST_OUTLINE = 12, 7

MOST_PICTURES = 24
"""Of one workbook; the list has the rest."""

_HIGH, _TITLE = 146.0, 6.0
"""What a page has left for a picture, and what the title of one of several takes of it. [mm]"""

_COLUMNS = (
    Column("What feeds what", 226),
    Column("Kind", 132),
    Column(ROOM_LEVEL, 184),
    Column("Rating and voltage", 196),
    Column("Issues", 50, {"align": "center"}),
    Column("Remark", 144),
)


def write_tree(recorder: Recorder, schedule: ClientSchedule) -> None:
    """Write the sheet Supply tree: one line for each piece, under what feeds it."""
    if not schedule.tree:
        return
    remarks = any(node.note for node in schedule.tree)
    columns = _COLUMNS if remarks else without(_COLUMNS, "Remark")
    page = begin(
        recorder, schedule, "Supply tree", "Supply tree: what feeds what",
        "Each line is fed from the one above it that stands further left. The lines fold with the buttons beside the rows; the "
        "next sheet shows the same as a picture.",
        [column.width for column in columns],
    )  # fmt: skip
    page.headings(columns)
    page.sheet.worksheet.outline_settings(True, False, True, False)
    for node in schedule.tree:
        style = {"align": "left", "indent": min(node.depth, _DEEPEST_INDENT), "bold": True}
        if node.source:
            style["bg_color"] = "#E3E8EA"
        depth = f"({node.depth}) " if node.depth > _DEEPEST_INDENT else ""
        page.cells(
            (
                Cell(f"{depth}{node.tag}", {**style, **(LINK if node.row is not None else {})}, ("row", node.row) if node.row is not None else None),
                node.kind, with_level(node.room, node.level), node.short,
                Cell(node.issues or None, {"num_format": "0"}), *((node.note,) if remarks else ()),
            ),
            outline=min(node.depth, _DEEPEST_OUTLINE),
        )  # fmt: skip
    page.end()


def write_picture(recorder: Recorder, schedule: ClientSchedule) -> None:
    """Write the sheet Supply picture; no picture goes over the end of a page."""
    pictures = supply_drawings(schedule.tree, WIDTH * 25.4 / 96 - 1, _HIGH, _TITLE, FACE)
    if not pictures.drawings:
        return
    shown = list(zip(pictures.drawings, pictures.tops, strict=True))[:MOST_PICTURES]
    page = begin(
        recorder, schedule, "Supply picture", "Supply picture: what feeds what",
        "Sources stand at the left; pieces on one grey ground stand in one room. A sign marks the most urgent issue of a piece: "
        "octagon to act on now, triangle to correct soon, square for upkeep, ring for the record. A broken line joins a second "
        f"source to what it feeds. {not_drawn(schedule.tree)}".rstrip(),
        (WIDTH,),
    )  # fmt: skip
    if len(shown) < len(pictures.drawings):
        page.paragraph("The pictures show the upper part of the tree; the sheet Supply tree has every line.")
    for number, (drawing, tops) in enumerate(shown, 1):
        picture, _width, height = draw(schedule, drawing, recorder.firm.colour)
        left = height / 2 * 72 / 96
        if number > 1:
            page.space(8)
        page.keep(left + 16)
        if len(pictures.drawings) > 1:
            title = picture_title(schedule.tree, number, len(pictures.drawings), tops)
            page.line(title, {"bold": True}, height=16)
        page.sheet.worksheet.insert_image(
            page.row,
            0,
            f"supply-{number}.png",
            {
                "image_data": BytesIO(picture),
                "x_scale": 0.5,
                "y_scale": 0.5,
                "object_position": 1,
                "description": f"The supply tree as a picture, {plural(len(drawing.boxes), 'box', 'boxes')}; the same stands as "
                "a list on the sheet Supply tree",
            },
        )
        # The picture stands over several rows, since no row may be as high as a page.
        while left > 0:
            page.advance(min(left, 120))
            left -= 120
    page.end()
