"""Many photos are printed smaller, so that memory does not run out; a few stay as they are."""

from io import BytesIO

import pytest
from PIL import Image

from workbook_tools.schedule.model import PhotoEntry
from workbook_tools.typesetting import pictures
from workbook_tools.typesetting.pictures import files_of


@pytest.fixture
def photos():
    made = []
    for number, size in ((1, (640, 480)), (2, (480, 640)), (3, (640, 480))):
        file = BytesIO()
        Image.effect_noise(size, 50).convert("RGB").save(file, "JPEG")
        made.append(PhotoEntry(number, "", "", f"photo-{number:03}.jpg", file.getvalue(), *size))
    return made


def test_a_few_photos_are_printed_as_they_are(photos):
    assert list(files_of(photos)) == [(f"photo-{photo.number}.jpg", photo.picture) for photo in photos]
    assert list(files_of([])) == []


def test_too_many_pixels_are_made_fewer_and_no_picture_is_bent(photos, monkeypatch):
    monkeypatch.setattr(pictures, "MOST_PIXELS", 640 * 480)
    sizes = {name: Image.open(BytesIO(data)).size for name, data in files_of(photos)}
    assert sum(wide * high for wide, high in sizes.values()) <= 640 * 480
    assert sizes == {"photo-1.jpg": (369, 277), "photo-2.jpg": (277, 369), "photo-3.jpg": (369, 277)}
