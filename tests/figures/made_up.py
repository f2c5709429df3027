"""Invented recipes as lengths and relations alone: rows of panels, mats, lids, things cut from a sheet."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from random import Random

from foldwright.geometry.lengths import AtLeast, Clearance, Equal, LengthId, Lengths, Relation, Sum, Within
from foldwright.measure.length import Length, Unit

type ById = dict[LengthId, Length]


def panel_row(by_id: ById, relations: list[Relation], piece: str, side: str, panels: list[Length]) -> None:
    """A side's size, its panels, and its scores measured from either edge, as geometry hands them on."""
    names = [LengthId(piece, side, "panel", number) for number in range(1, len(panels) + 1)]
    size = LengthId(piece, side, "size")
    by_id[size] = total(panels)
    by_id.update(zip(names, panels, strict=True))
    relations.append(Sum(size, tuple(names)))
    for cut in range(1, len(panels)):
        for place, part, members in (
            ("score", panels[:cut], names[:cut]),
            ("score back", panels[cut:], names[cut:]),
        ):
            by_id[LengthId(piece, side, place, cut)] = total(part)
            relations.append(Sum(LengthId(piece, side, place, cut), tuple(members)))


def total(lengths: list[Length]) -> Length:
    return Length(sum((length.mm for length in lengths), Fraction(0)), lengths[0].unit)


def made_up_recipe(random: Random, pieces: int) -> Lengths:
    """A recipe of so many pieces, in inches or millimetres, now and then with one length written in the other."""
    unit = random.choice((Unit.INCH, Unit.MILLIMETRE))
    by_id: ById = {}
    relations: list[Relation] = []
    for number in range(pieces):
        random.choice((_box, _mat, _lid, _plain))(random, unit, f"piece {number}", by_id, relations)
    return Lengths(by_id, tuple(relations), worked_out=frozenset(_added_up(by_id, relations)))


def _added_up(by_id: ById, relations: list[Relation]) -> Iterator[LengthId]:
    """What nobody can have written: totals, mats and lids of parts from both systems of units."""
    for relation in relations:
        match relation:
            case Sum(total, parts):
                members = (total, *parts)
                worked_out = parts[1] if parts[0].side.startswith("border") else total
            case Clearance(outer, inner):
                members, worked_out = (outer, inner), outer
            case _:
                continue
        if len({by_id[name].unit.system for name in members}) > 1 or worked_out in members[1:]:
            yield worked_out


def _written(random: Random, unit: Unit, least: int, most: int) -> Length:
    """A length on a mark an author would use: sixteenths (now and then thirty-seconds), whole or half millimetres."""
    if random.random() < 0.03:
        unit = Unit.MILLIMETRE if unit is Unit.INCH else Unit.INCH
    if unit is Unit.INCH:
        parts = random.choice((4, 8, 8, 16, 16, 32))
        return Length.of(Fraction(random.randint(max(1, least * parts // 25), max(1, most * parts // 25)), parts), unit)
    parts = random.choice((1, 1, 1, 2))
    return Length.of(Fraction(random.randint(least * parts, most * parts), parts), unit)


def _box(random: Random, unit: Unit, piece: str, by_id: ById, relations: list[Relation]) -> None:
    for side in ("across", "down"):
        panels = [_written(random, unit, 10, 100) for _ in range(random.randint(1, 5))]
        mirrored = len(panels) > 2 and random.random() < 0.6
        if mirrored:
            panels[-1] = panels[0]
        panel_row(by_id, relations, piece, side, panels)
        if mirrored:
            relations.append(Equal(LengthId(piece, side, "panel", 1), LengthId(piece, side, "panel", len(panels))))
        size = LengthId(piece, side, "size")
        if random.random() < 0.2:
            # A wall for a room that was asked for: the card is on top of it.
            wall = LengthId(piece, side, "panel", 1)
            relations.append(AtLeast(wall, by_id[wall].mm))
        elif random.random() < 0.4:
            relations.append(Within(size, by_id[size].mm + random.choice((0, 0, 1, 10))))


def _mat(random: Random, unit: Unit, piece: str, by_id: ById, relations: list[Relation]) -> None:
    border = _written(random, unit, 2, 8)
    borders = [LengthId(piece, "border", side, of=f"{piece} card") for side in ("across", "down")]
    for side, name in zip(("across", "down"), borders, strict=True):
        card = _written(random, unit, 60, 150)
        by_id[LengthId(f"{piece} card", side, "size")] = card
        by_id[name] = border
        by_id[LengthId(piece, side, "size")] = Length(card.mm - 2 * border.mm, card.unit)
        card_size, mat_size = LengthId(f"{piece} card", side, "size"), LengthId(piece, side, "size")
        relations.append(Sum(card_size, (name, mat_size, name), held=True))
    relations.append(Equal(*borders))


def _lid(random: Random, unit: Unit, piece: str, by_id: ById, relations: list[Relation]) -> None:
    for side in ("across", "down"):
        wall, floor, rim = (_written(random, unit, *span) for span in ((15, 40), (40, 100), (10, 30)))
        play = _written(random, unit, 1, 3)
        panel_row(by_id, relations, f"{piece} base", side, [wall, floor, wall])
        panel_row(by_id, relations, f"{piece} lid", side, [rim, Length(floor.mm + play.mm, floor.unit), rim])
        relations.extend(
            Equal(LengthId(f"{piece} {part}", side, "panel", 1), LengthId(f"{piece} {part}", side, "panel", 3))
            for part in ("base", "lid")
        )
        relations.append(
            Clearance(LengthId(f"{piece} lid", side, "panel", 2), LengthId(f"{piece} base", side, "panel", 2))
        )


def _plain(random: Random, unit: Unit, piece: str, by_id: ById, relations: list[Relation]) -> None:
    for side in ("across", "down"):
        name = LengthId(piece, side, "size")
        by_id[name] = _written(random, unit, 5, 300)
        relations.append(Within(name, by_id[name].mm + random.choice((0, 5))))
