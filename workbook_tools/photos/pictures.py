"""One picture, made fit to hand over: upright, scaled, and nothing in it but what is seen.

    prepare(content)   a Prepared picture and its thumbnail, both JPEG; Refused says why not
    small(content)     the same very small: (JPEG, width, height)

Position, time, device and every other datum that a camera writes into a file is left
behind: the pixels are copied into a new picture, so nothing travels with them. JPEG,
PNG, HEIC, WebP, TIFF, BMP and still GIF are read, known by their content.

Not here: which photo belongs where (photos).
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.Image import Image

__all__ = [
    "LONG_SIDE",
    "MOST_BYTES",
    "MOST_PIXELS",
    "Prepared",
    "Refused",
    "large_pictures_allowed",
    "prepare",
    "small",
]

LONG_SIDE = 1600
"""Long side of a delivered photo [pixels]: sharp over half a printed page, about 300 kB."""

SMALL_SIDE = 200
"""Long side of the copy beside a problem in the review workbook [pixels]."""

THUMBNAIL_SIDE = 640
"""Long side of the copy that stands in the workbook, three to a row [pixels]."""

MOST_PIXELS = 120_000_000
"""The largest phone cameras in wide use save 108 million pixels; a file that claims more is not opened."""

MOST_BYTES = 200_000_000

MOST_MEMORY = 220_000_000
"""Bytes that the pixels of one picture may take while it is decoded."""

MOST_HEIF_MEMORY = 350_000_000
"""The same for HEIC: phones save 48 million pixels so, and its decoder holds them twice."""

_BYTES_OF_WAITING, _BYTES_OF_HEIF = 3, 7
_BYTES_OF_PIXEL = {"1": 1, "L": 1, "P": 5, "I;16": 2, "I;16B": 2}
_REDUCED = ("RGB", "RGBA", "L", "LA", "CMYK", "YCbCr")

_FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "BMP", "GIF")
_MOVING = ("PNG", "WEBP", "TIFF", "GIF")  # an MPO holds a second, smaller copy, and is a still photo


class Refused(Exception):
    """A picture that is not taken; the text completes "The photo X ..."."""


@dataclass(frozen=True, slots=True)
class Prepared:
    """A picture ready to hand over. Sizes are in pixels."""

    jpeg: bytes
    width: int
    height: int
    thumbnail: bytes
    thumbnail_width: int
    thumbnail_height: int


def prepare(content: bytes) -> Prepared:
    r"""Turn upright, scale and strip one picture.

    Parameters
    ----------
    content : bytes
        The file as stored, of any of the formats read.

    Raises
    ------
    Refused
        Empty, too large, damaged, animated, or no picture of a known kind.

    Examples
    --------
    >>> from io import BytesIO
    >>> from PIL import Image
    >>> file = BytesIO()
    >>> Image.new("RGB", (3200, 2400)).save(file, "PNG")
    >>> made = prepare(file.getvalue())
    >>> made.width, made.height, made.jpeg[:2] == b"\xff\xd8"
    (1600, 1200, True)
    """
    with _damage_said():
        picture = _upright(content, LONG_SIDE)
        jpeg = _jpeg(picture, quality=85)
        thumbnail = picture.copy()
        thumbnail.thumbnail((THUMBNAIL_SIDE, THUMBNAIL_SIDE))
        return Prepared(jpeg, *picture.size, _jpeg(thumbnail, quality=80), *thumbnail.size)


def small(content: bytes) -> tuple[bytes, int, int]:
    """Return a picture upright and stripped, `SMALL_SIDE` pixels long: its JPEG, width and height.

    Raises
    ------
    Refused
        As for `prepare`.
    """
    with _damage_said():
        picture = _upright(content, SMALL_SIDE)
        return _jpeg(picture, quality=75), *picture.size


@contextmanager
def _damage_said() -> Iterator[None]:
    try:
        yield
    except Refused:
        raise
    except MemoryError:
        raise Refused("needs more memory than there is: save it smaller") from None
    except Exception as error:  # decoders of six formats raise whatever a damaged file leads them to
        raise Refused("is damaged and cannot be shown: copy it from the camera again") from error


def _upright(content: bytes, long_side: int) -> Image:
    from PIL import Image, ImageOps

    if not content:
        raise Refused("is an empty file")
    if len(content) > MOST_BYTES:
        raise Refused(f"is over {MOST_BYTES // 1_000_000} MB and was not opened")
    picture = _open(content)
    if picture.width * picture.height > MOST_PIXELS:
        raise Refused(
            f"claims {picture.width:,} x {picture.height:,} pixels, more than any camera takes, and was not opened"
        )
    _refuse_too_much_memory(picture)
    if picture.format in _MOVING and getattr(picture, "n_frames", 1) > 1:
        raise Refused("moves or has several pages: save one of its pictures as .jpg")
    # A JPEG can be decoded at half, a quarter or an eighth of its size, in a fraction of the time.
    shrunk = long_side / max(picture.size)
    picture.draft("RGB", (max(1, int(picture.width * shrunk)), max(1, int(picture.height * shrunk))))
    picture.load()
    # Made small first: turning it and its colours would take a copy of the whole each.
    factor = max(picture.size) // (2 * long_side)
    if factor > 1 and picture.mode in _REDUCED:
        smaller = picture.reduce(factor)
        smaller.info, exif = picture.info, picture.getexif()
        smaller.getexif().update(exif)
        picture.close()
        picture = smaller
    upright = _to_srgb(ImageOps.exif_transpose(picture))
    upright.thumbnail((long_side, long_side), resample=Image.Resampling.LANCZOS)
    # Only the pixels: a new picture has no metadata that a writer could carry along.
    clean = Image.new("RGB", upright.size, "white")
    clean.paste(upright, mask=upright.getchannel("A") if upright.mode == "RGBA" else None)
    return clean


def _refuse_too_much_memory(picture: Image) -> None:
    """Refuse a picture that is decoded whole and would then take more memory than is allowed.

    A JPEG is decoded at an eighth of its size, but for a progressive one, whose every pixel waits in memory.
    """
    pixels = picture.width * picture.height
    if picture.format == "JPEG" or picture.format == "MPO":
        each = _BYTES_OF_WAITING if picture.info.get("progressive") else 0
    elif picture.format == "HEIF":
        each = _BYTES_OF_HEIF
    else:
        each = _BYTES_OF_PIXEL.get(picture.mode, 4)
    most = MOST_HEIF_MEMORY if picture.format == "HEIF" else MOST_MEMORY
    if pixels * each > most:
        raise Refused(
            f"is {picture.width:,} x {picture.height:,} pixels, which takes too much memory as {picture.format}: save it "
            "smaller, or as .jpg"
        )


def _open(content: bytes) -> Image:
    from PIL import Image, UnidentifiedImageError

    formats: tuple[str, ...] = _FORMATS
    if content[4:8] == b"ftyp":
        import pillow_heif

        pillow_heif.register_heif_opener(thumbnails=False)
        formats = ("HEIF",)
    try:
        return Image.open(BytesIO(content), formats=formats)
    except UnidentifiedImageError:
        raise Refused("is no picture that can be read: save it as .jpg") from None
    except Image.DecompressionBombError:
        raise Refused("claims more pixels than any camera takes and was not opened") from None


def _to_srgb(picture: Image) -> Image:
    """Return the picture in plain RGB (or RGBA), its colours converted where the file says how."""
    profile = picture.info.get("icc_profile")
    transparent = picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info
    if profile and not transparent and picture.mode in ("RGB", "CMYK", "L"):
        from PIL import ImageCms

        try:
            source = ImageCms.ImageCmsProfile(BytesIO(profile))
            target = ImageCms.createProfile("sRGB")
            converted = ImageCms.profileToProfile(picture, source, target, outputMode="RGB")
        except (ImageCms.PyCMSError, OSError):  # a damaged profile: the colours as they stand are near enough
            converted = None
        if converted is not None:
            return converted
    if picture.mode in ("I;16", "I;16B", "I"):  # 16-bit grey, which convert() would cut off instead of scale
        picture = picture.point(lambda level: level / 256).convert("L")
    return picture.convert("RGBA" if transparent else "RGB")


def _jpeg(picture: Image, quality: int) -> bytes:
    file = BytesIO()
    picture.save(file, "JPEG", quality=quality, optimize=True)
    return file.getvalue()


@contextmanager
def large_pictures_allowed() -> Iterator[None]:
    """Within it a photo of up to `MOST_PIXELS` opens without a warning; the limit here is checked instead.

    Nor does a decoder print what it thinks of a camera's damaged data: none of that is kept.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield
