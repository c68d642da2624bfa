"""The supply picture as pixels: there is ink where boxes, lines and signs are, and no text of a usual building is cut."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pytest
from PIL import Image

from workbook_tools.checking import check_survey
from workbook_tools.definitions import PRIORITIES
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule import build_schedule
from workbook_tools.schedule.lettering import lettering
from workbook_tools.schedule.supply_layout import _wide
from workbook_tools.schedule.supply_pages import not_drawn, supply_drawings
from workbook_tools.schedule.supply_picture import FACE, PIXELS, draw

FEEDS = {"SD": "Utility", "ATS": "SD; GEN", "A": "SD", "GEN": "N/A", "FA": "N/A"}


@pytest.fixture(scope="module")
def schedule():
    equipment = [
        {"tag": tag, "kind": "Panelboard", "fed_from": source, "room": "Plant room"}
        for tag, source in FEEDS.items()
    ]
    return build_schedule(check_survey(survey_of(as_typed(equipment=equipment))))


def picture(schedule):
    (drawing,) = supply_drawings(schedule.tree, 240, 140, face=FACE).drawings
    png, width, height = draw(schedule, drawing, "#22505A")
    made = Image.open(BytesIO(png)).convert("L")
    assert made.size == (width, height)
    return drawing, made


def ink(image) -> int:
    return sum(shade < 200 for shade in image.tobytes())


def test_every_box_and_every_line_is_drawn(schedule):
    drawing, made = picture(schedule)
    for box in drawing.boxes:
        left, top = round(box.x * PIXELS), round(box.y * PIXELS)
        inside = made.crop(
            (
                left + 4,
                top + 4,
                round((box.x + box.wide) * PIXELS) - 4,
                round((box.y + box.high) * PIXELS) - 4,
            )
        )
        assert ink(inside) > 100
        assert made.getpixel((left + 20, top)) < 100
    for wire in drawing.wires:
        (x, y), (to, _) = wire.points[:2]
        strip = made.crop(
            (round(x * PIXELS) + 3, round(y * PIXELS) - 1, round(to * PIXELS) - 1, round(y * PIXELS) + 2)
        )
        assert ink(strip) > 0
    assert any(wire.broken for wire in drawing.wires)
    assert not_drawn(schedule.tree).endswith(": FA.")


def test_the_sign_of_each_priority_is_another_one(schedule):
    at = next(at for at, row in enumerate(schedule.rows) if row.tag == "A")
    seen = set()
    for priority in ("", *PRIORITIES):
        rows = tuple(
            replace(row, priority=priority if place == at else "") for place, row in enumerate(schedule.rows)
        )
        seen.add(picture(replace(schedule, rows=rows))[1].tobytes())
    assert len(seen) == 1 + len(PRIORITIES)


def test_the_letters_are_as_wide_as_they_are_taken_for():
    for text in (
        "2000 A, fuses 1600 A, 480Y/277 V",
        "Motor control center",
        "EV charging equipment",
        "Disconnect switch",
    ):
        drawn = lettering(100).width(text) / PIXELS
        taken = _wide(text, 100 / PIXELS * 72 / 25.4) * FACE
        assert taken * 0.88 <= drawn <= taken * 1.02
