"""Folders with the surveys of many sites, and with what else lies in such folders; all invented.

SITES                      200 of them, by number
kind_of(number), is_broken(number)   what that one is: a survey, or one of several kinds of broken files
make_folder(folder, ...)   writes some of them; a Made says what is where
survey_sheets(number)      the sheets of a survey, drawn with the number as seed

Every fourth survey is one of a site that was surveyed the year before, with other issues and one piece more.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

import xlsxwriter

__all__ = ["SITES", "Made", "is_broken", "kind_of", "make_folder", "survey_sheets", "write_sheets"]

SITES = range(200)

Sheets = dict[str, list[list[str]]]

_BROKEN = {5: "cut short", 11: "plain text", 17: "old workbook", 23: "no sheets of a survey"}
_CYCLE = 24

_FINDINGS = ("Open knockout", "Cover screws missing", "Feeder source not marked", "Water intrusion at or above the gear",
             "Corroded enclosure", "Own words about a humming box", "Handle too high", "Storage on transformer")  # fmt: skip
_MAKERS = ("Marlowe", "Peverel", "Ashdown")


def kind_of(number: int) -> str:
    """Return what a site's file is: "survey", "another year", or how it is broken."""
    broken = _BROKEN.get(number % _CYCLE)
    return broken or ("another year" if number % 4 == 3 and kind_of(number - 1) == "survey" else "survey")


def is_broken(number: int) -> bool:
    """Whether a site's file cannot be read."""
    return number % _CYCLE in _BROKEN


@dataclass
class Made:
    """What was written: surveys and broken files by number, and how many of everything else."""

    folder: Path
    surveys: dict[int, Path] = field(default_factory=dict)
    broken: dict[int, Path] = field(default_factory=dict)


def make_folder(folder: Path, numbers: Iterable[int]) -> Made:
    """Write the files of some sites, a folder for each ten."""
    made = Made(folder)
    for number in numbers:
        inside = folder / f"region {number // 10}"
        inside.mkdir(parents=True, exist_ok=True)
        path = inside / f"site {number}.xlsx"
        if is_broken(number):
            made.broken[number] = _write_broken(path, kind_of(number))
        else:
            made.surveys[number] = write_sheets(path, survey_sheets(number))
    return made


def write_sheets(path: Path, sheets: Sheets, number: str = "") -> Path:
    """Write sheets as typed texts; with a number of its own where one is given."""
    with xlsxwriter.Workbook(path, {"strings_to_formulas": False, "strings_to_urls": False}) as book:
        if number:
            book.set_custom_property("survey-number", f"survey number {number}", "text")
        for name, rows in sheets.items():
            sheet = book.add_worksheet(name)
            for at, row in enumerate(rows):
                for column, text in enumerate(row):
                    if text:
                        sheet.write_string(at, column, text)
    return path


def survey_sheets(number: int) -> Sheets:
    """Return the sheets of a survey; another year has the building of the site before."""
    again = kind_of(number) == "another year"
    site = number - 1 if again else number
    dice, findings = Random(site), Random(f"findings {number}")
    year = 2024 + site % 2 + again
    rooms = ["Main electrical room", "Boiler room", "Roof"]
    boards = [f"LP-{n}" for n in range(1, dice.randint(3, 7))] + (["LP-NEW"] if again else [])
    equipment = [
        ["MSB", "Switchboard", rooms[0], "Utility", dice.choice(("800", "1600", "2000")), "480Y/277", "3", "4", "Marlowe"],
        ["T-1", "Transformer", rooms[1], "MSB", "", "", "", "", dice.choice(_MAKERS)],
        *(
            [tag, "Panelboard", dice.choice(rooms[:2]), "T-1", dice.choice(("100", "225", "N/V")), "208Y/120", "3", "4",
             dice.choice(_MAKERS)]
            for tag in boards
        ),
    ]  # fmt: skip
    depth = dice.choice(("42", "30"))
    return {
        "Job": [["Property", f"Site {site} (invented)"], ["Address", f"{site + 1} Quay Street (invented)"],
                ["Inspection date", f"{year}-0{1 + site % 9}-16"], ["Inspector", "A. Inspector (invented)"],
                ["Code profile", "nec-2023"]],
        "Rooms": [["Room", "Level", "Access"], [rooms[0], "Ground", "Entered"], [rooms[1], "Basement", "Entered"],
                  [rooms[2], "Roof", dice.choice(("Locked", "Entered"))]],
        "Equipment": [["Tag", "Kind", "Room", "Fed from", "Rating (A)", "Voltage", "Phase", "Wires", "Maker"], *equipment],
        "Transformers": [["Tag", "kVA", "Primary (V)", "Secondary (V)", "Phase", "Impedance (%)", "Year made"],
                         ["T-1", dice.choice(("45", "75", "500")), "480", "208Y/120", "3", "5.0",
                          dice.choice(("1968", "1994", "2011", ""))]],
        "Clearances": [["Tag", "Opposite side", "Depth", "Width", "Height", "Equipment width"],
                       ["MSB", "Clear", depth, "60", "80", "60"], ["LP-1", "Clear", "36", "30", "80", "20"]],
        "Findings": [["Subject", "Finding", "Count", "What was seen"],
                     *([findings.choice(boards), findings.choice(_FINDINGS), "1", "left side"]
                       for _ in range(findings.randint(1, 4)))],
    }  # fmt: skip


def _write_broken(path: Path, kind: str) -> Path:
    if kind == "plain text":
        path.write_text("Tag,Kind\nLP-1,Panelboard\n")
    elif kind == "old workbook":
        path.write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600))
    else:
        write_sheets(path, {"Survey 1": [["survey 1 office"], ["nothing"], ["else"]]})
        if kind == "cut short":
            path.write_bytes(path.read_bytes()[:900])
    return path
