"""The facts of a recipe as text that reads as the same facts: each value the way one would type it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from foldwright.measure.length import Length, System, Unit
from foldwright.measure.reading import UNIT_WORDS
from foldwright.recipe.facts.moneys import write_price
from foldwright.recipe.facts.supplies import SUPPLY_WORDS
from foldwright.recipe.model import (
    Amount,
    Dims,
    DrawnLine,
    Flaps,
    Fold,
    Gluing,
    Hole,
    Instead,
    NamedSheet,
    Pack,
    PanelFact,
    Piece,
    Placement,
    RelativeSize,
    Said,
    Supply,
    Tool,
    Weight,
)

_FINEST = 64
"""The finest mark of an inch ruler (common practice, no source): what is finer is written with a point."""
_NEEDS_LINES = re.compile(r"[,;#(){}\[\]]|\bor\b")
_WIDEST = 116


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


# --- supplies and tools -----------------------------------------------------------------------------------------


def write_supply(supply: Supply) -> list[str]:
    """On one line when nothing in it has marks of its own, else a fact a line."""
    facts = list(_supply_facts(supply))
    line = f"{supply.name.value}: " + ", ".join(_one_line(facts))
    plain = not any(_NEEDS_LINES.search(value) for word, value in facts if word != "sheet" and word != "colour")
    if facts and plain and len(line) <= _WIDEST and supply.note is None and _kind_is_plain(supply):
        return [line]
    return [f"{supply.name.value}:", *(f"  {word}: {value}" for word, value in facts)]


def write_supply_facts(supply: Supply) -> Iterator[str]:
    """Its facts, one a line, pushed in by two."""
    return (f"  {word}: {value}" for word, value in _supply_facts(supply))


_ALONE = ("optional", "this way up")
"""Facts that are a word without a value."""


def _one_line(facts: Iterable[tuple[str, str]]) -> Iterator[str]:
    for word, value in facts:
        yield value if word == "kind" else word if word in _ALONE else f"{word} {value}"


def _kind_is_plain(supply: Supply) -> bool:
    """Whether the kind, without its word, can be taken for nothing else."""
    kind = supply.kind
    return kind is not None and not SUPPLY_WORDS.opening.match(kind.value) and not SUPPLY_WORDS.bare(kind.value)


def _supply_facts(supply: Supply) -> Iterator[tuple[str, str]]:
    said: tuple[tuple[str, str], ...] = (
        ("kind", _text(supply.kind)),
        ("weight", _weight(supply.weight)),
        ("thickness", _length(supply.thickness)),
        ("sheet", " or ".join(_sheet(sheet.value) for sheet in supply.sheets)),
        ("grain", _text(supply.grain)),
        ("pattern", _text(supply.pattern)),
        ("size", _dims(supply.size)),
        ("width", _length(supply.width)),
        ("use", "a little" if supply.little else write_amount(supply.use.value) if supply.use else ""),
        ("pack", " or ".join(_pack(pack.value) for pack in supply.packs)),
        ("instead", " or ".join(_instead(one.value) for one in supply.instead)),
        ("colour", " or ".join(colour.value for colour in supply.colours)),
        ("contains", ", ".join(one.value for one in supply.contains)),
        ("optional", "yes" if supply.optional else ""),
        ("this way up", "yes" if supply.upright else ""),
        ("note", _text(supply.note)),
    )
    return ((word, value) for word, value in said if value)


def write_tool(tool: Tool) -> str:
    parts = [tool.name.value]
    if tool.instead:
        parts.append("instead " + " or ".join(_instead(one.value) for one in tool.instead))
    if tool.optional:
        parts.append("optional")
    return ", ".join(parts)


def _text(said: Said[str] | None) -> str:
    return said.value if said else ""


def _length(said: Said[Length] | None) -> str:
    return write_length(said.value) if said else ""


def _dims(said: Said[Dims] | None) -> str:
    return write_cross(said.value.lengths) if said else ""


def _weight(said: Said[Weight] | None) -> str:
    if said is None:
        return ""
    return " ".join(part for part in (write_number(said.value.number), said.value.unit, said.value.grade) if part)


def write_amount(amount: Amount) -> str:
    """`36 in`, `30 ml`, `2 squares`."""
    if amount.length:
        return write_length(amount.length)
    return " ".join(part for part in (write_number(amount.number), amount.unit, amount.noun) if part)


def _sheet(sheet: NamedSheet) -> str:
    return sheet.name + _price(sheet)


def _pack(pack: Pack) -> str:
    return write_amount(pack.amount) + _price(pack)


def _price(sold: NamedSheet | Pack) -> str:
    return f" at {write_price(sold)}" if sold.price is not None else ""


def _instead(instead: Instead) -> str:
    return f"{instead.name} ({instead.remark})" if instead.remark else instead.name


# --- pieces -----------------------------------------------------------------------------------------------------


def write_piece(piece: Piece) -> list[str]:
    """A fact a line, in the order the reference lists them."""
    lines = [f"{piece.name.value}:"]
    for word, value in _piece_facts(piece):
        if isinstance(value, str):
            lines += [f"  {word}: {value}"] if value else []
        elif len(value) == 1:
            lines.append(f"  {word}: {value[0]}")
        elif value:
            lines += [f"  {word}:", *(f"    - {one}" for one in value)]
    return lines


def _piece_facts(piece: Piece) -> Iterator[tuple[str, str | list[str]]]:
    units = _units(piece)
    yield "from", _text(piece.supply)
    yield "count", str(piece.count.value) if piece.count else ""
    yield "size", _dims(piece.size) or _relative(piece.relative) or _band(piece.band)
    yield "inside", _dims(piece.inside) or _relative(piece.inside_relative)
    yield "across", _panels(piece.across, units[0])
    yield "down", _panels(piece.down, units[-1])
    yield "flaps", _flaps(piece.flaps)
    yield "corners", _text(piece.corners)
    yield "fold", _fold(piece.fold)
    yield "holes", [_hole(hole.value) for hole in piece.holes]
    yield "lines", [_line(line.value, units[0]) for line in piece.lines]
    yield "outline", _text(piece.outline)
    yield "goes on", _placements(piece.goes_on)
    yield "goes round", _placements(piece.goes_round)
    yield "fits over", _placements(piece.fits_over)
    yield "slides in", _placements(piece.slides_in)
    yield "glued", [_gluing(gluing.value, piece.name.value) for gluing in piece.glued]
    yield "holds", ", ".join(held.value for held in piece.holds)
    yield "grain", _text(piece.grain)
    yield "this way up", _text(piece.upright)
    yield "thickness", _length(piece.thickness)
    yield "finished", _dims(piece.finished)
    yield "optional", "yes" if piece.optional else ""
    yield "note", _text(piece.note)


def _units(piece: Piece) -> tuple[Unit | None, ...]:
    """The units that bare numbers of the piece are read in, across and down."""
    dims = piece.size or piece.inside
    if piece.band:
        return (piece.band.value.unit,)
    if dims:
        return tuple(length.unit for length in dims.value.lengths[:2])
    return (piece.relative.value.by.unit if piece.relative else None,)


def _relative(said: Said[RelativeSize] | None) -> str:
    if said is None:
        return ""
    size = said.value
    by = write_length(Length(abs(size.by.mm), size.by.unit))
    where = "on every side" if size.every_side else "in all"
    depth = f", {write_length(size.depth)} deep" if size.depth else ""
    return f"{by} {'smaller' if size.by.mm < 0 else 'bigger'} {where} than {size.other}{depth}"


def _band(said: Said[Length] | None) -> str:
    return f"rest x {write_length(said.value)}" if said else ""


def _panels(panels: Sequence[PanelFact], unit: Unit | None) -> str:
    """The row with its bars."""
    return _with_bars(_panel(panel, unit) for panel in panels)


def write_panels(lengths: Sequence[Length], names: Sequence[str] = ()) -> str:
    """`5/8 left | 2 1/2 floor | 5/8 right`: lengths in one unit, which a size beside them names."""
    shown = names or [""] * len(lengths)
    return _with_bars(f"{_bare(length)} {name}".rstrip() for length, name in zip(lengths, shown, strict=True))


def _with_bars(panels: Iterable[str]) -> str:
    """Panels with bars between them; three or more alike are counted (`6 of 1 1/2`)."""
    runs: list[tuple[str, int]] = []
    for text in panels:
        if runs and runs[-1][0] == text:
            runs[-1] = (text, runs[-1][1] + 1)
        else:
            runs.append((text, 1))
    parts: list[str] = []
    for text, count in runs:
        parts += [f"{count} of {text}"] if count > 2 else [text] * count
    return " | ".join(parts)


def _panel(panel: PanelFact, unit: Unit | None) -> str:
    if panel.length is None:
        return f"rest {panel.name}".rstrip()
    # A name that begins like a unit (`in`) would be taken for one.
    unit_like = panel.name.partition(" ")[0].lower().rstrip(".") in UNIT_WORDS
    length = _bare(panel.length) if panel.length.unit is unit and not unit_like else write_length(panel.length)
    return f"{length} {panel.name}".rstrip()


def _flaps(said: Said[Flaps] | None) -> str:
    if said is None:
        return ""
    trim = f", trimmed {write_length(said.value.trim)}" if said.value.trim else ""
    lying = ", glued outside" if said.value.outside else ""
    return f"joined to {write_row(said.value.joined)}{trim}{lying}"


def _fold(said: Said[Fold] | None) -> str:
    if said is None:
        return ""
    if said.value.angles:
        return " | ".join(f"{'-' if angle < 0 else ''}{write_number(abs(angle), False)}" for angle in said.value.angles)
    return ", ".join((said.value.form, *said.value.remarks))


def _hole(hole: Hole) -> str:
    where = hole.position
    parts = [f"{hole.shape} {write_cross(hole.size)}"]
    parts += [f"{where.edge} edge"] if where.edge else []
    if where.centred:
        parts.append(f"centred on {where.panel}" if where.panel else "centred")
    elif where.panel:
        parts.append(f"on {where.panel}")
    parts += [f"{point} {write_length(length)} from the {side}" for side, length, point in where.offsets]
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
    parts += ["mirrored"] if line.mirrored else []
    parts += ["on every panel"] if line.every_panel else []
    return ", ".join(parts)


def _degrees(line: DrawnLine) -> str:
    """A mountain folds away without a minus."""
    if line.angle is None:
        return ""
    sign = "-" if line.angle < 0 and line.kind != "mountain" else ""
    return f"{sign}{write_number(abs(line.angle), False)} degrees "


def _point(point: tuple[Length, Length] | str, unit: Unit | None) -> str:
    if isinstance(point, str):
        return point
    across, down = (_bare(length) if length.unit is unit else write_length(length) for length in point)
    return f"{across} across {down} down"


def _placements(said: Sequence[Said[Placement]]) -> str:
    """Places with `and` between them, then the remark they share."""
    if not said:
        return ""
    remark = said[0].value.remark
    places = " and ".join(_place(one.value) for one in said)
    return f"{places}, {remark}" if remark else places


def _place(place: Placement) -> str:
    face = f"{place.face} of " if place.face else ""
    return f"{face}{place.piece} {place.panel}".rstrip()


def _gluing(gluing: Gluing, piece: str) -> str:
    own = f"{piece} {gluing.own_panel}".rstrip()
    remark = f", {gluing.to.remark}" if gluing.to.remark else ""
    return f"{own} to {_place(gluing.to)}{remark}"
