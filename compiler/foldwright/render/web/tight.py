"""A drawing in fewer letters, for the pages of a library: the same picture, with what all drawings share said once.

What a line of its kind always looks like stands in the shared stylesheet (`STYLE`), coordinates are whole numbers of a
twentieth of a millimetre and go from point to point, and a mark that is printed many times is told once, as a marker.
On a screen a twentieth of a millimetre is a fifth of a pixel: nothing that can be seen is lost.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from itertools import count, pairwise

from foldwright.geometry.scene import Tone
from foldwright.render.drawing.pens import CUT, DOUBT_INK, EDGE, FINE, FINE_INK, INK, SCORE, TONES

UNITS = 20
"""To the millimetre."""
type Looks = Mapping[str, str | float]
_ROUND: Looks = {"fill": "none", "stroke-linejoin": "round"}
_LINE: Looks = {"fill": "none", "stroke": INK}
_FINE: Looks = {"fill": "none", "stroke": FINE_INK, "stroke-width": FINE}
_DEFAULTS: dict[str, Looks] = {
    "edge": {**_ROUND, "stroke": INK, "stroke-width": EDGE},
    "engraved": {"fill": "none", "stroke-width": FINE},
    "fine": _FINE,
    "fine centre": _FINE,
    "fine waste": _FINE,
    "fine crease": {**_FINE, **_ROUND},
    "fine cut": {**_FINE, **_ROUND},
    "fine edge": {**_FINE, **_ROUND},
    "line cut": {**_LINE, **_ROUND, "stroke-width": CUT},
    "line crease": {**_LINE, **_ROUND, "stroke-width": SCORE},
    "line edge": {**_LINE, **_ROUND, "stroke-width": EDGE},
    "line arrow": {**_LINE, "stroke-width": EDGE},
    "line sign": {**_LINE, "stroke-width": EDGE},
    "line tick": {**_LINE, "stroke-width": SCORE},
    "line score": {**_LINE, "stroke-width": SCORE},
    "line valley": {**_LINE, "stroke-width": SCORE},
    "line mountain": {**_LINE, "stroke-width": SCORE},
    "line perforation": {**_LINE, "stroke-width": EDGE},
    "doubt-line": {"fill": "none", "stroke": DOUBT_INK},
    "halo": {**_ROUND, "stroke": "#ffffff", "stroke-width": 3 * EDGE},
    "head": {"fill": INK},
    "dot": {"fill": FINE_INK},
    "ground": {"fill": INK, "fill-opacity": "0.035"},
    "marks": {"fill": "none"},
    "print": {"fill-rule": "evenodd"},
    "face-plain plate": {"fill": "#ffffff"},
    "dim": {"fill": INK, "text-anchor": "middle"},
    "name": {"fill": INK, "text-anchor": "middle"},
    "role": {"fill": FINE_INK, "text-anchor": "middle"},
    "doubt": {"fill": DOUBT_INK, "text-anchor": "middle"},
    **{f"face-{tone.value}": {"fill": TONES[tone]} for tone in Tone},
}
"""By class, what a shape looks like if it does not say so itself."""
_LENGTHS = frozenset(
    {"x", "y", "width", "height", "rx", "cx", "cy", "r", "font-size", "stroke-width", "stroke-dasharray", "viewBox"}
)
_LEFT_OUT = frozenset({"xmlns", "font-family"})
_ELEMENT = re.compile(r"<(\w+)((?: [\w-]+=\"[^\"]*\")*?)(?: d=\"([^\"]*)\")?(/?)>")
"""Its name, its attributes, and the path data that come last."""
_ATTRIBUTE = re.compile(r' ([\w-]+)="([^"]*)"')
_STRAIGHT = re.compile(r"[MmLlHhVvZz\d .-]*")
_COMMAND = re.compile(r"([MmLlHhVvZz])([^A-Za-z]*)")
_CORNER_BY_CORNER = re.compile(r"(?:M-?[\d.]+ -?[\d.]+(?:L-?[\d.]+ -?[\d.]+)*Z?)+")
"""What most paths are; it is taken apart in a third of the time."""
_NUMBER = re.compile(r"-?(?:\d+\.?\d*|\.\d+)")
_CLASS = re.compile(r' class=(?:"([^"]*)"|([\w-]+))')
_UNQUOTED = re.compile(r'(?<=[\w-])=([^"\s>]+)')
_PLAIN_WORD = re.compile(r"[\w#.-]+")
_PRINTED = ' class="print"'
_FEWEST, _CORNERS = 3, 4
"""Marks that are worth a marker: so many at least, of more corners than this."""

type Point = tuple[float, float]
type Ring = tuple[list[Point], bool]
"""Points one after the other, and whether they come round to the first."""


def _rule(name: str) -> str:
    said = ((one, value if isinstance(value, str) else _scaled(value)) for one, value in _DEFAULTS[name].items())
    return "".join(f':where(.drawing [class="{name}"]:not([{one}])){{{one}:{value}}}' for one, value in said)


def _scaled(length: float) -> str:
    return f"{length * UNITS:.2f}".rstrip("0").rstrip(".")


_RULES = {name: _rule(name) for name in _DEFAULTS}
STYLE = "".join(_RULES.values())
"""Goes before all rules about drawings: it only says what attributes say elsewhere."""


class Tightener:
    """Makes the drawings of one page small; the names it gives are used once on a page."""

    def __init__(self) -> None:
        self._names = map("m{}".format, count(1))

    def tight(self, svg: str) -> str:
        """One drawing."""
        return _ELEMENT.sub(self._element, svg)

    def _element(self, found: re.Match[str]) -> str:
        tag, look, way, closed = found.groups()
        marker = ""
        if way and (rings := rings_of(way)):
            if look.startswith(_PRINTED) and (mark := _mark_of(rings)):
                name = next(self._names)
                marker = _marker(name, mark, dict(_ATTRIBUTE.findall(look)))
                rings = [([ring[0] for ring, _ in rings], False)]
                look = f' class="marks" marker-mid="url(#{name})"'
            way = way_of(rings, twice=bool(marker))
        kept = f"{_kept(tag, look)} d={_quoted(way)}" if way else _kept(tag, look)
        return f"{marker}<{tag}{kept}{' ' if closed and kept and kept[-1] != '"' else ''}{closed}>"


@lru_cache(maxsize=4096)
def _kept(tag: str, look: str) -> str:
    """The attributes that have to be said: most elements look as others do."""
    attributes = _ATTRIBUTE.findall(look)
    defaults = _DEFAULTS.get(dict(attributes).get("class", ""), {})
    said = ((name, value) for name, value in attributes if not _same(defaults.get(name), value))
    return "".join(f" {name}={_said(tag, name, value)}" for name, value in said if name not in _LEFT_OUT)


def as_file(svg: str, style: Callable[[frozenset[str]], str]) -> str:
    """A drawing as a file of its own, with what `style` says of its classes and what they look like at any rate."""
    small = Tightener().tight(svg.replace("<svg ", '<svg class="drawing" ', 1))
    names = {quoted or bare for quoted, bare in _CLASS.findall(small)}
    classes = frozenset(name for one in names for name in one.split())
    looks = "".join(rule for name, rule in _RULES.items() if name in names)
    whole = _UNQUOTED.sub(r'="\1"', small).replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
    at = whole.index(">") + 1
    return f"{whole[:at]}<style>{looks}{style(classes)}</style>{whole[at:]}"


def _same(usual: str | float | None, value: str) -> bool:
    return value == usual if usual is None or isinstance(usual, str) else abs(float(value) - usual) < 0.001


def _said(tag: str, name: str, value: str) -> str:
    """An attribute's value, lengths in the drawing's own units. How large the whole is shown stays as it is."""
    if name == "transform":
        turned = re.sub(r"translate\(([^)]*)\)", lambda it: f"translate({_numbers(it[1])})", value)
        return f'"{turned}"'
    if name in _LENGTHS and not value.endswith("mm"):
        value = _numbers(value)
    elif tag == "svg" and value.endswith("mm"):
        value = f"{float(value[:-2]):g}mm"
    return _quoted(value)


def _quoted(value: str) -> str:
    return value if _PLAIN_WORD.fullmatch(value) else f'"{value}"'


def _numbers(text: str) -> str:
    return _NUMBER.sub(lambda it: str(round(float(it[0]) * UNITS)), text)


def rings_of(way: str) -> list[Ring]:
    """The points of straight path data; none if there is anything in it but straight lines."""
    if _CORNER_BY_CORNER.fullmatch(way):
        return [_ring_of(one) for one in way.split("M")[1:]]
    if not _STRAIGHT.fullmatch(way):
        return []
    rings: list[Ring] = []
    x = y = 0.0
    for command, text in _COMMAND.findall(way):
        numbers = [float(one) for one in _NUMBER.findall(text)]
        if command in "Zz":
            points, _ = rings[-1]
            rings[-1] = points, True
            x, y = points[0]
            continue
        from_here = command.islower()
        pairs: list[tuple[float | None, float | None]] = (
            [(one, None) for one in numbers]
            if command in "Hh"
            else [(None, one) for one in numbers]
            if command in "Vv"
            else [*zip(numbers[::2], numbers[1::2], strict=True)]
        )
        for number, (across, down) in enumerate(pairs):
            x = x if across is None else across + x * from_here
            y = y if down is None else down + y * from_here
            if command in "Mm" and not number:
                rings.append(([], False))
            elif rings[-1][1]:
                rings.append(([rings[-1][0][0]], False))
            rings[-1][0].append((x, y))
    return rings


def _ring_of(way: str) -> Ring:
    numbers = [*map(float, way.rstrip("Z").replace("L", " ").split(" "))]
    return [*zip(numbers[::2], numbers[1::2], strict=True)], way[-1] == "Z"


def way_of(rings: Sequence[Ring], twice: bool = False) -> str:
    """Path data from point to point in whole units. With `twice` the first and the last point of each come twice, so
    that every one of them lies between two."""
    parts: list[str] = []
    here = (0, 0)
    for points, closed in rings:
        spots = [(round(x * UNITS), round(y * UNITS)) for x, y in points]
        if twice:
            spots = [spots[0], *spots, spots[-1]]
        parts.append(f"m{spots[0][0] - here[0]} {spots[0][1] - here[1]}")
        last, stays = "l", twice or len(spots) == 2
        for (x, y), (next_x, next_y) in pairwise(spots):
            if y == next_y:
                if x == next_x and not stays:
                    continue
                parts.append(f"h{next_x - x}")
                last = "h"
            elif x == next_x:
                parts.append(f"v{next_y - y}")
                last = "v"
            else:
                parts.append(f"{' ' if last == 'l' else 'l'}{next_x - x} {next_y - y}")
                last = "l"
        here = spots[0] if closed else spots[-1]
        if closed:
            parts.append("z")
    return "".join(parts).replace(" -", "-")


def _mark_of(rings: Sequence[Ring]) -> Ring | None:
    """The one mark of which all rings are copies, its first corner at nothing; None where they are not."""
    first = rings[0][0]
    if len(rings) < _FEWEST or len(first) <= _CORNERS:
        return None
    mark = [(x - first[0][0], y - first[0][1]) for x, y in first]
    half = 0.5 / UNITS
    for points, closed in rings:
        if len(points) != len(mark) or not closed:
            return None
        left, top = points[0]
        if any(
            abs(x - left - u) > half or abs(y - top - v) > half for (x, y), (u, v) in zip(points, mark, strict=True)
        ):
            return None
    return mark, True


def _marker(name: str, mark: Ring, look: Mapping[str, str]) -> str:
    drawn = f'<path fill={look["fill"]} fill-opacity={look["fill-opacity"]} d="{way_of([mark])}"/>'
    how = "markerUnits=userSpaceOnUse overflow=visible markerWidth=1 markerHeight=1"
    return f"<marker id={name} {how}>{drawn}</marker>"
