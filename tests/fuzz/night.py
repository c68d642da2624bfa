"""Everything that comes from outside, damaged by a seed: one command for a night, one case for a test.

    python -m tests.fuzz.night [CASES] [--seed N]    20,000 cases where left out; ends with 1 where one went wrong

    INPUTS                 what comes from outside: a survey, typed texts, a review, a list, its placement, a template, a photo
    run(case)              one case: None where it ended as it must, else what went wrong
    cases(count, seed)     so many cases, the inputs in turn
    CORPUS                 every file that once went wrong; it is tried again with each run of the tests

A case ends as it must when the command ends in a result or one sentence, within 10 seconds and 500 MB, with its
inputs as they were. What a night finds is written into the corpus. An input that is added is one entry of INPUTS.
"""

from __future__ import annotations

import argparse
import contextlib
import hashlib
import io
import multiprocessing
import os
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from random import Random
from typing import NamedTuple

from tests.fuzz.mutations import mutate
from tests.fuzz.running import MEGABYTES, TooLong, peak_megabytes

__all__ = ["CORPUS", "INPUTS", "Case", "cases", "run", "run_file"]

ROOT = Path(__file__).resolve().parents[2]
CORPUS = Path(__file__).with_name("corpus")
SLOW, HANGS = 10, 60  # seconds of processor time, and of the clock
AT_ONCE = 50
TEXTS = (
    "\0", "=1+1", "[", "]]", '"', "'''", "N/V", "\u202e", "é", "1e999", "-1", ";;;", "\t", "\r\n", "x" * 40_000, "{}", "\ud800",
    "remove = true\n", "extends = 'office'\n", "Tag", ",", "\ufeff", "9" * 400, "#REF!", "../../x", "\U0001f50c",
)  # fmt: skip


class Case(NamedTuple):
    """One damaged file: which input, and the seed that makes it."""

    what: str
    seed: str


class Input(NamedTuple):
    """What comes from outside: the sound files, how one is damaged, and what is done with it in a folder of the job."""

    sound: Callable[[], list[Path]]
    damage: Callable[[bytes, Random], bytes]
    words: Callable[[Path, Path], list[str]]


def scattered(content: bytes, random: Random) -> bytes:
    """Damage a plain file: bits, a stretch lost or doubled, an odd text put in, the end cut off."""
    damaged = bytearray(content)
    for _ in range(random.randint(1, 4)):
        at = random.randrange(len(damaged) + 1)
        end = min(len(damaged), at + random.choice((1, 8, 200, 4_000)))
        way = random.randrange(5)
        if way == 0 and at < len(damaged):
            damaged[at] ^= 1 << random.randrange(8)
        elif way == 1:
            del damaged[at:end]
        elif way == 2:
            damaged[at:at] = damaged[at:end]
        elif way == 3:
            damaged[at:at] = random.choice(TEXTS).encode("utf-8", "surrogatepass")
        elif random.random() < 0.2:
            del damaged[at:]
    return bytes(damaged)


def either(content: bytes, random: Random) -> bytes:
    """Damage a workbook, or a plain file."""
    return mutate(content, random) if content[:2] == b"PK" else scattered(content, random)


@cache
def job() -> Path:
    """Return a folder with a small survey, its review, a list, a template and photos; made once for each process."""
    from PIL import Image

    from workbook_tools.commands import check, new, placement

    folder = Path(tempfile.mkdtemp(prefix="fuzz-job-"))
    (folder / "list.csv").write_text(
        "Tag,Kind,Room,Voltage,Fed from\nDP-1,Panelboard,Main,208Y/120,Utility\nRP-1,pnl,Main,208,DP-1\n"
    )
    (folder / "firm.toml").write_text(
        '[template]\nextends = "office"\ntitle = "Ours"\n[firm]\nname = "Invented"\ncolour = "#204060"\n'
        '[vocabulary.kind]\nchoices = [{ name = "Panelboard", also_called = ["fuse board"] }]\n'
        '[rules.finding-without-photo]\noff = true\nreason = "kept elsewhere"\n'
        '[[sheets.equipment.columns]]\nfield = "door"\nheading = "Door"\nholds = "text"\nask = "What is on it."\n'
    )
    (folder / "list.json").write_text(
        '{"site": "Main", "panels": [{"tag": "DP-1", "amps": 400, "at": {"room": "Main"}}]}'
    )
    (folder / "list.md").write_text(
        "# Panels\n\n| Panel | Size | Fed from |\n|---|---|---|\n| DP-1 | 400A 208Y/120 3PH | MSB |\n"
    )
    (folder / "list.txt").write_text(
        "DP-1 - 400A, 208Y/120V 3PH 4W, Main room, fed from MSB\nLP-1: 100A MLO, fed from DP-1\n"
    )
    placement(folder / "placement.csv", folder / "list.csv")
    new(folder / "survey.xlsx", fill=folder / "list.csv", rows=3)
    check(folder / "survey.xlsx", output=folder / "review.xlsx")
    picture = Image.effect_noise((320, 240), 60).convert("RGB")
    for ending, more in {
        "jpg": {},
        "png": {},
        "webp": {},
        "tif": {"compression": "tiff_lzw"},
        "gif": {},
        "bmp": {},
    }.items():
        picture.save(folder / f"photo.{ending}", **more)
    return folder


def _saved() -> list[Path]:
    return sorted((ROOT / "tests" / "data" / "saved_surveys").iterdir())


def _photos() -> list[Path]:
    return sorted(job().glob("photo.*"))


INPUTS: dict[str, Input] = {
    "survey": Input(_saved, mutate, lambda file, _: ["check", str(file), "--json"]),
    "review": Input(
        lambda: [job() / "review.xlsx"],
        mutate,
        lambda file, at: [
            "deliver",
            str(at / "survey.xlsx"),
            "--review",
            str(file),
            "--draft",
            "-o",
            str(at / "out"),
        ],
    ),
    "standing review": Input(
        lambda: [job() / "review.xlsx"],
        mutate,
        lambda file, at: ["check", str(at / "survey.xlsx"), "-o", str(file)],
    ),
    "list": Input(
        lambda: [*sorted(job().glob("list.*")), *_saved()],
        either,
        lambda file, at: ["new", "--fill", str(file), "--rows", "3", "-o", str(at / "new.xlsx")],
    ),
    "placement": Input(
        lambda: [job() / "placement.csv"],
        scattered,
        lambda file, at: [
            *(
                "new",
                "--fill",
                str(at / "list.csv"),
                "--placement",
                str(file),
                "--rows",
                "3",
                "-o",
                str(at / "new.xlsx"),
            ),
        ],
    ),
    "template": Input(
        lambda: [job() / "firm.toml"],
        scattered,
        lambda file, at: ["check", str(at / "survey.xlsx"), "--template", str(file), "--json"],
    ),
    "photo": Input(_photos, scattered, lambda *_: []),
    "typed": Input(lambda: [job() / "list.csv"], lambda content, _: content, lambda *_: []),
}


def cases(count: int, seed: int) -> Iterator[Case]:
    """Yield so many cases, the inputs in turn."""
    names = list(INPUTS)
    for number in range(count):
        yield Case(names[number % len(names)], f"{seed} {number}")


def run(case: Case) -> str | None:
    """Run one case; return what went wrong, or None."""
    random = Random(f"{case.what} {case.seed}")
    if case.what == "typed":
        return _lost(random)
    given = INPUTS[case.what]
    sound = random.choice(given.sound())
    return run_file(case.what, given.damage(sound.read_bytes(), random), sound.suffix)


def run_file(what: str, content: bytes, ending: str) -> str | None:
    """Do with a file what is done with such an input; return what went wrong, or None."""
    with tempfile.TemporaryDirectory() as scratch:
        at = Path(scratch)
        for name in ("survey.xlsx", "review.xlsx"):
            shutil.copy(job() / name, at / name)
        file = at / f"given{ending}"
        file.write_bytes(content)
        before = _inputs(at, file if what != "standing review" else None)
        begun, held = time.process_time(), peak_megabytes()
        said = _watched(
            lambda: _prepared(content) if what == "photo" else _called(INPUTS[what].words(file, at))
        )
        spent = time.process_time() - begun
        hidden = [path.name for path in at.iterdir() if path.name.startswith(".")]
        if said is None and spent > SLOW:
            return f"took {spent:.0f} s"
        # What the process held before (it may be that of other tests) is not this case's.
        if said is None and peak_megabytes() > max(MEGABYTES, held):
            return f"took {peak_megabytes():.0f} MB"
        if said is None and hidden:
            return f"left {hidden}"
        return said or (
            "changed an input" if _inputs(at, file if what != "standing review" else None) != before else None
        )


def _inputs(at: Path, file: Path | None) -> list[str]:
    files = [at / "survey.xlsx", at / "review.xlsx", *([file] if file is not None else [])]
    return [hashlib.sha256(path.read_bytes()).hexdigest() for path in files]


def _watched(work: Callable[[], str | None]) -> str | None:
    def ring(*_: object) -> None:
        raise TooLong

    before = signal.signal(signal.SIGALRM, ring)
    signal.alarm(HANGS)
    try:
        return work()
    except TooLong:
        return f"did not end in {HANGS} s"
    except BaseException as error:  # noqa: BLE001  (whatever escapes is what is looked for)
        return f"traceback: {type(error).__name__}: {str(error)[:200]}"
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def _called(words: list[str]) -> str | None:
    from workbook_tools.cli import main

    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = main(words)
    said = err.getvalue()
    if "Traceback" in said or "fault in the tool" in said:
        return f"traceback: {said[-300:]}"
    if status not in (0, 1, 2) or (status == 2) != bool(said):
        return f"exit status {status} and {said[:200]!r}"
    return None if status != 2 or said.startswith("workbook-tools: ") else f"said {said[:200]!r}"


def _prepared(content: bytes) -> str | None:
    from workbook_tools.photos.pictures import Refused, large_pictures_allowed, prepare

    with large_pictures_allowed(), contextlib.suppress(Refused):
        prepare(content)
    return None


def _lost(random: Random) -> str | None:
    """Type texts of our own anywhere into a workbook; say which of them the data of a delivery does not have."""
    import xlsxwriter

    from workbook_tools.checking import check_survey
    from workbook_tools.delivery.tables import survey_tables
    from workbook_tools.survey import read_survey

    with tempfile.TemporaryDirectory() as scratch:
        path = Path(scratch, "survey.xlsx")
        typed = [f"{random.choice(TEXTS[:14])} word {number} {random.randrange(9)}" for number in range(8)]
        typed = ["".join(c for c in text if c.isprintable()).strip() for text in typed]
        above = random.randrange(4)
        with xlsxwriter.Workbook(path, {"strings_to_formulas": False, "strings_to_urls": False}) as book:
            sheets = [book.add_worksheet(name) for name in ("Equipment", "Sketch", "Start here", "Lists")]
            sheets[0].write_row(
                above, 0, ["Tag", "Kind", "Room", "Voltage", "Fed from", "Remarks", "Barcode"]
            )
            sheets[0].write_row(above + 1, 0, ["DP-1", "Panelboard", "Main", "208Y/120", "Utility"])
            for text in typed:
                sheet = random.choice(sheets)
                row, column = random.randrange(30), random.randrange(12)
                place = (row + above + 1 if sheet is sheets[0] and row >= above else row, column)
                if random.random() < 0.3:
                    sheet.write_comment(*place, text)
                elif random.random() < 0.2:
                    sheet.insert_textbox(*place, text)
                else:
                    sheet.write_string(*place, text)
        survey = read_survey(path, "office")
        table = next(
            t for t in survey_tables(survey, check_survey(survey).assessment) if t.name == "as_typed"
        )
        kept = {str(row[-1]) for row in table.rows} | {heading.heading for heading in survey.headings}
        lost = [text for text in _still_there(path, typed) if text not in kept]
        return f"lost values: {lost}" if lost else None


def _still_there(path: Path, typed: list[str]) -> list[str]:
    """Leave out what another text was typed over: openpyxl, another reader, says what the file holds."""
    from openpyxl import load_workbook

    book = load_workbook(path)
    cells = [cell for sheet in book.worksheets for row in sheet.iter_rows() for cell in row]
    held = {str(cell.value) for cell in cells} | {cell.comment.text for cell in cells if cell.comment}
    return [text for text in typed if text in held]


def _together(some: list[Case]) -> list[tuple[Case, str]]:
    return [(case, said) for case in some if (said := run(case)) is not None]


def _kind(said: str) -> str:
    return said.split(":")[0] if said.startswith(("traceback", "lost")) else said.split(" ")[0]


def main(words: list[str] | None = None) -> int:
    """Run a night's cases on every core and say how they ended."""
    parser = argparse.ArgumentParser(
        description="Damage everything that comes from outside, and see how it ends."
    )
    parser.add_argument("cases", type=int, nargs="?", default=20_000)
    parser.add_argument("--seed", type=int, default=int(time.time()) // 86_400)
    call = parser.parse_args(words)
    every = list(cases(call.cases, call.seed))
    parts = [every[first : first + AT_ONCE] for first in range(0, len(every), AT_ONCE)]
    wrong: list[tuple[Case, str]] = []
    with multiprocessing.get_context("spawn").Pool(os.cpu_count(), maxtasksperchild=4) as pool:
        for found in pool.imap_unordered(_together, parts):
            wrong += found
            for case, said in found:
                print(f"{case.what}, seed {case.seed!r}: {said}", flush=True)
                _keep(case)
    counted = Counter(_kind(said) for _, said in wrong)
    by_input = Counter(case.what for case in every)
    print(
        f"seed {call.seed}: {len(every):,} cases ({', '.join(f'{n:,} {what}' for what, n in by_input.items())})"
    )
    print(f"went wrong: {dict(counted) if counted else 'none'}")
    return 1 if wrong else 0


def _keep(case: Case) -> None:
    """Write what was found into the corpus."""
    if case.what == "typed":
        return
    random = Random(f"{case.what} {case.seed}")
    sound = random.choice(INPUTS[case.what].sound())
    name = f"{case.what}-{case.seed.replace(' ', '-')}{sound.suffix}"
    (CORPUS / name).write_bytes(INPUTS[case.what].damage(sound.read_bytes(), random))


if __name__ == "__main__":
    sys.exit(main())
