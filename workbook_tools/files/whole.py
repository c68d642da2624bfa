"""Files appear whole or not at all.

    whole_file(path)      write beside the target, then put it in its place in one step
    whole_folder(path)    fill a folder beside the target, then put it in its place

A process that dies half-way leaves the target as it was. What stands there already is
replaced only when `force` is given. Unusable says in one sentence why nothing was written.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Collection, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from workbook_tools.errors import Unusable

__all__ = ["whole_file", "whole_folder"]


@contextmanager
def whole_file(target: str | os.PathLike[str], *, force: bool = False) -> Iterator[Path]:
    """Yield a temporary path beside the target; on leaving, put it in the target's place.

    Raises
    ------
    Unusable
        The target exists and `force` is not given, is a folder, its folder is missing, or
        nothing can be written there.

    Examples
    --------
    >>> import tempfile
    >>> folder = Path(tempfile.mkdtemp())
    >>> with whole_file(folder / "a.txt") as path:
    ...     _ = path.write_text("whole")
    >>> (folder / "a.txt").read_text()
    'whole'
    """
    path = Path(target)
    _refuse_what_stands_there(path, force)
    if path.is_dir():
        raise Unusable(f"{path} is a folder: name a file to write.")
    _refuse_missing_parent(path)
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.name[:40]}.", suffix=path.suffix, dir=path.parent)
    except OSError as error:
        raise _unwritable(path, error) from None
    os.close(handle)
    temporary = Path(name)
    try:
        yield temporary
        _open_to_all(temporary, 0o666)
        try:
            os.replace(temporary, path)
        except OSError as error:
            raise _unwritable(path, error) from None
    except OSError as error:
        raise _unwritable(path, error) from error
    finally:
        with suppress(FileNotFoundError):
            temporary.unlink()


@contextmanager
def whole_folder(
    target: str | os.PathLike[str], *, force: bool = False, ours: Collection[str] = ()
) -> Iterator[Path]:
    """Yield a new folder beside the target; on leaving, put it in the target's place.

    With `force` the files of a folder that stands there are replaced one for one; whatever
    else lies in it stays in it, except the names in `ours`: what an earlier run made and this
    one did not. An empty folder may be filled without `force`.
    """
    path = Path(target)
    if path.exists() and not path.is_dir():
        raise Unusable(f"{path} is a file: name a folder to write to.")
    if path.is_dir() and any(path.iterdir()):
        _refuse_what_stands_there(path, force)
    _refuse_missing_parent(path)
    try:
        staging = Path(tempfile.mkdtemp(prefix=f".{path.name[:40]}.", dir=path.parent))
    except OSError as error:
        raise _unwritable(path, error) from None
    try:
        yield staging
        _open_to_all(staging, 0o777)
        try:
            _put_in_place(staging, path, ours)
        except OSError as error:
            raise _unwritable(path, error) from None
    finally:
        shutil.rmtree(staging, ignore_errors=True)


def _put_in_place(staging: Path, path: Path, ours: Collection[str]) -> None:
    if not path.exists():
        os.rename(staging, path)
        return
    aside = Path(tempfile.mkdtemp(prefix=f".{path.name[:40]}.old.", dir=path.parent))
    old = aside / path.name
    os.rename(path, old)
    try:
        os.rename(staging, path)
    except OSError:
        os.rename(old, path)
        os.rmdir(aside)
        raise
    for entry in old.iterdir():
        if entry.name not in ours and not (path / entry.name).exists():
            os.rename(entry, path / entry.name)
    shutil.rmtree(aside, ignore_errors=True)


def _refuse_what_stands_there(path: Path, force: bool) -> None:
    if path.exists() and not force:
        raise Unusable(
            f"{path} exists already and was left as it is: choose another name, or add --force to replace it."
        )


def _refuse_missing_parent(path: Path) -> None:
    if not path.parent.is_dir():
        raise Unusable(f"The folder {path.parent} does not exist: make it first, or choose another place.")


def _unwritable(path: Path, error: OSError) -> Unusable:
    return Unusable(
        f"{path} cannot be written ({(error.strerror or str(error)).lower()}): close it if it is open, "
        "or choose a place where you may write."
    )


def _open_to_all(path: Path, mode: int) -> None:
    # Temporary files are made private; what is delivered has the rights any new file would have.
    mask = os.umask(0)
    os.umask(mask)
    os.chmod(path, mode & ~mask)
