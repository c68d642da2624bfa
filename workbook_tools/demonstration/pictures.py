"""Drawn placeholder photos for the invented building.

    draw_photos(folder, names)   one drawing per file name of the notes, with a camera's usual metadata

The drawings carry a made-up position and, on some, a camera turned on its side: what a
delivery must strip and turn upright.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw

__all__ = ["draw_photos"]

SIZE = (1200, 900)
_ORIENTATION, _GPS, _CAMERA = 0x0112, 0x8825, 0x0110
_TURNED_LEFT = 6  # how a phone stores a picture that must be turned a quarter to the right


def draw_photos(folder: Path, subjects: Mapping[str, str]) -> None:
    """Draw one picture for each file name; `subjects` gives its words, "TAG: what is seen"."""
    folder.mkdir(parents=True, exist_ok=True)
    for number, (name, subject) in enumerate(sorted(subjects.items())):
        _draw(folder / name, subject, random.Random(name), turned=number % 7 == 3)


def _draw(path: Path, subject: str, chance: random.Random, *, turned: bool) -> None:
    from PIL import Image

    wall = chance.choice(((206, 210, 204), (214, 208, 196), (198, 205, 212)))
    picture = Image.new("RGB", SIZE, wall)
    from PIL import ImageDraw

    draw = ImageDraw.Draw(picture)
    draw.rectangle((0, 720, *SIZE), fill=(140, 138, 132))
    for x in range(0, SIZE[0], 150):
        draw.line((x, 720, x - 90, SIZE[1]), fill=(128, 126, 120), width=3)
    _cabinet(draw, chance)
    _words(draw, subject)
    exif = Image.Exif()
    exif[_CAMERA] = "drawn placeholder"
    exif.get_ifd(_GPS).update({1: "N", 2: (0.0, 0.0, 0.0), 3: "E", 4: (0.0, 0.0, 0.0)})
    if turned:
        picture = picture.transpose(Image.Transpose.ROTATE_90)
        exif[_ORIENTATION] = _TURNED_LEFT
    _save(picture, path, exif)


def _cabinet(draw: ImageDraw, chance: random.Random) -> None:
    width = chance.randint(300, 460)
    left = (SIZE[0] - width) // 2
    top = chance.randint(150, 230)
    steel = chance.choice(((118, 126, 130), (104, 116, 112), (132, 130, 122)))
    for offset in range(60, width, 90):
        draw.rectangle((left + offset, 0, left + offset + 22, top), fill=(170, 174, 178))
    draw.rectangle((left, top, left + width, 690), fill=steel, outline=(60, 64, 66), width=5)
    draw.rectangle((left + 24, top + 30, left + width - 24, 660), outline=(84, 90, 92), width=3)
    draw.rectangle((left + width - 58, 420, left + width - 40, 480), fill=(50, 52, 54))
    for x in (left + 12, left + width - 14):
        for y in range(top + 14, 690, 150):
            draw.ellipse((x - 6, y - 6, x + 6, y + 6), fill=(190, 194, 196), outline=(70, 72, 74))


def _words(draw: ImageDraw, subject: str) -> None:
    from PIL import ImageFont

    large, small = ImageFont.load_default(44), ImageFont.load_default(26)
    tag, _, note = subject.partition(": ")
    half = draw.textlength(tag, font=large) / 2 + 24
    middle = SIZE[0] // 2
    plate = (middle - half, 252, middle + half, 330)
    draw.rectangle(plate, fill=(248, 248, 244), outline=(40, 40, 40), width=3)
    draw.text((middle, 291), tag, fill=(20, 20, 20), font=large, anchor="mm")
    if note:
        draw.text((middle, 800), note, fill=(250, 250, 246), font=ImageFont.load_default(34), anchor="mm")
    draw.text((24, SIZE[1] - 40), "Drawn placeholder, invented building", fill=(245, 245, 240), font=small)


def _save(picture: Image, path: Path, exif: object) -> None:
    picture.save(path, quality=70, exif=exif)
