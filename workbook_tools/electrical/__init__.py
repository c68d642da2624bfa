"""Electrical facts and arithmetic for surveys of commercial buildings.

Numbers and texts in, numbers out; nothing here knows a workbook.

    nominal_systems   the table of systems, nominal classes
    voltage_systems   what a written voltage means
    voltage_ratings   what equipment itself is marked for
    supply            which system can be fed from which without a transformer, volts to ground
    currents          full-load and fault currents, the limits of transformer protection
    transformers      direction, ratio, the voltage of one side
    transformer_sizes listed sizes, efficiency, impedance
    ratings           standard ampere ratings
    clearances        needed depth, width, height, and whether a measurement meets it
    equipment_spaces  entrances; working space and dedicated equipment space by kind
    code_profiles     the numbers of one edition of a code, with their sections
    quantities        lengths as people write them
    written_signs     look-alike quotes, dashes, spaces and fractions

Not here: conductor or breaker sizes. A survey records; it does not design.
"""

from workbook_tools.electrical.clearances import (
    CONDITIONS,
    Limit,
    least_depth,
    meets,
    needed_depth,
    needed_height,
    needed_width,
    projection_limit,
    wall_counts_as_grounded,
)
from workbook_tools.electrical.code_profiles import (
    CodeNumber,
    CodeProfile,
    Figure,
    HighVoltage,
    Requirement,
    load_profile,
)
from workbook_tools.electrical.currents import (
    CENTRE_TAP_FACTOR,
    LOW_IMPEDANCE_PERCENT,
    SMALL_KVA,
    ProtectionLimit,
    full_load_current,
    highest_fault_current,
    impedance_tolerance,
    kva_of_load,
    primary_fault_current,
    protection_limits,
    secondary_fault_current,
)
from workbook_tools.electrical.equipment_spaces import (
    KINDS,
    SHOW_THEIR_RATING,
    dedicated_space_top,
    entrances_needed,
    holds_devices,
    needs_dedicated_space,
    needs_working_space,
    panic_hardware_needed,
    shows_its_rating,
)
from workbook_tools.electrical.nominal_systems import (
    SYSTEMS,
    VoltageSystem,
    high_leg_to_ground,
    line_to_neutral,
    nominal_class,
)
from workbook_tools.electrical.profile_files import (
    PROFILE_NAMES,
    profile_spellings,
)
from workbook_tools.electrical.quantities import (
    Length,
    likely_unit,
    read_length,
    write_length,
)
from workbook_tools.electrical.ratings import (
    fuse_only_ratings,
    is_standard,
    next_standard_rating,
    rating_neighbours,
    standard_ratings,
)
from workbook_tools.electrical.supply import (
    Feeding,
    can_feed,
    taken_on_its_plate,
    volts_to_ground,
)
from workbook_tools.electrical.transformer_sizes import (
    FEDERAL_LISTING,
    KVA_SIZES,
    is_listed_kva,
    kva_neighbours,
    minimum_efficiency,
    minimum_impedance,
    nameplate_impedance_required,
    next_listed_kva,
)
from workbook_tools.electrical.transformers import (
    TransformerSide,
    direction,
    read_transformer_side,
    turns_ratio,
)
from workbook_tools.electrical.voltage_ratings import (
    VoltageRating,
    read_voltage_rating,
)
from workbook_tools.electrical.voltage_systems import (
    VoltageReading,
    read_voltage,
)
from workbook_tools.electrical.voltage_texts import (
    read_phases,
    read_wires,
)
from workbook_tools.electrical.written_signs import (
    FRACTION_SIGNS,
    PLAIN_SIGNS,
)

__all__ = [
    "CENTRE_TAP_FACTOR",
    "CONDITIONS",
    "FEDERAL_LISTING",
    "FRACTION_SIGNS",
    "KINDS",
    "KVA_SIZES",
    "LOW_IMPEDANCE_PERCENT",
    "PLAIN_SIGNS",
    "PROFILE_NAMES",
    "SHOW_THEIR_RATING",
    "SMALL_KVA",
    "SYSTEMS",
    "CodeNumber",
    "CodeProfile",
    "Feeding",
    "Figure",
    "HighVoltage",
    "Length",
    "Limit",
    "ProtectionLimit",
    "Requirement",
    "TransformerSide",
    "VoltageRating",
    "VoltageReading",
    "VoltageSystem",
    "can_feed",
    "dedicated_space_top",
    "direction",
    "entrances_needed",
    "full_load_current",
    "fuse_only_ratings",
    "high_leg_to_ground",
    "highest_fault_current",
    "holds_devices",
    "impedance_tolerance",
    "is_listed_kva",
    "is_standard",
    "kva_neighbours",
    "kva_of_load",
    "least_depth",
    "likely_unit",
    "line_to_neutral",
    "load_profile",
    "meets",
    "minimum_efficiency",
    "minimum_impedance",
    "nameplate_impedance_required",
    "needed_depth",
    "needed_height",
    "needed_width",
    "needs_dedicated_space",
    "needs_working_space",
    "next_listed_kva",
    "next_standard_rating",
    "nominal_class",
    "panic_hardware_needed",
    "primary_fault_current",
    "profile_spellings",
    "projection_limit",
    "protection_limits",
    "rating_neighbours",
    "read_length",
    "read_phases",
    "read_transformer_side",
    "read_voltage",
    "read_voltage_rating",
    "read_wires",
    "secondary_fault_current",
    "shows_its_rating",
    "standard_ratings",
    "taken_on_its_plate",
    "turns_ratio",
    "volts_to_ground",
    "wall_counts_as_grounded",
    "write_length",
]
