"""How long the PDF takes and how much memory: of the demonstration, and of a building of 300 pieces with 300 photos.

    python tests/benchmarks/print_schedule.py [FOLDER]

Puts together the demonstration's schedule with its 46 photos, and the one of deliver_schedule.py (300 pieces of
equipment, the 200 most urgent issues, all invented) with 300 photos of 640 by 480, and prints each as a process of its own,
with its wall time, processor time and peak memory. Each is printed without photos too.

Asked for: the demonstration within 2 s beyond the photos, the large building within 10 s and 900 MB. Ends with 1
where one of them is missed. The lower of wall and processor time is compared: other work on the machine makes the first
longer, and typesetting on two cores the second.
"""

from __future__ import annotations

import datetime
import os
import pickle
import subprocess
import sys
import time
from dataclasses import replace
from io import BytesIO
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[2]))

from tests.benchmarks.deliver_schedule import EQUIPMENT, main, notes
from tests.processes import as_installed
from workbook_tools.schedule import ClientSchedule
from workbook_tools.schedule.model import PhotoEntry

PHOTOS, ISSUES = 300, 200
SMALL_SECONDS, LARGE_SECONDS, LARGE_MEGABYTES = 2.0, 10.0, 900.0
DEMONSTRATION = Path(__file__).resolve().parents[2] / "demo_workbooks"

PRINT = """
import datetime, pathlib, pickle, sys
from workbook_tools.typesetting import print_schedule
schedule = pickle.loads(pathlib.Path(sys.argv[1]).read_bytes())
said = print_schedule(schedule, pathlib.Path(sys.argv[2]), datetime.date(2026, 10, 8))
raise SystemExit(" ".join(said) or 0)
"""


def demonstration() -> ClientSchedule:
    """Return the demonstration's schedule with its photos."""
    from workbook_tools.checking import check_survey
    from workbook_tools.commands.demo import MENDED
    from workbook_tools.demonstration import firm_template
    from workbook_tools.photos.folder import list_photos
    from workbook_tools.photos.numbered import gather_photos
    from workbook_tools.schedule import build_schedule
    from workbook_tools.survey.reading import read_survey

    survey = read_survey(DEMONSTRATION / MENDED, firm_template())
    photos = list_photos(DEMONSTRATION / "photos")
    return build_schedule(check_survey(survey, photos), photos=gather_photos(survey, photos))


def large(folder: Path) -> ClientSchedule:
    """Return the schedule of 300 pieces with as many photos: one of each piece, and so of its issues."""
    from PIL import Image

    from workbook_tools import new as new_workbook
    from workbook_tools.checking import check_survey
    from workbook_tools.schedule import build_schedule
    from workbook_tools.survey.reading import read_survey

    (folder / "notes").mkdir()
    notes(folder / "notes")
    new_workbook(folder / "survey.xlsx", fill=folder / "notes", rows=EQUIPMENT, force=True)
    schedule = build_schedule(check_survey(read_survey(folder / "survey.xlsx")))
    rows = tuple(replace(row, photos=(at % PHOTOS + 1,)) for at, row in enumerate(schedule.rows))
    first = schedule.conditions[:ISSUES]
    kept = {condition.id for condition in first}
    conditions = tuple(replace(c, photos=rows[c.rows[0]].photos if c.rows else ()) for c in first)
    photos = []
    for number in range(1, PHOTOS + 1):
        file = BytesIO()
        # Uneven everywhere, as a photo is: some 60 kB, where a plain area would be 5.
        noise = Image.effect_noise((200, 150), 60 + number % 40).resize((640, 480), Image.Resampling.BICUBIC)
        noise.convert("RGB").save(file, "JPEG", quality=70)
        photos.append(PhotoEntry(number, "", "", f"photo-{number:03}.jpg", file.getvalue(), 640, 480))
    return replace(
        schedule,
        rows=rows,
        conditions=conditions,
        work=tuple(item for item in schedule.work if item.id in kept),
        photos=tuple(photos),
    )


def without_photos(schedule: ClientSchedule) -> ClientSchedule:
    """Return the schedule as it is delivered without photos."""
    return replace(
        schedule,
        photos=(),
        rows=tuple(replace(row, photos=()) for row in schedule.rows),
        transformers=tuple(replace(plate, photos=()) for plate in schedule.transformers),
        conditions=tuple(replace(condition, photos=()) for condition in schedule.conditions),
    )


def printed(schedule: ClientSchedule, folder: Path, name: str) -> tuple[float, float]:
    """Print a schedule in a process of its own; return seconds, the lower of wall and processor, and megabytes."""
    pickled, pdf = folder / f"{name}.pickle", folder / f"{name}.pdf"
    pickled.write_bytes(pickle.dumps(schedule))
    command = [sys.executable, "-c", PRINT, str(pickled), str(pdf)]
    best = (1e9, 1e9, 1e9)
    for _ in range(3):
        started = time.perf_counter()
        process = subprocess.Popen(command, env=as_installed(folder / "compiled"))
        _pid, status, usage = os.wait4(process.pid, 0)
        wall = time.perf_counter() - started
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            raise SystemExit(f"{name} ended with {process.returncode}")
        seconds, megabytes = usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024
        best = min(best[0], seconds), min(best[1], wall), min(best[2], megabytes)
    print(
        f"  {name:28} {best[0]:6.2f} s of the processor, {best[1]:6.2f} s in all, {best[2]:5.0f} MB of memory, "
        f"{pdf.stat().st_size / 1e6:5.1f} MB of PDF"
    )
    return min(best[:2]), best[2]


def measure(folder: Path) -> int:
    """Print all four and compare."""
    small, big = demonstration(), large(folder)
    print(
        f"{len(small.rows)} and {len(big.rows)} lines, {len(small.conditions)} and {len(big.conditions)} issues, "
        f"{len(small.photos)} and {len(big.photos)} photos; best of 3 runs, on {datetime.date.today()}"
    )
    beyond, _ = printed(without_photos(small), folder, "demonstration without photos")
    printed(small, folder, "demonstration")
    printed(without_photos(big), folder, "large without photos")
    seconds, megabytes = printed(big, folder, "large")
    held = (
        (
            f"the demonstration beyond the photos takes {beyond:.2f} s of {SMALL_SECONDS:g}",
            beyond <= SMALL_SECONDS,
        ),
        (f"the large building takes {seconds:.2f} s of {LARGE_SECONDS:g}", seconds <= LARGE_SECONDS),
        (f"the large building takes {megabytes:.0f} MB of {LARGE_MEGABYTES:g}", megabytes <= LARGE_MEGABYTES),
    )
    for said, within in held:
        print(f"  {said}{'' if within else ': MISSED'}")
    return 0 if all(within for _, within in held) else 1


if __name__ == "__main__":
    raise SystemExit(main(measure))
