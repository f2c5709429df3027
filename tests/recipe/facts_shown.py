"""Facts as short text, so that a case reads in one line: `3/4 left end | rest | 3/4 right end`."""

from __future__ import annotations

from collections.abc import Iterable

from foldwright.measure.length import Length
from foldwright.measure.writing import plain_cross, write_exact
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
    PlaceBeside,
    Placement,
    RelativeSize,
    Repeat,
    Said,
    Weight,
)


def shown(value: object) -> str:
    """A value of the model without its places; nothing is an empty text, several have ` ; ` between them."""
    match value:
        case None | False | ():
            return ""
        case True:
            return "yes"
        case Said():
            return shown(value.value)
        case PanelFact():
            return " ".join(part for part in (_length(value.length) if value.length else "rest", value.name) if part)
        case tuple() if isinstance(value[0], PanelFact):
            return " | ".join(shown(panel) for panel in value)
        case tuple():
            return " ; ".join(shown(one) for one in value)
        case Length():
            return _length(value)
        case Dims():
            return _cross(value.lengths)
        case _:
            return _compound(value)


def _length(length: Length) -> str:
    return write_exact(length).plain


def _cross(lengths: Iterable[Length]) -> str:
    return plain_cross([write_exact(length) for length in lengths])


def _price(sold: NamedSheet | Pack) -> str:
    return f" at {sold.money}{sold.price}" if sold.price is not None else ""


def _compound(value: object) -> str:
    match value:
        case Amount():
            return " ".join(str(part) for part in (value.number, value.unit, value.noun) if part)
        case Pack():
            return shown(value.amount) + _price(value)
        case Weight():
            return " ".join(part for part in (str(value.number), value.unit, value.grade) if part)
        case NamedSheet():
            return f"{value.name} ({_cross((value.across, value.down))})" + _price(value)
        case Instead():
            return value.name + (f" ({value.remark})" if value.remark else "")
        case RelativeSize():
            by = ("-" if value.by.mm < 0 else "+") + _length(Length(abs(value.by.mm), value.by.unit))
            how = "every side" if value.every_side else "in all"
            return f"{by} {how} / {value.other}" + (f", {_length(value.depth)} deep" if value.depth else "")
        case Flaps():
            return " & ".join(value.joined) + (f" - {_length(value.trim)}" if value.trim else "")
        case Fold():
            return ", ".join((value.form, *value.remarks)) if value.form else " ".join(map(str, value.angles))
        case _:
            return _joined(value)


def _joined(value: object) -> str:
    match value:
        case Placement():
            place = ":".join(part for part in (value.face, value.piece, value.panel) if part)
            return place + (f" ({value.remark})" if value.remark else "")
        case Gluing():
            return f"{value.own_panel} -> {shown(value.to)}"
        case Hole():
            where = value.position
            parts = [
                f"in the {where.edge} edge" if where.edge else "",
                "centred" if where.centred else "",
                f"on {where.panel}" if where.panel else "",
                *(f"{point} {_length(length)} from {side}" for side, length, point in where.offsets),
                f"at {_point(where.at)}" if where.at else "",
                "every panel" if where.every_panel else "",
                "mirrored" if where.mirrored else "",
                _repeat(where.repeat),
            ]
            return ", ".join([f"{value.shape} {_cross(value.size)}", *(part for part in parts if part)])
        case DrawnLine():
            ends = " -> ".join(_point(one) for one in value.points)
            more = ("arc", value.arc), ("mirrored", value.mirrored), ("every panel", value.every_panel)
            parts = [f"{value.kind} {ends}", *(word for word, is_so in more if is_so), _repeat(value.repeat)]
            return ", ".join(part for part in parts if part)
        case _:
            return str(getattr(value, "value", value))


def _repeat(repeat: Repeat | None) -> str:
    return f"{repeat.times} times every {_length(repeat.apart)} {repeat.side}" if repeat else ""


def _point(point: tuple[Length, Length] | PlaceBeside) -> str:
    if isinstance(point, PlaceBeside):
        return " ".join([point.of, *(f"+ {_length(length)} {way}" for way, length in point.away)])
    across, down = (write_exact(length).number for length in point)
    return f"({across}, {down})"
