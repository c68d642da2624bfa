"""Electrical facts and arithmetic for surveys of commercial buildings.

Numbers and texts in, numbers out; nothing here knows a workbook. The names below can be
imported from this package; the module that holds one is loaded when it is asked for, so
that a caller pays for what it uses.

    voltage_systems   nominal systems, what a written voltage means, volts to ground
    supply            which system can be fed from which without a transformer
    currents          full-load and fault currents, the limits of transformer protection
    transformers      direction, ratio, listed sizes, impedance, nameplate texts
    ratings           standard ampere ratings
    clearances        needed depth, width, height; entrances; dedicated equipment space
    code_profiles     the numbers of one edition of a code, with their sections
    quantities        lengths as people write them

Not here: conductor or breaker sizes. A survey records; it does not design.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .clearances import (
        CONDITIONS,
        KINDS,
        Limit,
        dedicated_space_top,
        entrances_needed,
        meets,
        needed_depth,
        needed_height,
        needed_width,
        needs_dedicated_space,
        needs_working_space,
        panic_hardware_needed,
        projection_limit,
        wall_counts_as_grounded,
    )
    from .code_profiles import PROFILE_NAMES, CodeProfile, DepthRow, Figure, OlderAllowance, load_profile
    from .currents import (
        ProtectionLimit,
        full_load_current,
        kva_of_load,
        primary_fault_current,
        protection_limits,
        secondary_fault_current,
    )
    from .nominal_systems import SYSTEMS, VoltageSystem, line_to_neutral, nominal_class, volts_to_ground
    from .quantities import UNITS, Length, likely_unit, read_length, write_length
    from .ratings import (
        fuse_only_ratings,
        is_standard,
        next_standard_rating,
        rating_neighbours,
        read_amperes,
        standard_ratings,
    )
    from .supply import Feeding, can_feed
    from .transformers import (
        KVA_SIZES,
        ImpedanceRange,
        TransformerSide,
        direction,
        impedance_expected,
        is_listed_kva,
        kva_neighbours,
        minimum_efficiency,
        minimum_impedance,
        nameplate_impedance_required,
        next_listed_kva,
        read_impedance,
        read_kva,
        read_transformer_side,
        turns_ratio,
        winding_ratio,
    )
    from .voltage_systems import VoltageReading, read_phases, read_voltage, read_wires, write_voltage

_NAMES = {
    "clearances": (
        "CONDITIONS KINDS Limit dedicated_space_top entrances_needed meets needed_depth needed_height needed_width "
        "needs_dedicated_space needs_working_space panic_hardware_needed projection_limit wall_counts_as_grounded"
    ),
    "code_profiles": "PROFILE_NAMES CodeProfile DepthRow Figure OlderAllowance load_profile",
    "currents": (
        "ProtectionLimit full_load_current kva_of_load primary_fault_current protection_limits secondary_fault_current"
    ),
    "nominal_systems": "SYSTEMS VoltageSystem line_to_neutral nominal_class volts_to_ground",
    "quantities": "UNITS Length likely_unit read_length write_length",
    "ratings": (
        "fuse_only_ratings is_standard next_standard_rating rating_neighbours read_amperes standard_ratings"
    ),
    "supply": "Feeding can_feed",
    "transformers": (
        "KVA_SIZES ImpedanceRange TransformerSide direction impedance_expected is_listed_kva kva_neighbours "
        "minimum_efficiency minimum_impedance nameplate_impedance_required next_listed_kva read_impedance read_kva "
        "read_transformer_side turns_ratio winding_ratio"
    ),
    "voltage_systems": "VoltageReading read_phases read_voltage read_wires write_voltage",
}
_MODULE_OF = {name: module for module, names in _NAMES.items() for name in names.split()}

__all__ = [  # noqa: PLE0604 - the names stand once, in the table above
    *_MODULE_OF,
]


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
