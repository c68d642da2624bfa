"""Named tuples for a package that must start fast.

    NamedTuple   a base class like typing.NamedTuple, for the classes of this package

Importing typing (with collections, contextlib and re behind it) takes as long as starting the
interpreter, several times as long as the rest of this package. Type checkers are given
typing.NamedTuple itself; tests hold the two against each other.

Not here: anything that this package does not use, such as renaming or subclasses of subclasses.
"""

from __future__ import annotations

from operator import itemgetter

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

__all__ = ["NamedTuple"]


def _new(cls: Any, *values: Any, **named: Any) -> Any:
    fields, defaults = cls._fields, cls._field_defaults
    if named or len(values) != len(fields):
        rest = fields[len(values) :]
        wrong = [name for name in named if name not in rest]
        missing = [name for name in rest if name not in named and name not in defaults]
        if wrong or missing or len(values) > len(fields):
            what = (
                f"missing {', '.join(missing)}" if missing else f"unexpected {', '.join(wrong) or 'values'}"
            )
            raise TypeError(f"{cls.__name__}: {what}")
        values += tuple(named[name] if name in named else defaults[name] for name in rest)
    return tuple.__new__(cls, values)


def _repr(self: Any) -> str:
    shown = ", ".join(f"{name}={value!r}" for name, value in zip(self._fields, self, strict=True))
    return f"{type(self).__name__}({shown})"


def _replace(self: Any, **named: Any) -> Any:
    return type(self)(**{**self._asdict(), **named})


def _asdict(self: Any) -> dict[str, Any]:
    return dict(zip(self._fields, self, strict=True))


def _getnewargs(self: Any) -> tuple[Any, ...]:
    return tuple(self)


class _FromAnnotations(type):
    """Make a tuple class of the annotated fields; a value in the class body is a default."""

    def __new__(mcls, name: str, bases: tuple[type, ...], namespace: dict[str, Any]) -> Any:
        if not bases:
            return super().__new__(mcls, name, bases, namespace)
        fields = tuple(namespace["__annotations__"])
        body = {
            "__slots__": (),
            "__new__": _new,
            "__repr__": _repr,
            "__getnewargs__": _getnewargs,
            "_replace": _replace,
            "_asdict": _asdict,
            "_fields": fields,
            "_field_defaults": {field: namespace[field] for field in fields if field in namespace},
            "__match_args__": fields,
            **namespace,
            **{field: property(itemgetter(place)) for place, field in enumerate(fields)},
        }
        return super().__new__(mcls, name, (tuple,), body)


class NamedTuple(metaclass=_FromAnnotations):
    """Base class: fields by annotation, as with typing.NamedTuple."""
