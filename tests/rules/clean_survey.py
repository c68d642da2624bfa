"""A small survey with nothing wrong in it, and faults to put into it one at a time.

The building, its tags and makers are invented. For each rule there is one fault, with the cell at which the
rule must find it.
"""

from collections.abc import Callable
from dataclasses import dataclass

from workbook_tools.rules.rule import Typed, TypedRow

Tables = dict[str, list[dict[str, str]]]

_WYE_480 = {"voltage": "480Y/277", "phase": "3", "wires": "4"}
_WYE_208 = {"voltage": "208Y/120", "phase": "3", "wires": "4"}
_MAIN, _PLANT, _YARD = {"room": "Main electrical room"}, {"room": "Plant room"}, {"room": "Yard"}
_QUIET = {"touch_test": "No alert", "maker": "Marlowe", "wiring_method": "EMT", "circuit_directory": "N/A"}

JOB = {
    "property": "Harbour House (invented)",
    "address": "1 Quay Lane (invented)",
    "inspection_date": "2026-09-16",
    "inspector": "Lead inspector",
    "code_profile": "nec-2023",
    "dimension_unit": "in",
    "year_built": "2024",
}
TABLES: Tables = {
    "rooms": [
        {**_MAIN, "level": "Ground", "access": "Entered", "lighting": "Yes", "entrances": "2", "door_opens_out": "Yes",
         "door_hardware": "Panic hardware"},
        {**_PLANT, "level": "Ground", "access": "Entered", "lighting": "Yes", "entrances": "1"},
        {**_YARD, "level": "Outside", "access": "Entered", "lighting": "N/A", "entrances": "N/A"},
    ],
    "equipment": [
        {"tag": "SD-1", "kind": "Service disconnect", **_MAIN, "fed_from": "Utility", "rating_a": "1600", **_WYE_480,
         **_QUIET, "main_device": "Fused switch", "hand_motions": "1", "short_circuit_rating_ka": "65",
         "photos": "HH_01.jpg", "available_fault_ka": "42", "fault_current_date": "2024-03-08",
         "remarks": "Ground-fault and arc-energy relay on the door; sign for the generator and the photovoltaics"},
        {"tag": "MSB", "kind": "Switchboard", **_MAIN, "fed_from": "SD-1", "rating_a": "1600 A", **_WYE_480, **_QUIET,
         "main_device": "Main lugs", "short_circuit_rating_ka": "65", "circuit_directory": "Present"},
        {"tag": "DP-1", "kind": "Panelboard", **_MAIN, "fed_from": "MSB", "rating_a": "400", **_WYE_480, **_QUIET,
         "main_device": "Main breaker", "short_circuit_rating_ka": "35", "circuit_directory": "Present"},
        {"tag": "T-1", "kind": "Transformer", **_MAIN, "fed_from": "DP-1", "phase": "3", **_QUIET},
        {"tag": "RP-1", "kind": "Panelboard", **_MAIN, "fed_from": "T-1", "rating_a": "225", **_WYE_208, **_QUIET,
         "main_device": "Main breaker", "short_circuit_rating_ka": "10", "circuit_directory": "Present"},
        {"tag": "LP-1", "kind": "Panelboard", **_PLANT, "fed_from": "RP-1", "rating_a": "100", "voltage": "120/208",
         "phase": "1", "wires": "3", **_QUIET, "main_device": "Main lugs", "short_circuit_rating_ka": "10",
         "circuit_directory": "Present"},
        {"tag": "MCC-1", "kind": "Motor control center", **_PLANT, "fed_from": "MSB", "rating_a": "600",
         "voltage": "480", "phase": "3", "wires": "3", **_QUIET, "main_device": "Main breaker"},
        {"tag": "GEN-1", "kind": "Generator", **_YARD, "rating_a": "200", **_WYE_480, **_QUIET},
        {"tag": "ATS-1", "kind": "Transfer switch", **_PLANT, "fed_from": "MSB; GEN-1", "rating_a": "200", **_WYE_480,
         **_QUIET, "main_device": "N/A"},
        {"tag": "INV-1", "kind": "PV inverter", **_PLANT, "fed_from": "PV array", "rating_a": "60", "voltage": "480",
         "phase": "3", "wires": "3", **_QUIET, "touch_test": "Not touched"},
        {"tag": "PVD-1", "kind": "PV disconnect", **_PLANT, "fed_from": "INV-1", "rating_a": "60", "voltage": "480",
         "phase": "3", "wires": "3", **_QUIET, "touch_test": "Not touched", "main_device": "Fused switch"},
    ],
    "transformers": [
        {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3",
         "impedance_percent": "5.0", "marked_direction": "Step-down", "serves": "RP-1", "year_made": "1998",
         "nameplate_photo": "HH_02.jpg"},
    ],
    "clearances": [
        {"tag": tag, "opposite_side": "Grounded", "depth": "48", "width": "96", "height": "84", "equipment_width": width,
         "front_projection": "0", "door_opens_90": "Yes", "open_above": "6 ft", "items_above": "None",
         "items_in_space": "None"}
        for tag, width in (("SD-1", "38"), ("MSB", "90"), ("DP-1", "24"), ("T-1", "30"), ("RP-1", "20"), ("LP-1", "20"),
                           ("MCC-1", "80"), ("GEN-1", "60"), ("ATS-1", "30"), ("INV-1", "24"), ("PVD-1", "14"))
    ],
    "findings": [
        {"subject": "DP-1", "finding": "Open knockout", "count": "1", "seen": "left side", "photos": "HH_03.jpg"},
    ],
    "photos": [{"file": "HH_01.jpg", "subject": "SD-1", "caption": "Service disconnect"}],
    "not_inspected": [{"item": "Lift machinery", "reason": "Separate authority"}],
}  # fmt: skip
PHOTO_FOLDER = ["HH_01.jpg", "HH_02.jpg", "HH_03.jpg"]


def clean_survey() -> Typed:
    return Typed(JOB, TABLES, PHOTO_FOLDER)


@dataclass(frozen=True)
class Fault:
    """One fault: the rule that must find it, the cell (table, row, field), and how it comes in."""

    rule: str
    table: str
    row: int
    field: str
    bring_in: Callable[[dict[str, str], Tables, list[str]], None]

    def survey(self) -> Typed:
        job = dict(JOB)
        tables = {key: [dict(row) for row in rows] for key, rows in TABLES.items()}
        files = list(PHOTO_FOLDER)
        self.bring_in(job, tables, files)
        return Typed(job, tables, files)


def _row_of(table: str, name: str) -> int:
    first = {"rooms": "room", "findings": "subject", "photos": "file"}.get(table, "tag")
    return next(place for place, row in enumerate(TABLES[table]) if row.get(first) == name)


def _photos_of(tag: str) -> tuple[str, int, str]:
    return "equipment", _row_of("equipment", tag), "photos"


def typed(
    rule: str,
    table: str,
    name: str,
    field: str,
    text: str,
    *,
    found_at: tuple[str, str, str] | None = None,
    beside: TypedRow | None = None,
) -> Fault:
    """Somebody typed `text` into one cell, and what is `beside` into others of its row.

    The rule finds it there, or at (table, row, field) of `found_at`.
    """
    row = _row_of(table, name)

    def bring_in(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
        tables[table][row] |= {field: text, **(beside or {})}

    at_table, at_name, at_field = found_at or (table, name, field)
    return Fault(rule, at_table, _row_of(at_table, at_name), at_field, bring_in)


def added(rule: str, table: str, new: TypedRow, field: str) -> Fault:
    """Somebody added a row; the rule finds the fault in it."""

    def bring_in(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
        tables[table].append(dict(new))

    return Fault(rule, table, len(TABLES[table]), field, bring_in)


def deleted(rule: str, table: str, name: str, found_at: tuple[str, str, str]) -> Fault:
    """Somebody deleted a row; the rule misses it elsewhere."""
    row = _row_of(table, name)

    def bring_in(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
        del tables[table][row]

    at_table, at_name, at_field = found_at
    return Fault(rule, at_table, _row_of(at_table, at_name), at_field, bring_in)


def _without_inspector(job: dict[str, str], _tables: Tables, _files: list[str]) -> None:
    job["inspector"] = ""


def _older_building(job: dict[str, str], _tables: Tables, _files: list[str]) -> None:
    job["year_built"] = "1965"


def _no_service_disconnect(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["equipment"][0] |= {"kind": "Switchboard", "remarks": "Arc-energy relay"}


def _without_pv_disconnect(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["equipment"] = [row for row in tables["equipment"] if row["tag"] != "PVD-1"]
    tables["clearances"] = [row for row in tables["clearances"] if row["tag"] != "PVD-1"]


def _isolation(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["transformers"][0] |= {"secondary_v": "480Y/277", "marked_direction": "Isolation"}
    tables["equipment"][4] |= {**_WYE_480, "rating_a": "110"}
    tables["equipment"][5] |= {"voltage": "480", "phase": "1", "wires": "2"}


def _high_leg(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["transformers"][0] |= {"secondary_v": "240/120 delta high leg"}
    tables["equipment"][4] |= {"voltage": "240/120"}
    tables["equipment"][5] |= {"voltage": "120/240"}


def _single_phase_source(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["equipment"].append(
        {
            **tables["equipment"][5],
            "tag": "LP-2",
            "fed_from": "LP-1",
            "voltage": "208",
            "phase": "3",
            "wires": "3",
        }
    )
    tables["clearances"].append({**tables["clearances"][5], "tag": "LP-2"})


def _no_neutral(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["equipment"].append({**tables["equipment"][2], "tag": "HP-1", "fed_from": "MCC-1"})
    tables["clearances"].append({**tables["clearances"][2], "tag": "HP-1"})


def _enclosed_breaker(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["equipment"].append(
        {**tables["equipment"][4], "tag": "CB-1", "kind": "Enclosed circuit breaker", "fed_from": "RP-1"}
    )
    tables["clearances"].append({**tables["clearances"][4], "tag": "CB-1"})
    tables["equipment"][5]["fed_from"] = "CB-1"


def _large_behind_a_transformer(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["transformers"][0] |= {
        "kva": "1000",
        "primary_v": "480",
        "secondary_v": "480Y/277",
        "marked_direction": "Isolation",
    }
    tables["equipment"][4] |= {
        **_WYE_480,
        "rating_a": "1000",
        "short_circuit_rating_ka": "65",
    }
    tables["equipment"][5] |= {"voltage": "480", "phase": "1", "wires": "2", "short_circuit_rating_ka": "65"}


def _delta_service(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["equipment"].append(
        {
            **tables["equipment"][6],
            "tag": "SD-2",
            "kind": "Service disconnect",
            "fed_from": "Utility 2",
            "hand_motions": "1",
            "available_fault_ka": "12",
            "fault_current_date": "2024-03-08",
            "short_circuit_rating_ka": "22",
            "remarks": "Sign for the generator",
        }
    )
    tables["clearances"].append({**tables["clearances"][6], "tag": "SD-2"})


def _no_detector(job: dict[str, str], tables: Tables, files: list[str]) -> None:
    _delta_service(job, tables, files)
    tables["equipment"][-1] |= {"remarks": "No ground detector; sign for the generator"}


def _slash_on_a_delta(job: dict[str, str], tables: Tables, files: list[str]) -> None:
    _delta_service(job, tables, files)
    tables["equipment"][-1] |= {
        "voltage_rating": "480Y/277",
        "remarks": "Ground detector lamps; sign for the generator",
    }


def _side_by_side(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["rooms"][0]["entrances"] = "1"
    tables["clearances"][1]["equipment_width"] = "70"
    first = tables["equipment"][0]
    first |= {"rating_a": "800"}
    tables["equipment"].append({**first, "tag": "SD-2", "photos": ""})
    tables["clearances"].append({**tables["clearances"][0], "tag": "SD-2"})


def _unused_photo(_job: dict[str, str], _tables: Tables, files: list[str]) -> None:
    files.append("HH_99.jpg")


def _photo_named_after(*tags: str) -> Callable[[dict[str, str], Tables, list[str]], None]:
    def bring_in(_job: dict[str, str], _tables: Tables, files: list[str]) -> None:
        files.append(f"{' and '.join(tags)} front.jpg")

    return bring_in


def _in_a_restroom(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["rooms"][1]["room"] = "Staff restroom"
    for row in tables["equipment"]:
        row["room"] = (
            "Staff restroom"
            if row["tag"] == "LP-1"
            else "Yard"
            if row["room"] == "Plant room"
            else row["room"]
        )


def _lift(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["equipment"].append({**tables["equipment"][2], "tag": "LC-1", "kind": "Lift controller"})


def _tenants(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["equipment"][0] |= {"hand_motions": "4"}
    tables["equipment"].append(
        {
            **tables["equipment"][0],
            "tag": "SD-2",
            "photos": "",
            "remarks": f"Tenant B. {tables['equipment'][0]['remarks']}",
        }
    )
    tables["clearances"].append({**tables["clearances"][0], "tag": "SD-2"})


def _older(job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    job |= {"code_profile": "osha-1910", "year_built": ""}
    tables["clearances"][4] |= {"depth": "32"}


def _pipe_over_the_service(job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    job["code_profile"] = "nec-2020"
    tables["clearances"][0] |= {"items_above": "Pipe"}


def _pipe_high_above(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["clearances"][2] |= {"items_above": "Pipe", "open_above": "8 ft"}


def _meter_in_front(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    tables["clearances"][2] |= {"front_projection": "9", "remarks": "Meter above the panel"}


def _measured_by_another(_job: dict[str, str], tables: Tables, _files: list[str]) -> None:
    first = tables["clearances"][0]
    first["Written by"] = "Inspector A (invented)"
    tables["clearances"].append({**first, "depth": "9 ft", "Written by": "Inspector B (invented)"})


def _last(table: str) -> int:
    return len(TABLES[table])


_T1, _MSB = ("transformers", "T-1"), ("clearances", "MSB")
FAULTS = (
    Fault("job-detail-missing", "job", 0, "inspector", _without_inspector),
    Fault("profile-newer-than-building", "job", 0, "year_built", _older_building),
    typed("missing-value", "equipment", "DP-1", "maker", ""),
    typed("unreadable-value", "clearances", "DP-1", "depth", "knee high"),
    typed("unknown-choice", "equipment", "MCC-1", "touch_test", "beeped twice"),
    typed("read-with-doubt", "equipment", "MSB", "rating_a", "1600A MLO"),
    typed("implausible-value", "clearances", "DP-1", "depth", "40 ft"),
    typed("unit-suspect", "clearances", "DP-1", "depth", "914"),
    typed("formula-overtyped", "equipment", "DP-1", "volts_to_ground", "480"),
    typed("not-visible", "equipment", "MCC-1", "maker", "N/V"),
    typed("room-not-entered", "rooms", "Yard", "access", "Locked"),
    Fault("outside-scope-item", "equipment", _last("equipment"), "kind", _lift),
    added("duplicate-tag", "equipment", TABLES["equipment"][2], "tag"),
    added("duplicate-room", "rooms", TABLES["rooms"][0], "room"),
    typed("unknown-tag", "findings", "DP-1", "subject", "DP-11"),
    typed("unknown-room", "equipment", "MCC-1", "room", "Plant rom"),
    deleted("no-transformer-details", "transformers", "T-1", ("equipment", "T-1", "tag")),
    Fault("measured-differently", "clearances", _last("clearances"), "tag", _measured_by_another),
    added("transformer-details-twice", "transformers", {**TABLES["transformers"][0]}, "tag"),
    added(
        "not-a-transformer", "transformers", {**TABLES["transformers"][0], "tag": "DP-1", "serves": ""}, "tag"
    ),
    deleted("no-clearance-record", "clearances", "DP-1", ("equipment", "DP-1", "tag")),
    Fault("no-service-disconnect", "equipment", 0, "kind", _no_service_disconnect),
    typed("hand-motions-over-six", "equipment", "SD-1", "hand_motions", "7"),
    Fault("service-motions-check", "equipment", 0, "hand_motions", _tenants),
    typed(
        "ground-fault-protection-not-recorded",
        "equipment",
        "SD-1",
        "remarks",
        "Arc-energy relay; sign for the generator",
    ),
    typed("available-fault-current-not-posted", "equipment", "SD-1", "available_fault_ka", ""),
    typed(
        "posted-fault-current-over-rating",
        "equipment",
        "SD-1",
        "available_fault_ka",
        "85",
        found_at=("equipment", "SD-1", "short_circuit_rating_ka"),
    ),
    typed(
        "ground-fault-protection-absent",
        "equipment",
        "SD-1",
        "remarks",
        "No ground-fault relay; arc-energy relay on the door; sign for the generator",
    ),
    typed(
        "arc-energy-reduction-absent",
        "equipment",
        "SD-1",
        "remarks",
        "Ground-fault relay on the door; no maintenance switch seen; sign for the generator",
    ),
    typed(
        "source-sign-absent",
        "equipment",
        "SD-1",
        "remarks",
        "Ground-fault and arc-energy relay on the door. Sign for the generator missing",
    ),
    typed(
        "transformer-disconnect-absent",
        "equipment",
        "T-1",
        "room",
        "Plant room",
        found_at=("equipment", "T-1", "remarks"),
        beside={"remarks": "No disconnect in sight"},
    ),
    Fault("ground-detector-absent", "equipment", _last("equipment"), "remarks", _no_detector),
    typed("rating-far-below-the-service", "equipment", "MSB", "short_circuit_rating_ka", "14"),
    typed("device-larger-than-its-enclosure", "equipment", "SD-1", "main_or_fuse_a", "2000"),
    typed("main-lugs-with-a-rating", "equipment", "LP-1", "main_or_fuse_a", "100"),
    typed("mains-in-one-enclosure", "equipment", "SD-1", "hand_motions", "4"),
    Fault("combined-entrance-check", "clearances", 0, "equipment_width", _side_by_side),
    typed("source-sign-not-recorded", "equipment", "SD-1", "remarks", "Ground-fault and arc-energy relay"),
    typed(
        "arc-energy-reduction-not-recorded",
        "equipment",
        "SD-1",
        "remarks",
        "Ground-fault relay; sign for the generator",
    ),
    Fault(
        "feeder-ground-fault-protection-not-recorded", "equipment", 4, "remarks", _large_behind_a_transformer
    ),
    typed("panel-without-protection", "equipment", "RP-1", "main_device", "Main lugs"),
    Fault("panel-rating-below-source", "equipment", 5, "rating_a", _enclosed_breaker),
    Fault("ground-detector-not-recorded", "equipment", _last("equipment"), "remarks", _delta_service),
    Fault("slash-rating-check", "equipment", _last("equipment"), "voltage_rating", _slash_on_a_delta),
    typed("voltage-rating-below-system", "equipment", "MCC-1", "voltage_rating", "250"),
    typed("door-hardware-missing", "rooms", "Main electrical room", "door_hardware", "Lever or knob"),
    Fault("panel-in-unsuitable-room", "equipment", 5, "room", _in_a_restroom),
    typed("handle-height-check", "clearances", "PVD-1", "equipment_height", "84"),
    typed(
        "transformer-disconnect-not-in-sight",
        "equipment",
        "T-1",
        "room",
        "Plant room",
        found_at=("equipment", "T-1", "remarks"),
    ),
    typed("open-above-unexplained", "clearances", "DP-1", "open_above", "40"),
    typed("touch-test-blind-to-direct-current", "equipment", "INV-1", "touch_test", "No alert"),
    typed("fed-from-unknown", "equipment", "RP-1", "fed_from", "T-11"),
    typed("supply-loop", "equipment", "MSB", "fed_from", "DP-1"),
    typed(
        "service-without-disconnect",
        "equipment",
        "MSB",
        "fed_from",
        "Utility",
        found_at=("equipment", "MSB", "kind"),
    ),
    typed("service-disconnect-cannot-open", "equipment", "SD-1", "main_device", "Main lugs"),
    typed("sources-not-kept-apart", "equipment", "MCC-1", "fed_from", "MSB; GEN-1"),
    Fault("older-allowance-check", "job", 0, "year_built", _older),
    typed("supply-both-ways", "equipment", "MSB", "fed_from", "SD-1; DP-1"),
    typed("voltage-differs-from-source", "equipment", "MCC-1", "voltage", "600"),
    Fault("phase-exceeds-source", "equipment", _last("equipment"), "phase", _single_phase_source),
    Fault("neutral-not-supplied", "equipment", _last("equipment"), "wires", _no_neutral),
    Fault("pv-disconnect-not-recorded", "equipment", 9, "kind", _without_pv_disconnect),
    typed("transfer-switch-one-source", "equipment", "ATS-1", "fed_from", "MSB"),
    typed("voltage-not-recognized", "equipment", "MCC-1", "voltage", "490"),
    typed("phase-wire-conflict", "equipment", "DP-1", "phase", "1"),
    Fault("high-leg-present", "equipment", 4, "voltage", _high_leg),
    typed("rating-not-standard", "equipment", "DP-1", "rating_a", "410"),
    typed("transformer-primary-mismatch", *_T1, "primary_v", "600"),
    typed("transformer-secondary-mismatch", *_T1, "secondary_v", "240"),
    typed("serves-disagrees", *_T1, "serves", "LP-1"),
    typed("secondary-protection-check", "equipment", "RP-1", "rating_a", "350", found_at=(*_T1, "kva")),
    typed("primary-protection-check", "equipment", "T-1", "main_or_fuse_a", "300", found_at=(*_T1, "kva")),
    typed("short-circuit-rating-low", "equipment", "RP-1", "short_circuit_rating_ka", "4"),
    typed("kva-not-standard", *_T1, "kva", "70"),
    typed("direction-disagrees", *_T1, "marked_direction", "Step-up"),
    Fault("isolation-transformer", "transformers", 0, "secondary_v", _isolation),
    typed("impedance-not-recorded", *_T1, "impedance_percent", ""),
    typed("nameplate-photo-missing", *_T1, "nameplate_photo", ""),
    typed("working-depth-short", "clearances", "DP-1", "depth", "41"),
    typed("working-width-short", "clearances", "DP-1", "width", "29"),
    typed("working-height-short", "clearances", "DP-1", "height", "76"),
    typed("working-space-check", "clearances", "T-1", "depth", "18"),
    typed("door-swing-limited", "clearances", "DP-1", "door_opens_90", "No"),
    typed("front-projection-over", "clearances", "DP-1", "front_projection", "9"),
    typed(
        "second-entrance-check",
        "rooms",
        "Main electrical room",
        "entrances",
        "1",
        found_at=(*_MSB, "equipment_width"),
    ),
    typed("dedicated-space-obstructed", "clearances", "DP-1", "items_above", "Pipe"),
    Fault("dedicated-space-check", "clearances", 0, "items_above", _pipe_over_the_service),
    Fault("foreign-piping-above", "clearances", 2, "items_above", _pipe_high_above),
    Fault("front-projection-check", "clearances", 2, "front_projection", _meter_in_front),
    typed("sprinkler-above", "clearances", "DP-1", "items_above", "Sprinkler only"),
    typed("working-space-storage", "clearances", "T-1", "items_in_space", "Storage"),
    typed("touch-test-not-recorded", "equipment", "MCC-1", "touch_test", ""),
    typed("touch-test-alerted", "equipment", "MCC-1", "touch_test", "ALERTED"),
    typed("finding-not-in-library", "findings", "DP-1", "finding", "Bird nest in the gutter"),
    added("finding-duplicated", "findings", TABLES["findings"][0], "finding"),
    typed("finding-without-photo", "findings", "DP-1", "photos", ""),
    typed("finding-disagrees", "findings", "DP-1", "finding", "Working depth too small"),
    typed(
        "not-looked-at-again",
        "clearances",
        "DP-1",
        "last_seen",
        "2025-09-17",
        found_at=("clearances", "DP-1", "this_year"),
    ),
    typed("bad-circuit-directory", "equipment", "DP-1", "circuit_directory", "Outdated"),
    typed("no-working-light", "rooms", _PLANT["room"], "lighting", "No"),
    typed("photo-missing", "findings", "DP-1", "photos", "HH_33.jpg"),
    Fault("photo-unused", "photos", -1, "file", _unused_photo),
    Fault("photo-by-file-name", *_photos_of("MCC-1"), _photo_named_after("mcc1")),
    Fault("photo-subject-unclear", *_photos_of("MSB"), _photo_named_after("MSB", "MCC-1")),
)
