"""Phases and wires that people write behind the volts, close together, are read while standing there."""

from __future__ import annotations

import pytest

from workbook_tools.definitions import load_template
from workbook_tools.electrical import read_voltage
from workbook_tools.live_cells.readable import Readable, transformer_stems
from workbook_tools.live_cells.typed_forms import SPELLING


@pytest.mark.parametrize(
    ("text", "phases", "wires"),
    [
        ("208Y/120 3ph4w", 3, 4),
        ("120/208 3ph/4w", 3, 4),
        ("208Y/120V-3PH-4W", 3, 4),
        ("480/277 3φ4w", 3, 4),
        ("480Y/277 3 PH., 4 W.", 3, 4),
        ("208Y/120V 3∅ 4W", 3, 4),
        ("120/240V 1PH3W", 1, 3),
        ("480V 3P 3W", 3, 3),
        ("240V 1Φ", 1, 0),
    ],
)
def test_what_stands_behind_the_volts_is_read(text: str, phases: int, wires: int) -> None:
    readable = Readable(load_template("office"))
    assert readable.voltage(text) == "known"
    assert (readable.phases_said(text), readable.wires_said(text)) == (phases, wires)
    said = read_voltage(text)
    assert (said.phases or 0, said.wires or 0) == (phases, wires)


def test_a_transformer_in_words_of_somebodys_own_is_left_to_the_check() -> None:
    template = load_template("office")
    vocabulary, stems = template.vocabularies["kind"], transformer_stems(template)
    names = vocabulary.treated_as("Transformer")
    for choice in vocabulary.choices:
        for text in (choice.name, *choice.also_called):
            if choice.name in names:
                assert any(stem in SPELLING.of(f"{text} (dry, old)") for stem in stems), text
    assert not any(stem in SPELLING.of("cupboard") for stem in stems)
