"""What the tool itself relies on in a template, whatever a firm renames.

    SHEETS          sheets that every survey workbook has
    IDENTITY        the column that says what a row of a table speaks of
    NAMES           choices that rules and live cells look for by name
    LIVE_NEEDS      the columns that a live cell computes from

A firm may rename headings and sheets, add and remove columns and choices; these stay, with
any spelling beside them. The loader says so when one is missing.
"""

from __future__ import annotations

from collections.abc import Mapping

from workbook_tools.definitions.model import PRIORITIES

__all__ = ["IDENTITY", "LAYOUTS", "LENGTH_UNITS", "LIVE_NEEDS", "NAMES", "SHEETS"]

LAYOUTS = ("guide", "labels", "table", "lists")
LENGTH_UNITS = ("in", "ft", "mm", "cm", "m")

SHEETS: Mapping[str, str] = {"start": "guide", "job": "labels", "equipment": "table", "lists": "lists"}
"""Key and layout of the sheets that a template cannot do without."""

IDENTITY: Mapping[str, str] = {
    "rooms": "room",
    "equipment": "tag",
    "transformers": "tag",
    "clearances": "tag",
    "findings": "subject",
    "photos": "file",
    "not_inspected": "item",
}

NAMES: Mapping[str, tuple[str, ...]] = {
    "kind": ("Service disconnect", "Panelboard", "Transformer"),
    "yes_no": ("Yes", "No"),
    "phase": ("3", "1"),
    "wires": ("4", "3", "2"),
    "access": ("Entered",),
    "opposite_side": ("Clear", "Grounded", "Live parts"),
    "touch_test": ("No alert", "ALERTED"),
    "circuit_directory": ("Present",),
    "marked_direction": ("Step-down", "Step-up", "Isolation"),
    "items_above": ("None", "Sprinkler only"),
    "items_in_space": ("None",),
    "priority": PRIORITIES,
    "still_so": ("Still so", "Changed"),
    "still_there": ("Still there", "Mended"),
}

_PLATE = ("kva", "primary_v", "secondary_v", "phase")
_FRONT = ("tag", "opposite_side")

LIVE_NEEDS: Mapping[str, tuple[str, ...]] = {
    "row_check": (),
    "volts_to_ground": ("voltage", "phase", "wires"),
    "direction": ("primary_v", "secondary_v"),
    "turns_ratio": ("primary_v", "secondary_v"),
    "primary_a": _PLATE,
    "secondary_a": _PLATE,
    "highest_fault_ka": (*_PLATE, "impedance_percent"),
    "needed_depth": _FRONT,
    "needed_width": ("tag", "equipment_width"),
    "needed_height": ("tag",),
    "clearance_result": (*_FRONT, "depth", "width", "height", "equipment_width"),
    "usual_priority": ("finding",),
    "usual_action": ("finding",),
}
"""The live cells that the workbook can compute, each with the columns of its sheet that it needs."""
