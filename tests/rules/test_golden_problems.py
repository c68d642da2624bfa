"""Everything an inspector and a client read of a problem, as a person has read it.

golden_problems.txt holds faults that are put into the clean survey, and beside them the cases below, in which
a rule says something else: another unit, a nearest name, one or several. `python -m
tests.rules.test_golden_problems` rewrites it; it is read in full before it is committed. A new rule's words stand in
the catalogue page, and here from then on. What the figures are is tested elsewhere; here it is what is said of them.
"""

import re
from pathlib import Path

import pytest

from tests.rules.asking import DP1, WYE_208, WYE_480, problems_of
from tests.rules.clean_survey import FAULTS
from workbook_tools.rules import catalogue
from workbook_tools.rules.problems import Problem
from workbook_tools.rules.rule import Typed, as_typed

GOLDEN = Path(__file__).with_name("golden_problems.txt")

T1 = {"tag": "T-1", "kind": "Transformer", "fed_from": "DP-1"}
RP1 = {"tag": "RP-1", "kind": "Panelboard", "fed_from": "T-1", **WYE_208}
PLATE = {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}
SD = {"kind": "Service disconnect", "fed_from": "Utility"}
DELTA_480 = {"voltage": "480", "phase": "3", "wires": "3"}


def measured(*, job: dict[str, str] | None = None, **cells: str) -> Typed:
    return as_typed(job=job, equipment=[DP1], clearances=[{"tag": "DP-1", **cells}])


def fed(source: dict[str, str], load: dict[str, str]) -> Typed:
    return as_typed(
        equipment=[{"tag": "A-1", "kind": "Panelboard", **source},
                   {"tag": "B-1", "kind": "Panelboard", "fed_from": "A-1", **load}],
    )  # fmt: skip


def transformed(load: dict[str, str] | None = None, **plate: str) -> Typed:
    return as_typed(equipment=[DP1, T1, {**RP1, **(load or {})}], transformers=[{**PLATE, **plate}])


def main_of(rating: str, device: str, **plate: str) -> Typed:
    return transformed({"rating_a": rating, "main_device": device}, **plate)


def motions(*counts: str, **cells: str) -> Typed:
    return as_typed(
        equipment=[{"tag": f"SD-{n}", **SD, "hand_motions": c, **cells} for n, c in enumerate(counts, 1)]
    )


def way_out(entrances: str, width: str = "90") -> Typed:
    return as_typed(
        rooms=[{"room": "Main", "entrances": entrances}],
        equipment=[{"tag": "MSB", "kind": "Switchboard", "room": "Main", "rating_a": "1600"}],
        clearances=[{"tag": "MSB", "equipment_width": width}],
    )


def finding(text: str, subject: str = "DP-1") -> Typed:
    return as_typed(equipment=[DP1], findings=[{"subject": subject, "finding": text}])


CASES = [
    ("unreadable-value", "a column of numbers", as_typed(equipment=[{"tag": "DP-1", "rating_a": "#REF!"}])),
    ("unknown-choice", "far from every choice", as_typed(equipment=[{"tag": "DP-1", "kind": "qqqq"}])),
    ("unknown-choice", "of few choices", measured(door_opens_90="perhaps")),
    ("read-with-doubt", "a date", as_typed(job={"inspection_date": "5/6/2026"})),
    ("missing-value", "without a tag", as_typed(equipment=[{"kind": "Panelboard"}])),
    ("implausible-value", "after the visit", as_typed(job={"inspection_date": "2026-09-16"}, transformers=[{"tag": "T-1", "year_made": "2027"}])),
    ("implausible-value", "no unit", as_typed(rooms=[{"room": "Main", "entrances": "90"}])),
    ("implausible-value", "percent", as_typed(transformers=[{"tag": "T-1", "impedance_percent": "55"}])),
    ("implausible-value", "metric", measured(depth="40 m")),
    ("unit-suspect", "inches in a millimetre column", measured(job={"dimension_unit": "mm"}, depth="36")),
    ("unit-suspect", "metres in an inch column", measured(height="2.1")),
    ("unknown-tag", "a near one", finding("Open knockout", "DP-11")),
    ("unknown-tag", "nothing near", finding("Open knockout", "Roof")),
    ("unknown-tag", "two near ones", as_typed(equipment=[{"tag": "RP-1"}, {"tag": "RP-2"}], clearances=[{"tag": "RP-3"}])),
    ("unknown-tag", "a room", as_typed(rooms=[{"room": "Boiler room"}], findings=[{"subject": "Boiler rooms"}])),
    ("unknown-room", "nothing near", as_typed(rooms=[{"room": "Boiler room"}], equipment=[{"tag": "DP-1", "room": "Q"}])),
    ("fed-from-unknown", "nothing near", as_typed(equipment=[{"tag": "RP-4", "fed_from": "Street"}])),
    ("supply-loop", "itself", as_typed(equipment=[{"tag": "RP-4", "fed_from": "RP-4"}])),
    ("phase-exceeds-source", "behind a transformer", transformed({"voltage": "240", "wires": "3"}, secondary_v="120/240", phase="1")),
    ("phase-exceeds-source", "two wires", fed({"voltage": "240", "phase": "1", "wires": "2"}, {"voltage": "240", "phase": "3", "wires": "3"})),
    ("voltage-differs-from-source", "two sources", as_typed(equipment=[{"tag": "A-1", "kind": "Panelboard", **WYE_480}, {"tag": "A-2", "kind": "Panelboard", **WYE_480}, {"tag": "B-1", "kind": "Panelboard", "fed_from": "A-1; A-2", **WYE_208}])),
    ("kva-not-standard", "beyond the largest", as_typed(transformers=[{"tag": "T-1", "kva": "2600", "phase": "3"}])),
    ("neutral-not-supplied", "a delta", fed(DELTA_480, WYE_480)),
    ("neutral-not-supplied", "behind a transformer", transformed(secondary_v="208")),
    ("pv-disconnect-not-recorded", "two inverters", as_typed(equipment=[{"tag": "INV-1", "kind": "PV inverter"}, {"tag": "INV-2", "kind": "PV inverter"}])),
    ("hand-motions-over-six", "without a source", motions("4", "3", fed_from="N/V")),
    ("hand-motions-over-six", "one not counted", motions("4", "", "3")),
    ("hand-motions-over-six", "thirteen disconnects", motions(*["1"] * 13)),
    ("hand-motions-over-six", "twelve disconnects", motions(*["1"] * 12)),
    ("high-leg-present", "the delta", as_typed(equipment=[{"tag": "RP-3", "voltage": "240/120", "phase": "3", "wires": "4"}])),
    ("rating-not-standard", "fuses", as_typed(equipment=[{"tag": "DS-1", "kind": "Disconnect switch", "rating_a": "605", "main_device": "Fused switch"}])),
    ("rating-not-standard", "near the smallest", as_typed(equipment=[{"tag": "DS-1", "kind": "Disconnect switch", "rating_a": "12"}])),
    ("phase-wire-conflict", "a plate", as_typed(transformers=[{"tag": "T-1", "primary_v": "480", "secondary_v": "240/120 delta high leg", "phase": "1"}])),
    ("phase-wire-conflict", "wires", as_typed(equipment=[{"tag": "DP-1", "voltage": "480Y/277", "phase": "3", "wires": "2"}])),
    ("transformer-primary-mismatch", "sides swapped", transformed(primary_v="208Y/120", secondary_v="480")),
    ("transformer-secondary-mismatch", "two loads", as_typed(equipment=[T1, {**RP1, "voltage": "480Y/277"}, {**RP1, "tag": "RP-2", "voltage": "480Y/277"}], transformers=[PLATE])),
    ("secondary-protection-check", "a breaker", main_of("350", "Main breaker")),
    ("secondary-protection-check", "fuses", main_of("350", "Fused switch")),
    ("short-circuit-rating-low", "a high one", transformed({"short_circuit_rating_ka": "10"}, impedance_percent="2")),
    ("kva-not-standard", "single-phase", as_typed(transformers=[{"tag": "T-1", "kva": "70", "phase": "1"}])),
    ("direction-disagrees", "isolation", as_typed(transformers=[{**PLATE, "secondary_v": "480Y/277", "marked_direction": "Step-down"}])),
    ("working-depth-short", "metric", measured(opposite_side="Grounded", depth="990 mm")),
    ("working-depth-short", "without a unit", measured(opposite_side="Live parts", depth="47")),
    ("working-depth-short", "OSHA", measured(job={"code_profile": "osha-1910"}, opposite_side="Grounded", depth="41 in")),
    ("working-width-short", "the equipment's own", measured(width="2 m", equipment_width="80")),
    ("working-width-short", "the least width", measured(width="700 mm", equipment_width="20")),
    ("working-height-short", "metric", measured(height="1.9 m")),
    ("front-projection-over", "metric", measured(front_projection="200 mm")),
    ("front-projection-over", "feet", measured(front_projection="1 ft")),
    ("dedicated-space-obstructed", "several", measured(items_above="Pipe; HVAC duct; Sprinkler only")),
    ("working-space-storage", "several", measured(items_in_space="Pallets; Ladder")),
    ("second-entrance-check", "one", way_out("1")),
    ("second-entrance-check", "none", way_out("0")),
    ("room-not-entered", "empty", as_typed(rooms=[{"room": "Store", "access": "Locked"}])),
    ("room-not-entered", "one piece", as_typed(rooms=[{"room": "Store", "access": "Locked"}], equipment=[{"tag": "A", "room": "store"}])),
    ("room-not-entered", "two pieces", as_typed(rooms=[{"room": "Store", "access": "Refused"}], equipment=[{"tag": "A", "room": "Store"}, {"tag": "B", "room": "Store"}])),
    ("not-visible", "several", as_typed(equipment=[{"tag": "A", "rating_a": "N/V", "voltage": "N/V", "maker": "N/V"}])),
    ("no-working-light", "a dark room", as_typed(rooms=[{"room": "Store", "lighting": "No"}], equipment=[{"tag": "A", "room": "Store"}])),
    ("photo-missing", "a near one", as_typed(findings=[{"subject": "A", "photos": "QS126.jpg"}], photo_folder=["QS_126.jpg"])),
    ("photo-missing", "nothing near", as_typed(findings=[{"subject": "A", "photos": "a.jpg"}], photo_folder=["z.jpg"])),
    ("photo-missing", "outside the folder", as_typed(findings=[{"subject": "A", "photos": "../a.jpg"}], photo_folder=["a.jpg"])),
]  # fmt: skip


def record_of(problem: Problem) -> str:
    rule = catalogue()[problem.rule]
    lines = [f"    {problem.place}  {problem.subject}  {problem.field}", f"    {problem.message}"]
    lines += [
        f"    reads: {problem.read or '(blank)'}",
        f"    expected: {problem.expected or '(nothing said)'}",
    ]
    if problem.action != rule.mend:
        lines.append(f"    do: {problem.action}")
    if problem.phrase:
        lines.append(f"    client: {problem.phrase}")
    return "\n".join(lines)


def records() -> dict[str, str]:
    cases = [(fault.rule, "in the clean survey", fault.survey()) for fault in FAULTS] + CASES
    return {
        f"{slug}: {label}": "\n".join(map(record_of, problems_of(slug, typed)))
        for slug, label, typed in cases
    }


def test_every_problem_reads_as_a_person_has_read_it():
    found, written = records(), re.split(r"^(?=\S)", GOLDEN.read_text(encoding="utf-8"), flags=re.MULTILINE)
    read = {
        head: said.rstrip("\n") for head, _, said in (block.partition("\n") for block in written if block)
    }
    assert {head: found.get(head) for head in read} == read
    assert {f"{slug}: {label}" for slug, label, _ in CASES} <= read.keys()


@pytest.mark.parametrize(
    ("slug", "label", "typed"), CASES, ids=[f"{slug}, {label}" for slug, label, _ in CASES]
)
def test_each_case_is_a_problem(slug: str, label: str, typed: Typed):
    assert problems_of(slug, typed), label


if __name__ == "__main__":
    GOLDEN.write_text("".join(f"{head}\n{said}\n" for head, said in records().items()), encoding="utf-8")
