"""Named tuples that cost little to define.

`typing.NamedTuple` compiles code for every class, about 0.2 ms each; a check defines over a hundred before it reads its
first line. A Record is the same to its users (fields, defaults, `_replace`, equality and order of a tuple) and to the
type checker, which sees `typing.NamedTuple` itself; it is made in about a tenth of the time.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

WORTH_COMPILING: Final = 100
"""Makings after which a class gets a constructor of its own, which costs about as much as these gain by it."""

if TYPE_CHECKING:
    from typing import NamedTuple as Record
else:
    from collections import _tuplegetter
    from operator import itemgetter

    _new = tuple.__new__

    class _Maker(type):
        """Makes a class of the annotations in its body."""

        def __new__(meta, name, bases, body):
            if not bases:
                return super().__new__(meta, name, bases, body)
            fields = tuple(body.get("__annotations__", ()))
            defaults = tuple(body[field] for field in fields if field in body)
            count, least = len(fields), len(fields) - len(defaults)
            for field in fields[least:]:
                if field not in body:
                    raise TypeError(f"in {name} a field without a default follows one with a default")
            known = dict(zip(fields[least:], defaults, strict=True))
            values_of = itemgetter(*fields) if count > 1 else lambda filled: [filled[field] for field in fields]

            makes = WORTH_COMPILING

            def make(cls, *values, **named):
                nonlocal makes
                makes -= 1
                if not makes:
                    cls.__new__ = staticmethod(_compiled(fields, known))
                given = len(values)
                if not named:
                    if given == count:
                        return _new(cls, values)
                    if least <= given < count:
                        return _new(cls, values + defaults[given - least :])
                elif named.keys().isdisjoint(fields[:given]):
                    filled = (
                        {**known, **dict(zip(fields, values, strict=False)), **named} if len(named) < count else named
                    )
                    if len(filled) == count:
                        try:
                            return _new(cls, values_of(filled))
                        except KeyError:
                            pass
                raise TypeError(f"{name} takes {', '.join(fields)}")

            body["__new__"] = make
            body.update((field, _tuplegetter(place, "")) for place, field in enumerate(fields))
            body.setdefault("__slots__", ())
            body["_fields"] = body["__match_args__"] = fields
            return super().__new__(meta, name, (_Tuple,), body)

    def _compiled(fields, known):
        """A constructor of its own for a class that is made often, as `typing.NamedTuple` compiles for every class."""
        given = ", ".join(f"{field}=known[{field!r}]" if field in known else field for field in fields)
        source = f"lambda cls, {given}: new(cls, ({' '.join(f'{field},' for field in fields)}))"
        return eval(source, {"new": _new, "known": known})

    class _Tuple(tuple):
        """What all records can do."""

        __slots__ = ()
        _fields = ()

        def _replace(self, /, **changes):
            values = list(self)
            fields = self._fields
            for field, value in changes.items():
                values[fields.index(field)] = value
            return _new(type(self), values)

        def _asdict(self):
            return dict(zip(self._fields, self, strict=True))

        def __repr__(self):
            shown = ", ".join(f"{field}={value!r}" for field, value in zip(self._fields, self, strict=True))
            return f"{type(self).__name__}({shown})"

        def __getnewargs__(self):
            return tuple(self)

    class Record(metaclass=_Maker):
        """The base that a record names; its classes are tuples."""


__all__ = ["Record"]
