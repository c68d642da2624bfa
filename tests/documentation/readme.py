"""The commands that the documentation shows.

    fenced(path)          the command blocks of a page, in order
    commands(path)        their lines, one command each

Run as a program it prints one of the README's first two commands, so that CI runs what
the README says: `python tests/documentation/readme.py demo-command | test-command`.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def fenced(path: Path) -> list[str]:
    return re.findall(r"^```bash\n(.*?)^```", path.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)


def commands(path: Path) -> list[str]:
    return [
        line for block in fenced(path) for line in block.splitlines() if line and not line.startswith("#")
    ]


if __name__ == "__main__":
    demo, test, *_ = fenced(ROOT / "README.md")
    print({"demo-command": demo, "test-command": test}[sys.argv[1]].strip())
