"""The photos as they are printed: as they come, or smaller where there are so many that memory would run out.

    files_of(photos)    the JPEG files, by the names that the document uses
    file_name(photo)

A page is set with every photo unpacked, so what counts is the pixels of all of them together.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from io import BytesIO
from math import sqrt

from workbook_tools.schedule.model import PhotoEntry

__all__ = ["MOST_PIXELS", "file_name", "files_of"]

MOST_PIXELS = 60_000_000
"""Of all photos together: as many as 195 of 640 by 480; unpacked they take 180 MB."""


def file_name(photo: PhotoEntry) -> str:
    """Return the name of a photo's file; none is made of anything that a person typed."""
    return f"photo-{photo.number}.jpg"


def files_of(photos: Sequence[PhotoEntry]) -> Iterable[tuple[str, bytes]]:
    """Yield each photo's file name and JPEG."""
    pixels = sum(photo.width * photo.height for photo in photos)
    scale = min(sqrt(MOST_PIXELS / pixels), 1.0) if pixels else 1.0
    for photo in photos:
        yield file_name(photo), photo.picture if scale == 1.0 else _smaller(photo, scale)


def _smaller(photo: PhotoEntry, scale: float) -> bytes:
    from PIL import Image

    file = BytesIO()
    with Image.open(BytesIO(photo.picture)) as picture:
        size = max(int(picture.width * scale), 1), max(int(picture.height * scale), 1)
        picture.draft(None, size)
        picture.resize(size, Image.Resampling.BILINEAR).save(file, "JPEG", quality=75)
    return file.getvalue()
