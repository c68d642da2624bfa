"""A large picture is decoded in little memory, or refused with a sentence."""

from __future__ import annotations

import subprocess
import sys
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from tests.sampling import drawn
from workbook_tools.photos.pictures import large_pictures_allowed, prepare

MOST_MB = 300
PREPARED = """
import sys
from workbook_tools.photos.pictures import Refused, large_pictures_allowed, prepare
try:
    with large_pictures_allowed():
        made = prepare(open(sys.argv[1], "rb").read())
    print(made.width, made.height)
except Refused as refused:
    print(refused)
status = open("/proc/self/status").read()  # getrusage counts what the parent held as well
print(int(status.split("VmHWM:")[1].split()[0]) // 1024)
"""
TOO_LARGE = "is 12,000 x 9,900 pixels, which takes too much memory"
MAKE = """
import sys
from PIL import Image
mode, wide, high, path, more = sys.argv[1:]
Image.new(mode, (int(wide), int(high))).save(path, **eval(more))
"""


LARGE = [
    ("a.png", "RGB", (9000, 6000), {"compress_level": 1}, "1600 1067"),
    ("a.png", "RGB", (12000, 9900), {"compress_level": 1}, TOO_LARGE),
    ("a.png", "L", (12000, 9900), {"compress_level": 1}, "1600 1320"),
    ("a.jpg", "RGB", (12000, 9900), {}, "1600 1320"),
    ("a.jpg", "RGB", (12000, 9900), {"progressive": True}, TOO_LARGE),
    ("a.tif", "RGB", (9000, 6000), {"compression": "tiff_lzw"}, "1600 1067"),
]


@pytest.mark.sampled
@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="the system tells no peak of memory")
@pytest.mark.parametrize(
    ("name", "mode", "size", "more", "says"),
    drawn("large pictures", LARGE, lambda case: case[-1] == TOO_LARGE),
)
def test_a_large_picture_takes_little_memory_or_is_refused(tmp_path: Path, name, mode, size, more, says):
    path = tmp_path / name
    # Children, so that the peak is that of preparing alone.
    subprocess.run([sys.executable, "-c", MAKE, mode, *map(str, size), path, repr(more)], check=True)
    prepared = subprocess.run(
        [sys.executable, "-c", PREPARED, path], capture_output=True, text=True, check=True
    )
    said, megabytes = prepared.stdout.splitlines()
    assert said.startswith(says)
    assert int(megabytes) <= MOST_MB


@pytest.mark.sampled
@pytest.mark.parametrize(
    "kind", drawn("kinds of turned pictures", ["PNG", "TIFF", "WEBP"], lambda kind: "any")
)
def test_a_picture_that_is_made_small_first_is_turned_all_the_same(kind):
    file = BytesIO()
    exif = Image.Exif()
    exif[0x0112] = 6  # a quarter turn
    Image.new("RGB", (8000, 2000), "red").save(file, kind, exif=exif)
    with large_pictures_allowed():
        made = prepare(file.getvalue())
    assert (made.width, made.height) == (400, 1600)


def test_what_a_phone_saves_is_taken():
    file = BytesIO()
    Image.new("RGB", (12000, 9000)).save(file, "JPEG")
    with large_pictures_allowed():
        assert prepare(file.getvalue()).width == 1600
