"""Every published or derived value that the electrical core can answer.

Source: check_values.csv among the test data; each row names its own source (keys in sources.csv),
how sure it is and what it rests on. Rows that this core does not answer are listed below with the
reason, by quantity or by row, so that no row is passed over in silence.
"""

import csv
import re
from datetime import date
from pathlib import Path

import pytest

from workbook_tools import electrical as e

REFERENCE = Path(__file__).parents[1] / "data" / "reference"
with open(REFERENCE / "check_values.csv", encoding="utf-8", newline="") as table:
    ROWS = list(csv.DictReader(table))

NOT_ANSWERED_ROWS = {
    "CLR-075": "29 CFR 1926.403 (construction) is no profile of ours: the survey looks at buildings in use",
}
NOT_ANSWERED_QUANTITIES = {
    **dict.fromkeys(
        ("state_service_limits", "c84_limits_120V_base"),
        "tolerances of a measured voltage; the survey measures none",
    ),
    "usual_service_voltage_by_load": "a design habit; the survey does not design",
    "efficiency_rule_change_dates": "dates of a rule, a text; minimum_efficiency applies them",
    **dict.fromkeys(
        ("service_ground_fault_protection_required", "ground_fault_pickup_max", "ground_fault_delay_max"),
        "ground-fault protection is not recorded",
    ),
    "breaker_voltage_rating_ok": "the voltage rating of a device is not recorded",
    **dict.fromkeys(("z_base", "z_ohm"), "impedance in ohms is used nowhere"),
    "tolerance_multiplier_printed": "one maker's shortcut, 1.075; we divide by 0.925",
    "iec60909_is_not_infinite_bus": "another standard's result, listed as no check of ours",
    **dict.fromkeys(
        (
            "handle_height_max", "handle_height_ok", "service_disconnect_count_ok",
            "feeder_supplied_building_disconnects_max", "service_rating_min", "in_sight_distance_max",
            "pv_disconnect_switches_max", "pv_disconnect_marking", "breaker_unmarked_interrupting_rating",
            "up_is_on_rule_applies",
        ),
        "arrangement of disconnects: findings, no arithmetic",
    ),
    **dict.fromkeys(
        (
            "receptacle_near_indoor_service_max", "raceway_rise_above_enclosure_bottom_max",
            "bottom_entry_space_insulated_bus", "bottom_entry_space_bare_bus",
            "open_switchboard_to_combustible_ceiling", "cabinet_setback_noncombustible_max",
            "gap_around_flush_cabinet_max", "wet_location_air_space_min",
            "screw_projection_into_wiring_space_max", "metal_plug_recess_in_nonmetallic_min",
            "fmc_strap_from_box_max", "fmc_strap_spacing_max", "lfmc_strap_from_box_max",
            "lfmc_strap_spacing_max", "emt_strap_spacing_max", "fmc_flexible_length_small",
            "fmc_flexible_length_medium", "fmc_flexible_length_large", "fmc_luminaire_length",
            "emergency_disconnect_letter_height", "detailed_arc_flash_label_required",
            "hollow_space_transformer_allowed", "one_hour_transformer_room_required",
            "dry_type_to_combustible_min",
        ),
        "enclosures, raceways and rooms: findings, no arithmetic",
    ),
    **dict.fromkeys(
        (
            "unqualified_approach_min", "test_instrument_calibration_max", "energized_work_threshold",
            "limited_approach_fixed_151_750V", "restricted_approach_151_750V", "uniformat_title",
        ),
        "scope and safety of the survey, no electrical arithmetic",
    ),
    **dict.fromkeys(
        (
            "inline_list_length_max", "prompt_length_max", "error_text_length_max", "error_title_length_max",
            "prompt_title_length_max", "sqref_areas_max", "rows_max", "columns_max", "hyperlinks_per_sheet_max",
            "sheet_name_length_max", "cell_text_length_max", "formula_cached_value_when_library_only_writes",
            "cobie_column_count", "cobie_key", "cobie_reference", "table_schema_required_property",
            "field_required_property", "missingValues_default", "fieldsMatch_default", "data_package_file",
            "data_package_required_property", "resource_exactly_one_of",
        ),
        "workbook and data formats; this core knows no workbook",
    ),
}  # fmt: skip

PROFILES = {"NEC2023": "nec-2023", "OSHA1910-S1": "osha-1910", "2023": "nec-2023", "2020": "nec-2020"}
OPPOSITE = {word: opposite for opposite, words in e.CONDITIONS.items() for word in words}
INCHES = {"in": 1, "ft": 12}


class Inputs(dict):
    """The inputs of a row; numbers come out as numbers, remarks in brackets left out."""

    def __getitem__(self, name):
        text = re.sub(r"\s*\(.*\)$", "", super().__getitem__(name))
        try:
            number = float(text)
        except ValueError:
            return text
        return int(number) if number == int(number) else number

    @property
    def volts(self):
        return self["v_ll" if "v_ll" in self else "v"]


def inch(number):
    return e.Length(number, "in")


def system_of(inputs):
    key, _, remark = inputs["system"].partition(" ")
    return e.SYSTEMS[f"{key}-corner" if remark == "corner-grounded" else key]


def limit_of(inputs, case, side):
    amps = e.full_load_current(inputs["kva"], inputs[side], inputs["phases"])
    return e.protection_limits(amps, case, fuse=inputs.get("device") == "fuse").largest_device


def percent_of(inputs):
    case, _, size = inputs["case"].partition(", ")
    amps = {"": 20.0, "9 A or more": 9.0, "under 9 A": 8.99, "under 2 A": 1.99}[size]
    return e.protection_limits(amps, case.removesuffix(" protection")).percent


def depth_of(inputs, profile, **more):
    limit = e.needed_depth(profile, inputs["v_to_ground"], OPPOSITE[str(inputs["condition"])], **more)
    return limit.inches


def fault_of(inputs, **more):
    return e.secondary_fault_current(inputs["kva"], inputs.volts, inputs["phases"], inputs["z_pct"], **more)


def direction_of(inputs):
    sides = [e.read_transformer_side(str(inputs[side])).line_volts for side in ("primary", "secondary")]
    return e.direction(*sides)


def entrances_of(i):
    doubled, open_way = bool(i["depth_doubled"]), bool(i["unobstructed_egress"])
    return e.entrances_needed(
        "nec-2023", i["amps"], inch(i["width_in"]), depth_doubled=doubled, unobstructed_egress=open_way
    )


def current_of(i):
    return e.full_load_current(i["kva"], i.volts, i["phases"])


NEC = e.load_profile("nec-2023")
ANSWERS = {
    "working_space_depth": lambda i: depth_of(i, PROFILES[i["edition"]]),
    "working_space_depth_pre1981": lambda i: depth_of(i, "osha-1910", year_built=1980),
    "working_space_depth_by_system": lambda i: (
        e.needed_depth(NEC, e.volts_to_ground(system_of(i)), OPPOSITE[str(i["condition"])]).inches
    ),
    "working_space_width": lambda i: e.needed_width(NEC, inch(i["equipment_width_in"])).inches,
    "working_space_height": lambda i: (
        e.needed_height(PROFILES[i["edition"]], inch(i["equipment_height_in"])).inches
    ),
    "headroom": lambda i: e.needed_height("osha-1910", year_built=date.fromisoformat(i["built"])).inches,
    "projection_limit": lambda i: e.projection_limit(NEC).inches,
    "door_swing_min": lambda i: NEC.door_opening_degrees,
    "rear_nonelectrical_space": lambda i: NEC.rear_access.inches,
    "entrances_required": entrances_of,
    "large_gear_entrance_width": lambda i: NEC.entrance_width.inches,
    "large_gear_entrance_height": lambda i: NEC.entrance_height.inches,
    "panic_hardware_required": lambda i: e.panic_hardware_needed(
        NEC, i["amps"], e.Length(i["door_distance_ft"], "ft")
    ),
    "dedicated_space_top": lambda i: e.dedicated_space_top(
        NEC, i["equipment_top_in"], i["structural_ceiling_in"]
    ),
    "wall_counts_as_grounded": lambda i: e.wall_counts_as_grounded(i["material"]),
    "exact_metric_of_printed_pair": lambda i: e.read_length(i["inch_side"]).millimetres,
    "line_to_neutral_of_wye": lambda i: e.line_to_neutral(i["v_ll"]),
    "high_leg_to_ground": lambda i: e.high_leg_to_ground(i["v_ll"]),
    "max_voltage_to_ground": lambda i: e.volts_to_ground(system_of(i)),
    "phases_and_wires": lambda i: f"{system_of(i).phases}P{system_of(i).wires}W",
    "parse_spelling": lambda i: e.read_voltage(str(i["text"])).system.key,
    "utilization_nameplate": lambda i: next(
        plate for plate in (115, 200, 230, 460, 575) if e.nominal_class(plate) == i["system"]
    ),
    "full_load_current": current_of,
    "full_load_current_printed": current_of,
    "nominal_full_load_current_printed": current_of,
    "kva_of_load": lambda i: e.kva_of_load(i["amps"], i["v_ll"], i["phases"]),
    "next_standard_kva": lambda i: e.next_listed_kva(i["load_kva"], i["phases"]),
    "in_federal_low_voltage_dry_type_table": lambda i: e.is_listed_kva(
        i["kva"], i["phases"], e.FEDERAL_LISTING
    ),
    "min_efficiency": lambda i: e.minimum_efficiency(i["kva"], i["phases"], i["made"]),
    "min_efficiency_interpolated": lambda i: e.minimum_efficiency(i["kva"], i["phases"], i["made"]),
    "transformer_direction": direction_of,
    "next_standard_rating": lambda i: e.next_standard_rating(i["amps"], PROFILES[str(i["edition"])]),
    "standard_rating_count": lambda i: len(e.standard_ratings("nec-2023")),
    "is_standard_breaker_rating": lambda i: e.is_standard(i["amps"], PROFILES[str(i["edition"])]),
    "is_standard_fuse_rating": lambda i: e.is_standard(i["amps"], PROFILES[str(i["edition"])], fuse=True),
    "table_450_3_B_percent": percent_of,
    "max_primary_only_device": lambda i: limit_of(i, "primary only", "primary"),
    "max_primary_with_secondary_device": lambda i: limit_of(i, "primary with secondary", "primary"),
    "max_secondary_device": lambda i: limit_of(i, "secondary", "secondary"),
    "infinite_bus_secondary_fault": fault_of,
    "infinite_bus_primary_fault": lambda i: e.primary_fault_current(
        i["kva"], i["v"], i["phases"], i["z_pct"]
    ),
    "ratio_of_fault_currents": lambda i: (
        e.secondary_fault_current(75, 208, 3, i["z_a"]) / e.secondary_fault_current(75, 208, 3, i["z_b"])
    ),
    "fault_with_finite_source": lambda i: fault_of(i, source_mva=i["source_mva"]),
    "fault_with_minus_tolerance": lambda i: fault_of(i, tolerance_percent=i["tolerance"]),
    "minimum_impedance_by_base_kva": lambda i: e.minimum_impedance(i["kva"]),
    "nameplate_impedance_required": lambda i: e.nameplate_impedance_required(i["kva"]),
}


def answered(row):
    return row["id"] not in NOT_ANSWERED_ROWS and row["quantity"] not in NOT_ANSWERED_QUANTITIES


def inputs_of(row):
    pairs = (pair.split("=", 1) for pair in row["inputs"].split("; ") if "=" in pair)
    return Inputs((name.strip(), value) for name, value in pairs)


ANSWERED = [row for row in ROWS if answered(row)]


@pytest.mark.parametrize("row", ANSWERED, ids=lambda row: row["id"])
def test_the_core_gives_the_listed_value(row):
    found = ANSWERS[row["quantity"]](inputs_of(row))
    if isinstance(found, str):
        assert found == row["expected"]
        return
    expected, tolerance = float(row["expected"]), float(row["tolerance"])
    if row["quantity"].startswith("working_space_depth"):
        expected *= INCHES[row["unit"]]
    assert abs(found - expected) <= tolerance + 1e-9, f"{row['source']}: {row['note']}"


def test_no_row_is_passed_over_in_silence():
    quantities = {row["quantity"] for row in ROWS}
    assert set(ANSWERS) | set(NOT_ANSWERED_QUANTITIES) == quantities
    assert not set(ANSWERS) & set(NOT_ANSWERED_QUANTITIES)
    assert set(NOT_ANSWERED_ROWS) <= {row["id"] for row in ROWS}
    assert len(ANSWERED) > 0.6 * len(ROWS)
