"""The blocks of the sheet Lists and their places.

    Block             a title, headings, and rows of texts, numbers and blanks
    PlacedBlocks      blocks side by side: .add(block), .range(block, column), .cell(name)
    BEYOND, ABSENT    a voltage that no table ends at; what stands where no figure is printed
    or_absent         a figure, or ABSENT where there is none

Not here: which blocks there are (lists, profile_in_use).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from workbook_tools.survey_workbook.layout import FIRST_ROW, Layout, letters

__all__ = ["ABSENT", "BEYOND", "Block", "Entry", "PlacedBlocks", "or_absent"]

BEYOND = 1e12
"""A voltage that no row of a depth table ends at: for rows without an upper end."""

Entry = str | float

ABSENT = "-"
"""What stands where no figure is printed: a blank cell counts as 0 in some programs."""


def or_absent(figure: Entry | None) -> Entry:
    """Return the figure, or ABSENT where there is none."""
    return ABSENT if figure is None else figure


@dataclass
class Block:
    """One block of Lists: a title, headings, and rows of texts, numbers and blanks."""

    name: str
    title: str
    headings: tuple[str, ...]
    rows: list[Sequence[Entry]]
    visible: bool = False
    first_column: int = 0
    formulas: dict[tuple[int, int], str] = field(default_factory=dict)


class PlacedBlocks:
    """Blocks side by side, each where its columns stand."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.template = layout.template
        self.blocks: dict[str, Block] = {}
        self.next_column = 1

    def range(self, block: str, column: int = 0, columns: int = 1) -> str:
        """Return the absolute range of one or more columns of a block."""
        found = self.blocks[block]
        first, last = letters(found.first_column + column), letters(found.first_column + column + columns - 1)
        return (
            f"{self.layout.lists_name}!${first}${FIRST_ROW}:${last}${FIRST_ROW + max(len(found.rows), 1) - 1}"
        )

    def choices(self, vocabulary: str) -> str:
        """Return the range of a vocabulary's choices."""
        return self.range(f"choices {vocabulary}")

    def cell(self, name: str) -> str:
        """Return the cell of a figure of the code profile in use."""
        row = [entry[0] for entry in self.blocks["in use"].rows].index(name)
        return (
            f"{self.layout.lists_name}!${letters(self.blocks['in use'].first_column + 1)}${FIRST_ROW + row}"
        )

    def add(self, block: Block) -> Block:
        """Put a block behind the others and return it."""
        block.first_column = self.next_column
        self.next_column += len(block.headings) + 1
        self.blocks[block.name] = block
        return block
