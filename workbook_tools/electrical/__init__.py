"""Electrical facts and arithmetic for surveys of commercial buildings.

Numbers and texts in, numbers out; nothing here knows a workbook. The names below can be
imported from this package; the module that holds one is loaded when it is asked for, so
that a caller pays for what it uses.

    nominal_systems   the table of systems, volts to ground
    voltage_systems   what a written voltage means
    supply            which system can be fed from which without a transformer
    currents          full-load and fault currents, the limits of transformer protection
    transformers      direction, ratio, nameplate texts
    transformer_sizes listed sizes, efficiency, impedance
    ratings           standard ampere ratings
    clearances        needed depth, width, height, and whether a measurement meets it
    equipment_spaces  entrances; working space and dedicated equipment space by kind
    code_profiles     the numbers of one edition of a code, with their sections
    quantities        lengths as people write them

Not here: conductor or breaker sizes. A survey records; it does not design.
"""

_NAMES = {
    "clearances": (
        "CONDITIONS Limit meets needed_depth needed_height needed_width projection_limit wall_counts_as_grounded"
    ),
    "code_profiles": "PROFILE_NAMES CodeProfile DepthRow Figure OlderAllowance load_profile",
    "currents": (
        "ProtectionLimit full_load_current kva_of_load primary_fault_current protection_limits "
        "secondary_fault_current"
    ),
    "equipment_spaces": (
        "KINDS dedicated_space_top entrances_needed needs_dedicated_space needs_working_space panic_hardware_needed"
    ),
    "nominal_systems": "SYSTEMS VoltageSystem high_leg_to_ground line_to_neutral nominal_class volts_to_ground",
    "quantities": "UNITS Length as_quantity likely_unit read_length write_length",
    "ratings": "fuse_only_ratings is_standard next_standard_rating rating_neighbours read_amperes standard_ratings",
    "supply": "Feeding can_feed",
    "transformer_sizes": (
        "FEDERAL_LISTING KVA_SIZES LISTINGS ImpedanceRange impedance_expected is_listed_kva kva_neighbours "
        "minimum_efficiency minimum_impedance nameplate_impedance_required next_listed_kva"
    ),
    "transformers": (
        "TransformerSide direction nameplate_items read_impedance read_kva read_transformer_side turns_ratio winding_ratio"
    ),
    "voltage_systems": "VoltageReading read_voltage write_voltage",
    "voltage_texts": "read_phases read_wires",
}
_MODULE_OF = {name: module for module, names in _NAMES.items() for name in names.split()}

# Type checkers read the same names from __init__.pyi.
__all__ = list(_MODULE_OF)


def __getattr__(name: str) -> object:
    """Load the module that holds the name, on first use."""
    module = _MODULE_OF.get(name)
    if module is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    value: object = getattr(import_module(f"{__name__}.{module}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    """List every name that can be imported from here."""
    return sorted({*globals(), *_MODULE_OF})
