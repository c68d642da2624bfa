"""Processes of their own, as benchmarks time them.

as_installed(folder)   the environment of a process whose modules lie compiled in that folder
"""

from __future__ import annotations

import os
from pathlib import Path


def as_installed(folder: Path) -> dict[str, str]:
    """Return an environment in which modules are compiled once and kept, as an installer leaves them.

    The first process compiles; one that is timed comes later.
    """
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return environment | {"PYTHONPYCACHEPREFIX": str(folder)}
