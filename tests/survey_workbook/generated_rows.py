"""Survey rows as people might type them, drawn with a seed: the input of the comparison of live cells.

    generated(seed, part, **job)   {sheet key: rows} and the answers of the Job sheet

Everything is invented. Feeders run on to boards and transformers several steps up, and in
circles. Beside usual spellings stand ones that no formula reads, answers like
N/V, blanks, names that are on no other sheet, and names typed in another way.
"""

from __future__ import annotations

import random

from workbook_tools.definitions import load_template
from workbook_tools.electrical import SYSTEMS, VoltageSystem

__all__ = ["EQUIPMENT", "FEEDERS", "generated"]

EQUIPMENT = 170
FEEDERS = 40
Rows = list[dict[str, str]]


def _written(system: VoltageSystem) -> str:
    """Return a text that says everything about the system: "480Y/277 V 3PH 4W"."""
    name, _, rest = system.name.partition(" ")
    return f"{name} V {rest + ' ' if rest else ''}{system.phases}PH {system.wires}W"


_VOLTS = [
    *(spelling for system in SYSTEMS.values() for spelling in system.spellings),
    *(_written(system) for system in SYSTEMS.values() if system.line_volts <= 600),
    "480", "208", "240", "120/240", "208Y/120", "480Y/277", "277/480V 3PH 4W", "208Y/120 V, 3 phase, 4 wire", "480 V",
    "240/120 delta high leg", "480v 3Ø 3w", "120/208V 3Ø-4W", "480 volts three phase", "120 / 240", "12.47 kV", "0.48kV",
    "480Y/277 3PH", "208Y/120 3ph4w", "120/208 3PH/4W", "480Y/277V-3PH-4W", "480V 3P 3W", "240V 1Φ", "120/240 1ph3w", "480/208", "490", "230/400", "four eighty", "48*", "4?0", "N/V", "n.a.", "", "-", "480 3ph 5w",
]  # fmt: skip
_USUAL_VOLTS = [
    "208Y/120",
    "480Y/277",
    "480",
    "208",
    "240",
    "120/240",
    "277/480",
    "600Y/347",
    "600",
    "240 delta",
    "480Y/277V",
]
_FEEDER_VOLTS = [
    ("480", "3"),
    ("480", "3"),
    ("480", "3"),
    ("460", "3"),
    ("600", "3"),
    ("480", "1"),
    ("240", "3"),
    ("13800", "3"),
]
_RATINGS = [
    ("600", "3", "3"),
    ("240", "3", "3"),
    ("480", "3", "3"),
    ("600", "1", "2"),
    ("120/240", "1", "3"),
    ("240", "1", "2"),
    ("480Y/277", "3", "3"),
]
_PHASES = ["3", "3", "3", "1", "", "3 ph", "3Ø", "1-phase", "single phase", "N/V", "3ph", "2", "three or so"]
_WIRES = ["4", "4", "3", "3", "2", "", "4W", "3 wire", "N/V", "4 + G", "5"]
_LENGTHS = [
    "42", "36", "30", "78", "48", "41 7/8", "41 3/4", "35.875", "35.8", "3'-6\"", "3’-6”", "3’ – 6 ½”", "3'6", "3 ft 6 in",
    "3 ft. 6 in.", "3'-5 7/8\"", "36 1/2", "36-1/2", "½", "42\"", "42 in", "42 inches", "42''", "6 ft", "6.5'", "6'-6\"", "7'",
    "1067mm", "1067 mm", "1.07 m", "1.07m", "107 cm", "914", "914 mm", "0.9 m", "1981 mm", "1980mm", "1977 mm", "762 mm", ".9 m",
    "2 m", "900mm", "897 mm", "896 mm", "1000 mm", "1200mm", "1 m", "1.1 m", "N/V", "n/a", "", "", "42-44", "knee high", "6 – 0",
    "1,067", "-5", "- 5", "3'6'", "36 3/2", "1/0", "0", "about 4 ft", "4 1/2 ft", "3' 1/2\"", "4?", "4*", "42 \"", "1 1/2 m", "12'",
    "90", "80 in", "7'-6\"", "1e3", "٣٦", "36.", "36 in approx",
]  # fmt: skip
_KVA = [
    "75",
    "112.5",
    "112 1/2",
    "75 kVA",
    "45kVA",
    "15",
    "1500",
    "0.75",
    "500 VA",
    "1 MVA",
    "N/V",
    "",
    "300 KVA",
    "37½",
    "a lot",
    "0",
]
_PERCENT = ["5.75", "5.0", "4.2%", "3.6 %Z", "5.75 %", "N/A", "", "2", "%Z 4.1", "0", "5 3/4"]
_SIDES = ["480", "480 delta", "208Y/120", "120/208", "240", "480Y/277", "208", "600", "4160", "12.47kV", "240/480", "120/240", "2400/4160",
          "240x480", "480V 3PH", "480 1PH", "N/V", "", "13200Y/7620", "unknown", "four sixty", "277", "415Y/240", "240/120"]  # fmt: skip
_OPPOSITE = [
    "Clear",
    "Grounded",
    "Live parts",
    "grounded",
    "Concrete",
    "live",
    "condition 2",
    "N/V",
    "",
    "Clear (drywall)",
    "window",
    "block wall",
]
_KINDS = ["Panelboard", "Panelboard", "Panelboard", "Switchboard", "panel", "Disconnect switch", "Transformer", "Transformer", "xfmr", "MCC",
          "Service disconnect", "Generator", "Panelboard (MLO)", "cupboard", "Transformer (dry)", "xfmr?2", "fused thing", "N/V", ""]  # fmt: skip
_FINDINGS = [
    "Working depth too small",
    "open knockout",
    "Corroded enclosure",
    "storage on transformer",
    "Something odd",
    "",
    "Missing cover",
]


def generated(seed: int, part: int = 1, **job: str) -> tuple[dict[str, Rows], dict[str, str]]:
    """Return the tables and the Job answers that a seed gives: all rows, or the part that is 1 of so many."""
    pick = random.Random(seed)
    count = EQUIPMENT // part
    rooms: Rows = [
        {"room": name, "access": pick.choice(["Entered", "Locked", ""])}
        for name in ("Main room", "Roof", "Yard", "Boiler room", "Boiler room")
    ]
    tags = [f"{pick.choice(['DP', 'RP', 'LP', 'T', 'MSB', 'X/'])}-{number}" for number in range(1, count - 4)]
    tags += [tags[3], tags[7].lower(), "DP 500", "Café-1", ""]
    equipment = [_equipment(pick, tag, tags) for tag in tags]
    transformers = [_transformer(pick, equipment) for _ in range(90 // part)]
    for number in range(FEEDERS // part):
        units, plates = _feeder(pick, number)
        equipment += units
        transformers += plates
    tags += [unit["tag"] for unit in equipment[count - 1 :]]
    clearances = [_clearance(pick, tags) for _ in range(230 // part)]
    library = load_template("office").findings
    findings: Rows = [
        {
            "subject": pick.choice([*tags[:20], "Roof", "yard", "Nowhere", ""]),
            "finding": pick.choice(
                [*_FINDINGS, pick.choice(library).name, pick.choice(library).name.upper()]
            ),
            "priority": pick.choice(["", "", "Act now", "soon", "N/A", "whenever"]),
            "seen": "as noted",
        }
        for _ in range(45)
    ]
    _carry_over(random.Random(f"carried {seed}"), clearances, findings)
    photos: Rows = [
        {"file": "a.jpg", "subject": subject} for subject in (tags[0], "Roof", "Nowhere", "", "N/A")
    ]
    not_inspected: Rows = [{"item": "Lift", "reason": ""}, {"reason": "Locked"}]
    tables = {
        "rooms": rooms, "equipment": equipment, "transformers": transformers, "clearances": clearances,
        "findings": findings, "photos": photos, "not_inspected": not_inspected,
    }  # fmt: skip
    answers = {"property": "Invented House", "inspector": "", **job}
    return {key: [_filled(row) for row in rows] for key, rows in tables.items()}, answers


def _carry_over(pick: random.Random, clearances: Rows, findings: Rows) -> None:
    """Let half of what was measured and found be of an earlier survey, answered or not."""
    for rows, answers in ((clearances, _STILL_SO), (findings, _STILL_THERE)):
        for row in rows:
            if pick.random() < 0.6:
                row |= {
                    "last_seen": pick.choice(["2025-10-06", "2025-10-06", "autumn of 2024"]),
                    "this_year": pick.choice(answers),
                }
            elif pick.random() < 0.2:
                row |= {"last_seen": pick.choice(["", " "]), "this_year": pick.choice(answers)}


_STILL_SO = [
    "",
    "",
    "",
    "Still so",
    "still so ",
    "Changed",
    "Not seen",
    "yes",
    "n/v",
    "N/A",
    "SAME",
    "perhaps",
    "Mended",
    " ",
]
_STILL_THERE = [
    "",
    "",
    "",
    "Still there",
    "there",
    "Mended",
    "mended",
    "fixed",
    "Not seen",
    "n/v",
    "N/A",
    "perhaps",
    "Still so",
]


def _filled(row: dict[str, str]) -> dict[str, str]:
    """Drop blanks; a row in which nothing stands is no row, so it gets a remark where it can."""
    return {field: text for field, text in row.items() if text} or {"remarks": "nothing else"}


def _equipment(pick: random.Random, tag: str, tags: list[str]) -> dict[str, str]:
    volts = pick.choice(_VOLTS if pick.random() < 0.6 else _USUAL_VOLTS)
    known = pick.choice([entry for entry in tags if entry])
    fed = pick.choice([
        known, known, known.lower(), f" {known} ", f"{known};", f"{known}; {tags[0]}", "Utility", "Utility 2", "PV array", "N/V", "",
        "Nowhere-1", f"{known} & {tags[1]}", tag or "DP-1", f"{known}, {tags[2]}", "utility-3", known.replace("-", "–"),
    ])  # fmt: skip
    return {
        "tag": tag,
        "kind": pick.choice(_KINDS),
        "room": pick.choice(["Main room", "main room", "Roof", "Attic", "N/V", ""]),
        "fed_from": fed,
        "rating_a": pick.choice(["225", "400A", "N/V", ""]),
        "voltage": volts,
        "phase": pick.choice(_PHASES),
        "wires": pick.choice(_WIRES),
        "maker": pick.choice(["Marlowe", "N/V", ""]),
        "hand_motions": pick.choice(["", "1", "N/V"]),
        "main_or_fuse_a": pick.choice(["", "", "150", "N/V"]),
        "voltage_rating": pick.choice(["", "", "600", "480Y/277", "six hundred"]),
    }


def _feeder(pick: random.Random, number: int) -> tuple[Rows, Rows]:
    """Return equipment each fed from the one before, and the label plates of the transformers among it."""
    volts, phase = pick.choice(_FEEDER_VOLTS)
    top = pick.choice(
        [
            "480Y/277",
            "480Y/277",
            "480",
            "600Y/347",
            "208Y/120",
            "13800Y/7970",
            "4160Y/2400",
            "120/208",
            "48*",
            "N/V",
        ]
    )
    units: Rows = [{"tag": f"F{number}-0", "kind": "Switchboard", "voltage": top, "phase": "3", "wires": "4"}]
    plates: Rows = []
    for step in range(1, pick.randint(3, 8)):
        unit = {"tag": f"F{number}-{step}", "kind": "Control panel", "fed_from": f"F{number}-{step - 1}"}
        chance = pick.random()
        if chance < 0.25:
            unit["kind"] = pick.choice(["Transformer", "xfmr"])
            sides = {
                "primary_v": pick.choice([volts, volts, f"{volts} delta", "480", "four sixty", ""]),
                "secondary_v": pick.choice([*_SIDES[:8], "480Y/277", "480Y/277", "480"]),
            }
            plates.append({"tag": unit["tag"], "kva": "75", "phase": phase, **sides})
        elif chance < 0.33:
            unit |= {"kind": pick.choice(["cupboard", "N/V"]), "voltage": volts, "phase": phase}
        elif chance < 0.5:
            # A placard that shows what the thing is built for.
            plate, phases, wires = pick.choice(_RATINGS)
            kind = pick.choice(
                ["Disconnect switch", "Disconnect switch", "ECB", "Panelboard", "Transfer switch", "cupboard"]
            )
            unit |= {"kind": kind, "voltage": plate, "phase": phases, "wires": wires}
        elif chance < 0.56:
            unit |= {"voltage": pick.choice(["four eighty", "480Y/277", "480/208", "N/V"]), "phase": phase}
        else:
            unit |= {"voltage": volts, "phase": phase, "wires": "3" if phase == "3" else "2"}
        units.append(unit)
    if pick.random() < 0.25:
        units[0] |= {"fed_from": units[-1]["tag"], "voltage": volts, "phase": phase, "wires": "3"}
    return units, plates


def _transformer(pick: random.Random, equipment: Rows) -> dict[str, str]:
    units = [row["tag"] for row in equipment if row.get("kind") in ("Transformer", "xfmr") and row.get("tag")]
    return {
        "tag": pick.choice([*units, *units, equipment[0]["tag"], "T-900", ""]),
        "kva": pick.choice(_KVA),
        "primary_v": pick.choice(_SIDES),
        "secondary_v": pick.choice(_SIDES),
        "phase": pick.choice(_PHASES),
        "impedance_percent": pick.choice(_PERCENT),
    }


def _clearance(pick: random.Random, tags: list[str]) -> dict[str, str]:
    lengths = _LENGTHS if pick.random() < 0.7 else _LENGTHS[:20]
    return {
        "tag": pick.choice([*tags, "Nowhere-2"]),
        "opposite_side": pick.choice(_OPPOSITE),
        **{
            field: pick.choice(lengths)
            for field in ("depth", "width", "height", "equipment_width", "front_projection")
        },
        "equipment_height": pick.choice(["", "", "", "72", "84", "7 ft", "2.3 m", "N/V", "tall"]),
        "open_above": pick.choice(["", "Structure", "to deck", "SLAB", "6 ft", "none", "up there"]),
        **({"front_projection": pick.choice(["none", "flush", "deck"])} if pick.random() < 0.1 else {}),
    }
