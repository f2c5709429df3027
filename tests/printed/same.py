"""Whether two files are the same, and where not."""

from __future__ import annotations

import io

import pikepdf

_AROUND = 24
_WRAPPING = ("/ObjStm", "/XRef")
"""Streams that only hold other objects or say where they are; they differ whenever anything does."""


def difference(one: bytes, other: bytes) -> str:
    """Empty for the same bytes; else the first byte at which they differ, what is there, and which objects differ."""
    if one == other:
        return ""
    pairs = enumerate(zip(one, other, strict=False))
    at = next((place for place, (left, right) in pairs if left != right), min(len(one), len(other)))
    there = slice(max(0, at - _AROUND), at + _AROUND)
    lengths = f"{len(one)} and {len(other)} bytes, the first different one at {at}"
    return f"{lengths}: {one[there]!r} and {other[there]!r}; different objects: {', '.join(_objects(one, other))}"


def _objects(one: bytes, other: bytes) -> list[str]:
    """The objects that differ by number and type, so far as both files can be read."""
    try:
        left, right = _written(one), _written(other)
    except pikepdf.PdfError:
        return ["not to be read"]
    names = {key: value[0] for key, value in (left | right).items()}
    return [f"{key} {names[key]}".strip() for key in sorted(names) if left.get(key) != right.get(key)] or ["none"]


def _written(data: bytes) -> dict[int, tuple[str, bytes]]:
    with pikepdf.open(io.BytesIO(data)) as file:
        things = {thing.objgen[0]: (_kind(thing), _spelled(thing)) for thing in file.objects}
    return {number: thing for number, thing in things.items() if thing[0] not in _WRAPPING}


def _kind(thing: pikepdf.Object) -> str:
    return str(thing.get("/Type", "")) if isinstance(thing, pikepdf.Dictionary | pikepdf.Stream) else ""


def _spelled(thing: pikepdf.Object) -> bytes:
    stream = thing.read_raw_bytes() if isinstance(thing, pikepdf.Stream) else b""
    facts = thing.stream_dict if isinstance(thing, pikepdf.Stream) else thing
    return facts.unparse(resolved=True) + stream
