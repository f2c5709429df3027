"""Measured facts as text that reads as the same facts: each value the way one would type it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import groupby

from foldwright.measure.length import Length, System, Unit
from foldwright.measure.reading import UNIT_WORDS
from foldwright.recipe.model import (
    Amount,
    Dims,
    DrawnLine,
    Gluing,
    Hole,
    PanelFact,
    Piece,
    PlaceBeside,
    Placement,
    RelativeSize,
    Repeat,
    Said,
    Supply,
)

_FINEST = 64
"""The finest mark of an inch ruler (common practice, no source): what is finer is written with a point."""


def write_number(value: Fraction, fractions: bool = True) -> str:
    """A number exactly: `4 1/8`, `10.5`, `1/3`; `fractions` says that halves to sixty-fourths are wanted."""
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    denominator = rest.denominator
    binary = denominator <= _FINEST and denominator & (denominator - 1) == 0
    if not (fractions and binary) and (decimals := _decimals(rest)):
        return f"{whole}.{decimals}"
    part = f"{rest.numerator}/{denominator}"
    return f"{whole} {part}" if whole else part


def _decimals(rest: Fraction) -> str:
    """The digits after the point; empty when they would never end."""
    digits = 0
    while rest.denominator != 1:
        rest, digits = rest * 10, digits + 1
        if digits > _FINEST:
            return ""
    return str(rest.numerator).rjust(digits, "0")


def write_length(length: Length) -> str:
    """`4 1/8 in`: exactly, in its own unit."""
    return f"{_bare(length)} {length.unit.symbol}"


def _bare(length: Length) -> str:
    return write_number(length.value, length.unit.system is System.IMPERIAL)


def write_cross(lengths: Sequence[Length]) -> str:
    """`5 x 4 1/4 in`: the unit once when all share it."""
    if len({length.unit for length in lengths}) == 1:
        return " x ".join(map(_bare, lengths)) + f" {lengths[0].unit.symbol}"
    return " x ".join(map(write_length, lengths))


def write_row(names: Sequence[str], last: str = "and") -> str:
    """`a, b and c`."""
    return f" {last} ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else list(names))


def write_amount(amount: Amount) -> str:
    """`36 in`, `30 ml`, `2 squares`."""
    if amount.length:
        return write_length(amount.length)
    return " ".join(part for part in (write_number(amount.number), amount.unit, amount.noun) if part)


type WrittenFact = tuple[str, tuple[str, ...]]
"""The word of a fact and its values: more than one where a piece has several holes or lines."""


def supply_measures(supply: Supply) -> Iterator[WrittenFact]:
    """How large a supply is and how much of it is used; what is not said is left out."""
    if supply.size:
        size = supply.size.value
        yield "size", (("round " if size.round else "") + write_cross(size.lengths),)
    if supply.use and not supply.little:
        yield "use", (write_amount(supply.use.value),)


def piece_measures(piece: Piece) -> Iterator[WrittenFact]:
    """Everything about a piece that has a length in it, and what it slides into; what is not said is left out."""
    units = _units(piece)
    facts: tuple[WrittenFact, ...] = (
        ("size", _dims(piece.size) or _relative(piece.relative) or _band(piece.band)),
        ("inside", _dims(piece.inside) or _relative(piece.inside_relative)),
        ("across", _panels(piece.across, units[0])),
        ("down", _panels(piece.down, units[-1])),
        ("holes", tuple(_hole(hole.value) for hole in piece.holes)),
        ("lines", tuple(_line(line.value, units[0]) for line in piece.lines)),
        ("goes on", _placements(piece.goes_on)),
        ("slides in", _placements(piece.slides_in)),
        ("woven with", _placements(piece.woven_with)),
        ("glued", _gluings(piece.glued)),
        ("finished", _dims(piece.finished)),
    )
    return (fact for fact in facts if fact[1])


def fact_lines(facts: Iterable[WrittenFact]) -> Iterator[str]:
    """A line for each fact, and one for each value beneath it where there are several."""
    for word, values in facts:
        if len(values) == 1:
            yield f"{word}: {values[0]}"
        else:
            yield from (f"{word}:", *(f"  - {value}" for value in values))


def _units(piece: Piece) -> tuple[Unit | None, ...]:
    """The units that bare numbers of the piece are read in, across and down."""
    dims = piece.size or piece.inside
    if piece.band:
        return (piece.band.value.unit,)
    if dims:
        return tuple(length.unit for length in dims.value.lengths[:2])
    return (piece.relative.value.by.unit if piece.relative else None,)


def _dims(said: Said[Dims] | None) -> tuple[str, ...]:
    return (write_cross(said.value.lengths),) if said else ()


def _relative(said: Said[RelativeSize] | None) -> tuple[str, ...]:
    """`1/8 in smaller on every side than base front`, and how deep it is."""
    if said is None:
        return ()
    relative = said.value
    turn, where = "smaller" if relative.by.mm < 0 else "bigger", "on every side" if relative.every_side else "in all"
    by = write_length(Length(abs(relative.by.mm), relative.by.unit))
    deep = f", {write_length(relative.depth)} deep" if relative.depth else ""
    return (f"{by} {turn} {where} than {relative.other}{deep}",)


def _band(said: Said[Length] | None) -> tuple[str, ...]:
    return (f"rest x {write_length(said.value)}",) if said else ()


def _panels(panels: Sequence[PanelFact], unit: Unit | None) -> tuple[str, ...]:
    return (_with_bars(_panel(panel, unit) for panel in panels),) if panels else ()


def write_panels(lengths: Sequence[Length], names: Sequence[str] = ()) -> str:
    """`5/8 left | 2 1/2 floor | 5/8 right`: lengths in one unit, which a size beside them names."""
    shown = names or [""] * len(lengths)
    return _with_bars(f"{_bare(length)} {name}".rstrip() for length, name in zip(lengths, shown, strict=True))


def _with_bars(panels: Iterable[str]) -> str:
    """Panels with bars between them; three or more alike are counted (`6 of 1 1/2`)."""
    parts: list[str] = []
    for text, alike in groupby(panels):
        count = len(list(alike))
        parts += [f"{count} of {text}"] if count > 2 else [text] * count
    return " | ".join(parts)


def _panel(panel: PanelFact, unit: Unit | None) -> str:
    if panel.length is None:
        return f"rest {panel.name}".rstrip()
    # A name that begins like a unit (`in`) would be taken for one.
    unit_like = panel.name.partition(" ")[0].lower().rstrip(".") in UNIT_WORDS
    length = _bare(panel.length) if panel.length.unit is unit and not unit_like else write_length(panel.length)
    return f"{length} {panel.name}".rstrip()


def _hole(hole: Hole) -> str:
    where = hole.position
    size = hole.holds or write_cross(hole.size)
    parts = [f"{hole.shape} {'for ' if hole.shape.endswith('slots') else ''}{size}"]
    parts += [f"{where.edge} edge"] if where.edge else []
    if where.centred:
        parts.append(f"centred on {where.panel}" if where.panel else "centred")
    elif where.panel:
        parts.append(f"on {where.panel}")
    parts += [f"{point} {write_length(length)} from the {side}" for side, length, point in where.offsets]
    parts += [f"middle at {_beside(where.at)}"] if where.at and not where.at.away else []
    parts += [f"middle {_beside(where.at)}"] if where.at and where.at.away else []
    parts += _repeated(where.repeat)
    if where.every_panel:
        parts.append("on every panel")
    if where.mirrored:
        parts.append("mirrored")
    return ", ".join(parts)


def _line(line: DrawnLine, unit: Unit | None) -> str:
    points = [_point(point, unit) for point in line.points]
    if line.kind == "glue area":
        parts = [f"{line.kind} {', '.join(points)}"]
    else:
        through = f" through {points[1]}" if line.arc else ""
        parts = [f"{line.kind} {_degrees(line)}from {points[0]}{through} to {points[-1]}"]
    parts += _repeated(line.repeat)
    parts += ["mirrored"] if line.mirrored else []
    parts += ["on every panel"] if line.every_panel else []
    return ", ".join(parts)


def _degrees(line: DrawnLine) -> str:
    """A mountain folds away without a minus."""
    if line.angle is None:
        return ""
    sign = "-" if line.angle < 0 and line.kind != "mountain" else ""
    return f"{sign}{write_number(abs(line.angle), False)} degrees "


def _beside(place: PlaceBeside) -> str:
    """`12 mm right of and 5 mm below outline corner 3`."""
    ways = [f"{write_length(far)} {way}{' of' if way in ('left', 'right') else ''}" for way, far in place.away]
    return " ".join([*(" and ".join(ways).split()), place.of])


def _repeated(repeat: Repeat | None) -> list[str]:
    return [f"repeat {repeat.times} times every {write_length(repeat.apart)} {repeat.side}"] if repeat else []


def _point(point: tuple[Length, Length] | PlaceBeside, unit: Unit | None) -> str:
    if isinstance(point, PlaceBeside):
        return _beside(point)
    across, down = (_bare(length) if length.unit is unit else write_length(length) for length in point)
    return f"{across} across {down} down"


def _placements(said: Sequence[Said[Placement]]) -> tuple[str, ...]:
    """Places with `and` between them, then the remark they share."""
    if not said:
        return ()
    remark = said[0].value.remark
    places = " and ".join(_place(one.value) for one in said)
    return (f"{places}, {remark}" if remark else places,)


def _gluings(said: Sequence[Said[Gluing]]) -> tuple[str, ...]:
    """`strip 1 to inside of card front, 40 mm from the fold, strip 6 to ...`."""
    parts = (
        ", ".join(filter(None, (f"{one.value.own_panel} to {_place(one.value.to)}".strip(), one.value.to.remark)))
        for one in said
    )
    return (", ".join(parts),) if said else ()


def _place(place: Placement) -> str:
    face = f"{place.face} of " if place.face else ""
    return f"{face}{place.piece} {place.panel}".rstrip()
