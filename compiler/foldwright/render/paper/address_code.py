"""A QR code of a page's address for cards and handouts: dark squares on white, as large as cameras need them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from html import escape

from msgspec import Struct

from foldwright.document.address import as_read
from foldwright.recipe.facts.web import as_uri

MODULE_MM, SMALL_MODULE_MM = 0.5, 0.4
"""How wide a square is, usually and on small papers. Codes that are read in shops have squares of 0.396 to 0.99 mm (GS1
General Specifications, 5.12.3.1, as GS1 UK tells it)."""
QUIET = 4
"""Squares that stay white all round (ISO/IEC 18004, 6.3.8, from memory)."""
_ERROR_LEVEL = "m"
"""About 15 in a hundred of a code may be spoiled (ISO/IEC 18004): a thumb mark, a fold. The next level is larger."""
_MOST_SQUARES = 49
"""Squares across at most: a code of version 8 holds an address of 152 letters; with larger ones a card is a poster
(a reasoned guess)."""


class AddressCode(Struct, frozen=True):
    """The code of an address; `rows` has a text of 0 and 1 for each row of squares. It has one size alone."""

    rows: tuple[str, ...]
    alt: str
    module_mm: float

    @property
    def least_mm(self) -> float:
        """How wide and high it is, with what stays white round it."""
        return (len(self.rows) + 2 * QUIET) * self.module_mm

    @property
    def most_mm(self) -> float:
        return self.least_mm

    @property
    def told_mm(self) -> float:
        return self.least_mm

    def height_at(self, width_mm: float) -> float:
        return width_mm

    def svg_at(self, width_mm: float) -> str:
        """One path, a stretch of each row at a time."""
        side = len(self.rows) + 2 * QUIET
        path = "".join(_stretches(self.rows))
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_mm:.2f}mm" height="{width_mm:.2f}mm" '
            f'viewBox="0 0 {side} {side}" role="img"><title>{escape(self.alt, quote=False)}</title>'
            f'<path fill="#ffffff" d="{_rectangle(0, 0, side, side)}"/><path fill="#000000" d="{path}"/></svg>'
        )


def address_code(address: str, label: str, small: bool) -> AddressCode | None:
    """The code of an address, which `label` says it is; None where there is no address, or one too long for it."""
    uri = as_uri(address)
    rows = _rows(uri) if uri else ()
    module = SMALL_MODULE_MM if small else MODULE_MM
    return AddressCode(rows, f"{label}: {as_read(address)}", module) if rows else None


@cache
def _rows(uri: str) -> tuple[str, ...]:
    from segno import DataOverflowError, make_qr

    try:
        code = make_qr(uri, error=_ERROR_LEVEL)
    except DataOverflowError:
        return ()
    if len(code.matrix) > _MOST_SQUARES:
        return ()
    return tuple("".join(map(str, row)) for row in code.matrix)


def _stretches(rows: tuple[str, ...]) -> Iterator[str]:
    for y, row in enumerate(rows, QUIET):
        x = 0
        for dark in row.split("0"):
            if dark:
                yield _rectangle(x + QUIET, y, x + QUIET + len(dark), y + 1)
            x += len(dark) + 1


def _rectangle(left: int, top: int, right: int, bottom: int) -> str:
    """As a path in the one manner that is drawn at once (`sparing`)."""
    return f"M{left} {top}L{right} {top}L{right} {bottom}L{left} {bottom}Z"
