"""One picture made fit to hand over: upright, scaled, without anything a camera wrote into it.

Orientation values and their meaning: Exif 2.3, tag 274 (0x0112): 6 means that row 0 of the
stored picture is the right side of the scene, 8 the left side, 3 upside down (from memory).
"""

import contextlib
import struct
import warnings
import zlib
from io import BytesIO

import pillow_heif
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ExifTags, Image, ImageCms, PngImagePlugin

from workbook_tools.photos.pictures import LONG_SIDE, Prepared, Refused, large_pictures_allowed, prepare

POSITION = {1: "N", 2: (45.0, 30.0, 30.0), 3: "W", 4: (122.0, 40.0, 20.0)}
SECRETS = (
    b"Exif",
    b"GPS",
    b"Invented Phone",
    b"http://ns.adobe.com",
    b"a private remark",
    b"ICC_PROFILE",
    b"JFXX",
)


def scene(width: int = 400, height: int = 200) -> Image.Image:
    """Red above, blue below: which way up it is can be seen from any corner."""
    picture = Image.new("RGB", (width, height), "blue")
    picture.paste("red", (0, 0, width, height // 2))
    return picture


def camera_exif(orientation: int = 1) -> Image.Exif:
    exif = Image.Exif()
    exif[ExifTags.Base.Make] = "Invented Phone"
    exif[ExifTags.Base.Orientation] = orientation
    exif[ExifTags.Base.ImageDescription] = "a private remark"
    exif.get_ifd(ExifTags.IFD.GPSInfo).update(POSITION)
    return exif


def saved(picture: Image.Image, kind: str = "JPEG", **options: object) -> bytes:
    file = BytesIO()
    picture.save(file, kind, **options)
    return file.getvalue()


def opened(content: bytes) -> Image.Image:
    return Image.open(BytesIO(content))


def is_red(picture: Image.Image, x: float, y: float) -> bool:
    red, _, blue = picture.convert("RGB").getpixel(
        (int(x * (picture.width - 1)), int(y * (picture.height - 1)))
    )
    return red > 200 and blue < 60


def jpeg_markers(content: bytes) -> list[int]:
    """List the segments of a JPEG file without an image library (ITU T.81, Annex B; from memory)."""
    markers, at = [], 2
    assert content[:2] == b"\xff\xd8"
    while content[at] == 0xFF and content[at + 1] != 0xDA:
        markers.append(content[at + 1])
        at += 2 + struct.unpack(">H", content[at + 2 : at + 4])[0]
    return markers


# How the stored pixels must be turned so that a viewer that obeys the tag shows the scene upright.
STORED_FOR = {1: None, 2: Image.Transpose.FLIP_LEFT_RIGHT, 3: Image.Transpose.ROTATE_180,
              4: Image.Transpose.FLIP_TOP_BOTTOM, 5: Image.Transpose.TRANSPOSE, 6: Image.Transpose.ROTATE_90,
              7: Image.Transpose.TRANSVERSE, 8: Image.Transpose.ROTATE_270}  # fmt: skip


@pytest.mark.parametrize("orientation", STORED_FOR)
def test_a_photo_is_turned_upright(orientation):
    turn = STORED_FOR[orientation]
    stored = scene().transpose(turn) if turn is not None else scene()
    made = prepare(saved(stored, exif=camera_exif(orientation)))
    picture = opened(made.jpeg)
    assert picture.size == (made.width, made.height) == (400, 200)
    assert is_red(picture, 0, 0)
    assert is_red(picture, 1, 0)
    assert not is_red(picture, 0, 1)


@pytest.mark.parametrize("kind", ["JPEG", "JPEG with colours", "PNG", "WEBP", "TIFF", "HEIF"])
def test_nothing_that_the_camera_wrote_is_handed_over(kind):
    options: dict[str, object] = {"exif": camera_exif()}
    if kind == "JPEG with colours":
        kind = "JPEG"
        options["icc_profile"] = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    elif kind == "JPEG":
        xmp = b"<x:xmpmeta xmlns='http://ns.adobe.com/xap/1.0/'>a private remark</x:xmpmeta>"
        options |= {"comment": b"a private remark", "xmp": xmp}
    if kind == "PNG":
        notes = PngImagePlugin.PngInfo()
        notes.add_text("Comment", "a private remark")
        options["pnginfo"] = notes
    if kind == "HEIF":
        pillow_heif.register_heif_opener()
        options["exif"] = camera_exif().tobytes()
    before = saved(scene(), kind, **options)
    assert b"Invented Phone" in before or kind == "WEBP"
    made = prepare(before)
    for content in (made.jpeg, made.thumbnail):
        assert not [secret for secret in SECRETS if secret in content]
        assert dict(opened(content).getexif()) == {}
        assert opened(content).getexif().get_ifd(ExifTags.IFD.GPSInfo) == {}
        # APP0 alone (the JFIF head); no APP1 (Exif, XMP), APP2 (ICC), APP13 (IPTC), COM.
        assert [marker for marker in jpeg_markers(content) if 0xE1 <= marker <= 0xEF or marker == 0xFE] == []


def test_heic_is_read_and_turned_once():
    file = BytesIO()
    pillow_heif.from_pillow(scene()).save(file, quality=90)
    plain = prepare(file.getvalue())
    assert is_red(opened(plain.jpeg), 0.5, 0.1)
    file = BytesIO()
    turned = pillow_heif.from_pillow(scene().transpose(Image.Transpose.ROTATE_90))
    turned.info["exif"] = camera_exif(6).tobytes()
    turned.save(file, quality=90)
    made = prepare(file.getvalue())
    assert (made.width, made.height) == (400, 200)
    assert is_red(opened(made.jpeg), 0.5, 0.1)


def test_a_large_photo_is_scaled_and_a_small_one_left():
    made = prepare(saved(scene(4000, 3000)))
    assert (made.width, made.height) == (LONG_SIDE, 1200)
    assert (made.thumbnail_width, made.thumbnail_height) == (640, 480)
    small = prepare(saved(scene(120, 90)))
    assert (small.width, small.height, small.thumbnail_width) == (120, 90, 120)
    tall = prepare(saved(scene(1, 3000)))
    assert (tall.width, tall.height) == (1, LONG_SIDE)


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "CMYK", "I;16"])
def test_every_kind_of_pixel_becomes_a_plain_picture(mode):
    picture = Image.new("I;16", (40, 20), 65535) if mode == "I;16" else scene(40, 20).convert(mode)
    kind = "TIFF" if mode in ("CMYK", "I;16") else "PNG"
    made = opened(prepare(saved(picture, kind)).jpeg)
    assert (made.mode, made.size) == ("RGB", (40, 20))
    if mode == "I;16":
        assert made.getpixel((5, 5)) == (255, 255, 255)
    if mode in ("RGB", "RGBA", "P", "CMYK"):
        assert is_red(made, 0.5, 0.1)


def test_what_is_transparent_becomes_white():
    made = opened(prepare(saved(Image.new("RGBA", (20, 20), (0, 0, 0, 0)), "PNG")).jpeg)
    assert min(made.getpixel((10, 10))) > 250


def png_claiming(width: int, height: int) -> bytes:
    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize(("width", "height"), [(12_000, 11_000), (60_000, 60_000), (2_000_000_000, 2)])
def test_a_bomb_of_pixels_is_not_opened(width, height):
    with large_pictures_allowed(), pytest.raises(Refused, match="was not opened"):
        prepare(png_claiming(width, height))


def test_the_largest_phone_photos_are_taken_without_a_warning():
    content = saved(Image.new("L", (12_000, 9_000), 128), quality=10)
    with warnings.catch_warnings(record=True) as said, large_pictures_allowed():
        made = prepare(content)
    assert (made.width, made.height, said) == (1600, 1200, [])


def frames(kind: str) -> bytes:
    return saved(scene(40, 20), kind, save_all=True, append_images=[Image.new("RGB", (40, 20), "green")])


@pytest.mark.parametrize("kind", ["GIF", "WEBP", "PNG", "TIFF"])
def test_a_moving_picture_is_refused(kind):
    with pytest.raises(Refused, match="moves or has several pages"):
        prepare(frames(kind))


def test_a_still_gif_and_a_photo_with_a_second_copy_are_taken():
    assert is_red(opened(prepare(saved(scene(40, 20), "GIF")).jpeg), 0.5, 0.1)
    assert is_red(opened(prepare(frames("MPO")).jpeg), 0.5, 0.1)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "is an empty file"),
        (b"not a picture at all", "is no picture"),
        (b"%PDF-1.7 ...", "is no picture"),
        (b"\0\0\0\x18ftypheic\0\0\0\0", "cannot be shown|is no picture"),
        (saved(scene(400, 300))[:900], "is damaged|is no picture"),
        (saved(scene(400, 300), "PNG")[:200], "is damaged|is no picture"),
    ],
)
def test_what_is_no_whole_picture_is_refused_and_said(content, says):
    with pytest.raises(Refused, match=says):
        prepare(content)


PIECES = [saved(scene(60, 40), kind) for kind in ("JPEG", "PNG", "GIF", "WEBP", "TIFF", "BMP")]


@given(st.sampled_from(PIECES), st.data())
@settings(max_examples=150, deadline=None)
def test_a_damaged_file_is_refused_or_shown_and_never_raises_otherwise(content, data):
    damaged = bytearray(content)
    for _ in range(data.draw(st.integers(1, 4))):
        damaged[data.draw(st.integers(0, len(damaged) - 1))] = data.draw(st.integers(0, 255))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # decoders warn of the very damage this test makes
        content = bytes(damaged[: data.draw(st.integers(1, len(damaged)))])
        made: Prepared | None = None
        with contextlib.suppress(Refused):
            made = prepare(content)
    assert made is None or opened(made.jpeg).size == (made.width, made.height)
