"""Makes unit_table.py of units.txt: what is read and reckoned so often that it must not wait for pint.

Run by `python3 compiler/start.py units`.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

from foldwright.measure.amounts import registry

_GROUPS = ("metric", "imperial", "typesetting")
_DIMENSIONS = ("length", "area", "volume", "mass", "paper_weight", "temperature")
_RECKONED = {"length": "millimetre", "paper_weight": "gram_per_square_metre"}
"""The dimensions that are reckoned without pint, and in what."""
_HEAD = '''"""Made of units.txt by `python3 compiler/start.py units`, with pint: mend that file, never this one.

A row: pint's name, what is measured, the group, the spellings, and for lengths and paper weights the exact size in
millimetres or g/m² as a whole number over another.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

# ruff: noqa: E501
# fmt: off
UNITS: Mapping[str, tuple[str, str, str, tuple[str, ...], tuple[int, int] | None]] = MappingProxyType({
'''
_FOOT = """})
\"\"\"Every unit by its symbol.\"\"\"
"""


def unit_table() -> str:
    """The text of unit_table.py."""
    return _HEAD + "".join(_rows(registry())) + _FOOT


def write() -> Path:
    """Writes the table beside units.txt; the path of what was written."""
    path = Path(__file__).with_name("unit_table.py")
    path.write_text(unit_table(), encoding="utf-8")
    return path


def _rows(units: Any) -> Iterator[str]:
    dimensions = {units.get_dimensionality(f"[{name}]"): name for name in _DIMENSIONS}
    groups = {name: group for group in _GROUPS for name in units.get_group(group).members}
    for name, unit in units._units.items():
        # Each unit stands there under all its spellings.
        if name != unit.name or name not in groups:
            continue
        dimension = dimensions[units.get_dimensionality(name)]
        spellings = tuple(dict.fromkeys(_all_spellings(unit)))
        size = _size(units, name, _RECKONED[dimension]) if dimension in _RECKONED else None
        yield f"    {_said(unit.symbol)!r}: {(name, dimension, groups[name], spellings, size)!r},\n"


def _size(units: Any, name: str, of: str) -> tuple[int, int]:
    return Fraction(units.Quantity(Fraction(1), name).to(of).magnitude).as_integer_ratio()


def _all_spellings(unit: Any) -> Iterator[str]:
    """In lower case; a square may be written with a raised 2."""
    for written in (unit.symbol, unit.name, *unit.aliases):
        spelling = _said(written).lower()
        yield spelling
        if spelling.endswith("2"):
            yield spelling[:-1] + "²"


def _said(written: str) -> str:
    if written.isascii() and written.isupper() and len(written) > 1:
        return "".join(unicodedata.lookup(mark.replace("_", " ")) for mark in written.split("__"))
    return written.replace("_per_", "/").replace("_", " ")
