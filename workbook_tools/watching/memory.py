"""What was found in earlier rounds, kept in the folder, so that what is unchanged is not checked again.

    Memory.read(folder, made_with)   what an earlier process found; nothing where its file is damaged
    memory.known(name, hash)         what is known of a file with this content
    memory.keep(folder)              write it down, where anything has changed

Files are known by the hash of their content: time and place may change, as in a folder that is copied.
What another version of this tool or another template found counts as unknown.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, field, fields
from pathlib import Path
from typing import Any

from workbook_tools.files import whole_file
from workbook_tools.watching.outcomes import Outcome

__all__ = ["MEMORY", "Known", "Memory"]

MEMORY = ".state of the surveys.json"
_MOST_BYTES = 100_000_000


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of a file as long as its content is the same: an outcome, or what it is instead of a survey."""

    hash: str
    checked: str = ""
    outcome: Outcome | None = None
    instead: str = ""


@dataclass
class Memory:
    """What is known of each file, by its name in the folder ("north/Harbour House.xlsx")."""

    made_with: str
    files: dict[str, Known] = field(default_factory=dict)
    _written: str = ""

    @classmethod
    def read(cls, folder: Path, made_with: str) -> Memory:
        """Return what an earlier process wrote down; a file that is damaged or of another version counts for nothing."""
        memory = cls(made_with)
        path = folder / MEMORY
        try:
            if path.stat().st_size <= _MOST_BYTES:
                text = path.read_text(encoding="utf-8")
                kept = json.loads(text)
                if kept["made_with"] == made_with:
                    memory.files = {name: _known(one) for name, one in kept["files"].items()}
                    memory._written = text
        except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
            memory.files = {}
        return memory

    def known(self, name: str, digest: str) -> Known | None:
        """Return what is known of a file with this content."""
        found = self.files.get(name)
        return found if found is not None and found.hash == digest else None

    def keep(self, folder: Path) -> None:
        """Write it down where anything has changed.

        Raises
        ------
        Unusable
            It cannot be written.
        """
        kept = {
            "made_with": self.made_with,
            "files": {name: asdict(one) for name, one in sorted(self.files.items())},
        }
        text = json.dumps(kept, indent=1) + "\n"
        if text != self._written:
            with whole_file(folder / MEMORY, force=True) as path:
                path.write_text(text, encoding="utf-8")
            self._written = text


def _known(kept: Any) -> Known:
    outcome = kept["outcome"]
    return Known(
        _text(kept["hash"]),
        _text(kept["checked"]),
        None if outcome is None else _outcome(outcome),
        _text(kept["instead"]),
    )


def _outcome(kept: Any) -> Outcome:
    texts = {one.name: _text(kept[one.name]) for one in fields(Outcome) if one.type == "str"}
    return Outcome(
        **texts, needs_attention=bool(kept["needs_attention"]), said=tuple(map(_text, kept["said"]))
    )


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value
