"""Many small buildings in one survey, each as it should be but for one slip: what a row check has to notice.

    slipped(seed, buildings)    {sheet key: rows}, every building with names of its own

Everything is invented. A slip is one cell: left blank, mistyped, or another answer than the right one. The
first building has none.
"""

from __future__ import annotations

import random

__all__ = ["slipped"]

Rows = list[dict[str, str]]

_OTHER_ANSWERS: dict[str, list[str]] = {
    "kind": ["Switchboard", "ATS", "panel", "xfmr", "Transformer", "Panelboard (MLO)", "cupboard", "Disconnect switch", "Generator"],
    "room": ["Main", "main ", "Nowhere", "N/V"],
    "access": ["Locked", "yes", "half", "N/V"],
    "lighting": ["No", "y", "dim"],
    "entrances": ["2", "0", "two", "25", "1 or 2"],
    "fed_from": ["Utility", "T-", "LP-", "RP-", "MSB-", "Nothing-9", "MSB- & LP-", "MSB-;LP-", "MSB-, nobody", "MSB-/LP-", "MSB-;", "A;B;MSB-", "N/V", "itself"],
    "rating_a": ["225 A", "225a", "8000", "two hundred", "1,200", "N/V", "5"],
    "voltage": ["480", "208", "120/240", "240 delta high leg", "600Y/347", "480Y/277 3PH 4W", "208 3ph 3w", "490", "four eighty", "N/V",
                "240/120"],
    "phase": ["1", "3 ph", "2", "N/V", "three"],
    "wires": ["3", "2", "4W", "5", "N/V", "4 + G"],
    "main_device": ["Main lugs", "mcb", "lugs only", "knife"],
    "hand_motions": ["1", "7", "a few", "100"],
    "short_circuit_rating_ka": ["22", "65 kA", "22000", "lots"],
    "touch_test": ["ALERTED", "no", "later", "N/A"],
    "circuit_directory": ["Missing", "good", "on order"],
    "primary_v": ["208Y/120", "208", "240", "480Y/277", "480 delta", "four sixty", "277", "N/V"],
    "secondary_v": ["480", "240", "480Y/277", "208", "120/240", "N/V", "low"],
    "kva": ["75 kVA", "75000", "70", "112 1/2", "big", "N/V"],
    "impedance_percent": ["5.75 %", "50", "N/A", "five"],
    "marked_direction": ["Step-up", "down", "Isolation", "Not marked", "sideways"],
    "year_made": ["1998", "98", "2150", "N/V"],
    "opposite_side": ["Grounded", "concrete", "live", "window", "N/V"],
    "depth": ["36", "30 in", "3'-6\"", "1.07 m", "914", "knee high", "N/V", "3"],
    "width": ["24", "762 mm", "30", "wide", "900"],
    "height": ["78", "6'-6\"", "2 m", "low", "7"],
    "open_above": ["10 ft", "up", "0", "Structure", "to deck"],
    "subject": ["Main-", "RP-", "LP-", "Nobody-", ""],
    "finding": ["Open knockout", "missing cover", "Something odd"],
    "priority": ["Act now", "soon", "whenever"],
    "count": ["3", "three", "9999"],
    "photos": ["", "QS_0001.jpg", "N/A"],
}  # fmt: skip


def _building(number: int) -> dict[str, Rows]:
    def named(name: str) -> str:
        return f"{name}-{number}"

    usual = {"maker": "Marlowe", "touch_test": "No alert", "circuit_directory": "Present"}
    high = {"voltage": "480Y/277", "phase": "3", "wires": "4", **usual}
    low = {"voltage": "208Y/120", "phase": "3", "wires": "4", **usual}
    room = {"room": named("Main")}
    panel = {"kind": "Panelboard", **room}
    clear = {"opposite_side": "Clear", "depth": "48", "width": "40", "height": "90", "equipment_width": "24"}
    tags = [named(name) for name in ("MSB", "LP", "RP")]
    return {
        "rooms": [{**room, "access": "Entered", "lighting": "Yes"}, {"room": named("Roof"), "access": "Locked"}],
        "equipment": [
            {"tag": tags[0], "kind": "Service disconnect", "fed_from": "Utility", "rating_a": "800", "hand_motions": "1", **room, **high},
            {"tag": tags[1], "fed_from": tags[0], "rating_a": "225", **panel, **high},
            {"tag": named("T"), "kind": "Transformer", "fed_from": tags[0], "maker": "Marlowe", "touch_test": "No alert", **room},
            {"tag": tags[2], "fed_from": named("T"), "rating_a": "225", **panel, **low},
        ],
        "transformers": [
            {"tag": named("T"), "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3", "impedance_percent": "5",
             "marked_direction": "Step-down", "nameplate_photo": "QS_0001.jpg"},
        ],
        "clearances": [{"tag": tag, **clear} for tag in tags],
        "findings": [{"subject": tags[1], "finding": "Open knockout", "photos": "QS_0002.jpg"}],
    }  # fmt: skip


def slipped(seed: int, buildings: int = 60) -> dict[str, Rows]:
    """Return so many buildings in one survey, the first as it should be, each of the others with one slip."""
    dice = random.Random(seed)
    found: dict[str, Rows] = {}
    for number in range(buildings):
        tables = _building(number)
        if number:
            _slip(dice, tables, number)
        for key, rows in tables.items():
            found.setdefault(key, []).extend(rows)
    return found


def _slip(dice: random.Random, tables: dict[str, Rows], number: int) -> None:
    """Change one cell of a building."""
    key = dice.choice(
        ["equipment", "equipment", "equipment", "transformers", "clearances", "findings", "rooms"]
    )
    row = dice.choice(tables[key])
    first = next(iter(row))
    what = dice.choice(["another", "another", "another", "blank", "name", "no row", "twice"])
    if what == "no row":
        tables[key].remove(row)
    elif what == "twice":
        tables[key].append(dict(row))
    elif what == "name":
        row[first] = dice.choice([row[first].replace("-", ""), row[first].lower(), f"{row[first]}0", ""])
    elif what == "blank":
        row[dice.choice(list(row))] = ""
    else:
        columns = [field for field in _OTHER_ANSWERS if field in row or (key, field) in _SELDOM]
        field = dice.choice(columns)
        answer = dice.choice(_OTHER_ANSWERS[field])
        if answer == "itself":
            answer = row["tag"]
        row[field] = (
            answer.replace("-", f"-{number}")
            if answer.count("-") and field in ("fed_from", "subject")
            else answer
        )


_SELDOM = {
    ("rooms", "entrances"), ("equipment", "main_device"), ("equipment", "hand_motions"), ("equipment", "short_circuit_rating_ka"),
    ("transformers", "year_made"), ("clearances", "open_above"), ("findings", "priority"), ("findings", "count"),
}  # fmt: skip
"""What an ordinary row leaves blank and some fill in."""
