"""A sample of a night: each input damaged, and every file that once went wrong."""

from __future__ import annotations

import pytest

from tests.fuzz import night
from tests.sampling import drawn, in_groups_of

A_NIGHT = list(night.cases(700, seed=1))
CHOSEN = drawn("cases of a night", A_NIGHT, in_groups_of(35, A_NIGHT))


@pytest.mark.sampled
@pytest.mark.parametrize("case", CHOSEN, ids=lambda case: f"{case.what} {case.seed}")
def test_whatever_comes_from_outside_ends_in_a_result_or_one_sentence(case):
    assert night.run(case) is None


@pytest.mark.parametrize("path", sorted(night.CORPUS.iterdir()), ids=lambda path: path.name)
def test_what_once_went_wrong_goes_right(path):
    assert night.run_file(path.name.split("-")[0], path.read_bytes(), path.suffix) is None


def test_a_damaged_photo_prints_nothing_of_its_decoders(tmp_path, recwarn):
    from PIL import Image

    from workbook_tools.photos.pictures import large_pictures_allowed, prepare

    exif = Image.Exif()
    exif[0x010F] = "A maker (invented)" * 3
    Image.new("RGB", (60, 40)).save(tmp_path / "a.jpg", exif=exif)
    content = (tmp_path / "a.jpg").read_bytes()
    at = content.index(b"II*\0") if b"II*\0" in content else content.index(b"MM\0*")
    broken = content[: at + 8] + b"\xff\x7f" + content[at + 10 :]
    with large_pictures_allowed():
        assert prepare(broken).width == 60
    assert [str(warning.message) for warning in recwarn] == []


def test_the_same_seed_makes_the_same_case(monkeypatch):
    seen = []
    monkeypatch.setattr(night, "run_file", lambda *given: seen.append(given))
    for _ in range(2):
        for case in night.cases(16, seed=3):
            night.run(case)
    assert len(seen) == 28
    assert seen[:14] == seen[14:]


def test_every_input_is_tried_and_a_fault_is_noticed(monkeypatch):
    assert {case.what for case in A_NIGHT} == set(night.INPUTS)
    monkeypatch.setattr(night, "_prepared", lambda _: 1 / 0)
    assert "traceback: ZeroDivisionError" in (night.run_file("photo", b"x", ".jpg") or "")
