"""Files appear whole or not at all.

    whole_file(path)         write beside the target, then put it in its place in one step
    whole_folder(path)       fill a folder beside the target, then let the two change places
    Filling                  the folder to fill, and what became of it
    refuse_what_stands(path) say at once that a file is in the way

A process that dies half-way leaves the target as it was or whole. A file that stands there already is
replaced only when `force` is given; of a folder only what its own list names and nobody has changed.
Unusable says in one sentence why nothing was written.

Not here: the list (contents), how folders change places (exchange).
"""

from __future__ import annotations

import os
import shutil
import signal
import tempfile
import threading
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from workbook_tools.errors import Unusable
from workbook_tools.files.cannot_write import cannot_write, system_error
from workbook_tools.files.contents import LIST, Standing, files_in, hash_of, standing_in, write_list
from workbook_tools.files.exchange import clear_leftovers, exchange, put_back, temporary

__all__ = ["Filling", "refuse_what_stands", "whole_file", "whole_folder"]

_FIRST_NAMED = 3


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
    refuse_what_stands(path, force)
    if path.is_dir():
        raise Unusable(f"{path} is a folder: name a file to write.")
    _refuse_missing_parent(path)
    clear_leftovers(path.parent)
    aside: Path | None = None
    try:
        begins, ends = temporary(path)
        handle, name = tempfile.mkstemp(prefix=begins, suffix=ends, dir=path.parent)
        os.close(handle)
        aside = Path(name)
        yield aside
        _open_to_all(aside, 0o666)
        _onto_the_disk(aside)
        os.replace(aside, path)
    except Exception as error:
        found = system_error(error)
        if found is None:
            raise
        raise cannot_write(path, found, aside) from error
    finally:
        if aside is not None:
            with suppress(OSError):
                aside.unlink()


@dataclass
class Filling:
    """A folder that is being filled.

    `folder` is where to write, `beside` a file that is written beside the folder and goes into its list as a
    remark. Once the folder is in place, `placed` is set, `written` names its files, `kept` what of somebody
    else's lies in it still, and `left_over` is a folder with what came into the old one at the last moment.
    """

    folder: Path
    beside: Path | None = None
    placed: bool = False
    written: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()
    left_over: Path | None = None


@contextmanager
def whole_folder(
    target: str | os.PathLike[str], *, force: bool = False, beside: Path | None = None
) -> Iterator[Filling]:
    """Yield a new folder beside the target; on leaving, put it in the target's place with a list of its files.

    An empty folder may be filled without `force`. With it, the files that the list of a folder names are
    replaced, and whatever else lies there stays in it.

    Raises
    ------
    Unusable
        The target is a file, or holds something and `force` is not given; with it, has no list, or holds a
        file that was changed since or stands where another is to be written. Or nothing can be written.
    """
    path = Path(target)
    if path.exists() and not path.is_dir():
        raise Unusable(f"{path} is a file: name a folder to write to.")
    _refuse_missing_parent(path)
    place = path.resolve() if path.is_symlink() else path
    staging: Path | None = None
    try:
        put_back(place)
        if place.is_dir() and any(place.iterdir()):
            refuse_what_stands(path, force)
            _refuse_what_is_not_ours(path, standing_in(place), beside)
        clear_leftovers(place.parent)
        begins, ends = temporary(place)
        staging = Path(tempfile.mkdtemp(prefix=begins, suffix=ends, dir=place.parent))
        filling = Filling(staging, beside)
        yield filling
        _open_to_all(staging, 0o777)
        write_list(staging, beside)
        with _undisturbed():
            _put_in_place(filling, place, path)
    except Unusable as error:
        # What was written by name stands in the folder that the user named.
        raise Unusable(str(error).replace(str(staging), str(path))) from None
    except Exception as error:
        found = system_error(error)
        if found is None:
            raise
        raise cannot_write(path, found, staging) from error
    finally:
        if staging is not None:
            shutil.rmtree(staging, ignore_errors=True)


def _put_in_place(filling: Filling, place: Path, shown: Path) -> None:
    """Let the filled folder and the old one change places; what is somebody else's goes along first."""
    new = filling.folder
    filling.written = tuple(files_in(new))
    if place.exists() and not any(place.iterdir()):
        place.rmdir()
    if not place.exists():
        os.rename(new, place)
        filling.placed = True
        return
    standing = standing_in(place)
    _refuse_what_is_not_ours(shown, standing, None)
    _refuse_what_is_in_the_way(shown, standing, filling.written)
    for name in standing.others:
        _carry(place / name, new / name)
    exchange(new, place)
    filling.placed, filling.kept = True, standing.others
    if not _emptied(new, [*standing.ours, *standing.others, LIST]):
        left_over = place.with_name(f"{place.name} - came in meanwhile")
        with suppress(OSError):
            os.rename(new, left_over)
            filling.left_over = left_over


def _carry(file: Path, to: Path) -> None:
    """Let a file of somebody else's stand in both folders until they have changed places."""
    to.parent.mkdir(parents=True, exist_ok=True)
    if file.is_dir() and not file.is_symlink():
        to.mkdir()
        return
    try:
        os.link(file, to, follow_symlinks=False)
    except (OSError, NotImplementedError):  # a disk without links
        shutil.copy2(file, to, follow_symlinks=False)


def _emptied(folder: Path, names: Iterable[str]) -> bool:
    """Remove files that are known by name, and the folders they leave empty; say whether nothing else is left."""
    for name in names:
        path = folder / name
        with suppress(OSError):
            path.rmdir() if path.is_dir() and not path.is_symlink() else path.unlink()
    for where, _, _ in os.walk(folder, topdown=False):
        with suppress(OSError):
            os.rmdir(where)
    return not folder.exists()


def refuse_what_stands(path: Path, force: bool = False) -> None:
    """Raise Unusable where something stands at a path and is not to be replaced."""
    if path.exists() and not force:
        raise Unusable(
            f"{path} exists already and was left as it is: choose another name, or add --force to replace it."
        )


def _refuse_what_is_not_ours(path: Path, standing: Standing, beside: Path | None) -> None:
    if not standing.listed:
        raise Unusable(
            f"{path} has no list of its files ({LIST}), so which of them are yours is not known and nothing was replaced: "
            "choose another folder, or move this one away."
        )
    if standing.changed:
        raise Unusable(
            f"{_named(path, standing.changed)} changed since {_it(standing.changed)} written, and nothing was replaced: "
            "move what you want to keep to another place and delete it here, or choose another folder."
        )
    known = standing.beside.get(beside.name) if beside is not None else None
    if beside is not None and known is not None and beside.is_file() and hash_of(beside) != known:
        raise Unusable(
            f"{beside} was changed since it was written, and nothing was replaced: "
            "move it to another place, or choose another folder."
        )


def _refuse_what_is_in_the_way(path: Path, standing: Standing, written: Iterable[str]) -> None:
    new = set(written)
    folders = {parent.as_posix() for name in new for parent in Path(name).parents}
    in_the_way = [
        name
        for name in standing.others
        if name in new | folders or any(parent.as_posix() in new for parent in Path(name).parents)
    ]
    # An empty folder that is to be filled is in nobody's way.
    in_the_way = [
        name
        for name in in_the_way
        if name not in folders or not (path / name).is_dir() or (path / name).is_symlink()
    ]
    if in_the_way:
        raise Unusable(
            f"{_named(path, in_the_way)} not written by this tool and in the way of what is, and nothing was replaced: "
            f"move {'it' if len(in_the_way) == 1 else 'them'} to another place, or choose another folder."
        )


def _named(folder: Path, names: Iterable[str]) -> str:
    """Say the first of some files in a folder, with the word that goes on: "delivery: a.xlsx was"."""
    listed = list(names)
    shown = ", ".join(listed[:_FIRST_NAMED])
    more = f" and {len(listed) - _FIRST_NAMED} more" if len(listed) > _FIRST_NAMED else ""
    return f"In {folder}, {shown}{more} {'was' if len(listed) == 1 else 'were'}"


def _it(names: Iterable[str]) -> str:
    return "it was" if len(list(names)) == 1 else "they were"


def _refuse_missing_parent(path: Path) -> None:
    if not path.parent.is_dir():
        raise Unusable(f"The folder {path.parent} does not exist: make it first, or choose another place.")


@contextmanager
def _undisturbed() -> Iterator[None]:
    """Let whatever interrupts wait until what was begun is done; it lasts some thousandths of a second."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    waiting: list[int] = []
    before = {
        number: handler for number in signal.valid_signals() if callable(handler := signal.getsignal(number))
    }
    for number in before:
        signal.signal(number, lambda caught, _: waiting.append(caught))
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
    for caught in waiting:
        signal.raise_signal(caught)


def _onto_the_disk(path: Path) -> None:
    """Have a full disk say so now: some systems write later, and would lose the old file with the new one."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def _open_to_all(path: Path, mode: int) -> None:
    # Temporary files are made private; what is delivered has the rights any new file would have.
    mask = os.umask(0)
    os.umask(mask)
    os.chmod(path, mode & ~mask)
