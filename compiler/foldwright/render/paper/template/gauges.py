"""What a printer is checked with: a ruler in inches and millimetres, and the outline of a bank card."""

from __future__ import annotations

from html import escape

from foldwright.render.drawing.pens import FINE, FINE_INK, INK, SCORE
from foldwright.render.units import MM_PER_INCH

CARD_WIDE, CARD_HIGH, _CARD_ROUND = 85.60, 53.98, 3.18
"""Millimetres: an identification card of size ID-1 (ISO/IEC 7810), its corners rounded by the nominal radius."""
RULER_HIGH = 13.0
_INCH_TICKS = {16: 5.0, 8: 3.8, 4: 2.8, 2: 2.0, 1: 1.3}
"""How long the tick is by how many sixteenths it is a multiple of."""
_MM_TICKS = {10: 5.0, 5: 3.4, 1: 2.0}
_TEXT = 2.85
_MIDDLE = 6.5
"""Where the line lies from which inches are counted above and millimetres below."""
_MARGIN = 1.0


def ruler_svg(room: float, title: str) -> tuple[str, float]:
    """A ruler of as many whole inches and centimetres as `room` millimetres hold, and its picture's width."""
    inches, centimetres = int((room - 4) / MM_PER_INCH), int((room - 4) / 10)
    long = max(inches * MM_PER_INCH, centimetres * 10.0)
    wide = long + 2 * _MARGIN + 2.5
    ticks: list[str] = []
    texts: list[str] = []
    for sixteenth in range(inches * 16 + 1):
        x = _MARGIN + sixteenth * MM_PER_INCH / 16
        tall = next(tall for many, tall in _INCH_TICKS.items() if sixteenth % many == 0)
        ticks.append(f"M{x:.3f} {_MIDDLE}V{_MIDDLE - tall:.3f}")
        if sixteenth % 16 == 0 and sixteenth:
            texts.append(_text(x - 0.6, _MIDDLE - 2.9, f"{sixteenth // 16}{' in' if sixteenth == 16 else ''}"))
    for millimetre in range(centimetres * 10 + 1):
        x = _MARGIN + millimetre
        tall = next(tall for many, tall in _MM_TICKS.items() if millimetre % many == 0)
        ticks.append(f"M{x:.3f} {_MIDDLE}V{_MIDDLE + tall:.3f}")
        if millimetre % 10 == 0 and millimetre:
            texts.append(_text(x - 0.6, _MIDDLE + 5.4, f"{millimetre}{' mm' if millimetre == 10 else ''}"))
    line = f"M{_MARGIN} {_MIDDLE}H{_MARGIN + long:.3f}"
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:.3f}mm" height="{RULER_HIGH}mm" '
        f'viewBox="0 0 {wide:.3f} {RULER_HIGH}" role="img" font-family="Foldwright Sans">'
        f"<title>{escape(title, quote=False)}</title>"
        f'<path fill="none" stroke="{INK}" stroke-width="{FINE}" d="{line}{"".join(ticks)}"/>{"".join(texts)}</svg>'
    )
    return svg, wide


def _text(x: float, y: float, text: str) -> str:
    return f'<text x="{x:.2f}" y="{y:.2f}" font-size="{_TEXT}" text-anchor="end" fill="{INK}">{text}</text>'


def card_svg(title: str, edge: float, turned: bool) -> str:
    """The outline of a bank card, lying or `turned` upright, with `edge` millimetres of room round it."""
    across, down = (CARD_HIGH, CARD_WIDE) if turned else (CARD_WIDE, CARD_HIGH)
    wide, high = across + 2 * edge, down + 2 * edge
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:.3f}mm" height="{high:.3f}mm" '
        f'viewBox="0 0 {wide:.3f} {high:.3f}" role="img"><title>{escape(title, quote=False)}</title>'
        f'<rect x="{edge}" y="{edge}" width="{across}" height="{down}" rx="{_CARD_ROUND}" '
        f'fill="none" stroke="{FINE_INK}" stroke-width="{SCORE}"/></svg>'
    )
