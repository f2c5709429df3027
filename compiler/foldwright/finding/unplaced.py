"""A value as it is wherever it stands in the text: what follows from it alone is not worked out anew when the words
before it grow.
"""

from __future__ import annotations

from msgspec import Struct

from foldwright.finding import Place, Said

_PLAIN = (str, int, float, bool, type(None), frozenset)


def unplaced(value: object) -> object:
    """What is said, without where: to compare, and for nothing else."""
    if isinstance(value, _PLAIN):
        return value
    if isinstance(value, tuple):
        return tuple([unplaced(one) for one in value]) if value else value
    if isinstance(value, Said):
        return unplaced(value.value)
    if isinstance(value, Place):
        return None
    if isinstance(value, Struct) and value.__struct_fields__:
        return (type(value), *[unplaced(getattr(value, name)) for name in value.__struct_fields__])
    return value
