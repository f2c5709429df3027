"""Random realistic kits: pieces of a few kinds, a hundred of each or a few hundred, cut from sheets that are sold."""

from __future__ import annotations

import random
import time
from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction

import rectpack
from msgspec import Struct

from foldwright.pack.cutting.cutting import cut_sheets
from foldwright.pack.cutting.model import Cutting, PieceKind, Stock
from foldwright.pack.spools import Spool, WantedLength, cut_lengths

INCH_SHEETS = ((Fraction(17, 2), Fraction(11)), (Fraction(12), Fraction(12)), (Fraction(11), Fraction(17)))
METRIC_SHEETS = ((210, 297), (305, 305), (297, 420))
INCH = Fraction(127, 5)


class Case(Struct, frozen=True):
    kinds: tuple[PieceKind, ...]
    sheet: Stock


class Result(Struct, frozen=True):
    """Sheets by us, the bound, sheets of the best other packer, and how long ours took."""

    ours: int
    bound: int
    proven: bool
    others: int
    seconds: float


def cases(number: int, least: int, most: int, kits: int = 100) -> Iterator[Case]:
    """Always the same: sizes on eighths or quarters of an inch, or on one or five millimetres; two in five upright."""
    rng = random.Random(20)
    for _ in range(number):
        metric = rng.random() < 0.5
        width, height = (
            map(Fraction, rng.choice(METRIC_SHEETS)) if metric else (side * INCH for side in rng.choice(INCH_SHEETS))
        )
        kinds = tuple(_kind(rng, metric, width, height, kits) for _ in range(rng.randint(least, most)))
        yield Case(kinds, Stock(width, height, Fraction(1)))


def _kind(rng: random.Random, metric: bool, width: Fraction, height: Fraction, kits: int) -> PieceKind:
    while True:
        if metric:
            across, down = (Fraction(rng.choice((rng.randint(20, 160), 5 * rng.randint(4, 32)))) for _ in "ab")
        else:
            across, down = (
                rng.choice((Fraction(rng.randint(6, 50), 8), Fraction(rng.randint(3, 25), 4))) * INCH for _ in "ab"
            )
        if across <= width and down <= height:
            break
    turns = rng.random() >= 0.4 and across <= height and down <= width
    ways = tuple(dict.fromkeys(((across, down), (down, across)))) if turns else ((across, down),)
    return PieceKind(ways, rng.choice((1, 1, 1, 2, 2, 3, 4)) * kits)


def cut(case: Case, beside: bool = True) -> Result:
    started = time.perf_counter()
    cutting = cut_sheets(case.kinds, [case.sheet])
    seconds = time.perf_counter() - started
    others = min(_strips(case), _rectpack(case)) if beside else int(cutting.cost)
    return Result(int(cutting.cost), int(cutting.bound), _proven(cutting), others, seconds)


class SpoolJob(Struct, frozen=True):
    """What is paid by us, and where the longest always comes first."""

    proven: bool
    paid: Fraction
    plainly: Fraction


def spool_job(number: int) -> SpoolJob:
    """Always the same for a number: up to six lengths on quarters of an inch or five millimetres, off one spool."""
    rng = random.Random(number)
    unit = rng.choice((Fraction(5), INCH / 4))
    wanted = [WantedLength(rng.randint(20, 180) * unit, rng.randint(5, 200)) for _ in range(rng.randint(1, 6))]
    long, price = rng.choice(((25_000, "3.95"), (10_000, "1.95"), (50_000, "6.80")))
    spool = Spool(Fraction(long), None, Decimal(price))
    plan = cut_lengths(wanted, [spool])
    paid = sum(way.spools for way in plan.ways) * Fraction(price)
    return SpoolJob(plan.proven, paid, _longest_first(wanted, spool.length) * Fraction(price))


def _longest_first(wanted: Sequence[WantedLength], long: Fraction) -> int:
    spools: list[Fraction] = []
    for one in sorted(wanted, key=lambda one: -one.length):
        for _ in range(one.count):
            at = next((at for at, room in enumerate(spools) if room >= one.length), None)
            if at is None:
                spools.append(long - one.length)
            else:
                spools[at] -= one.length
    return len(spools)


def _proven(cutting: Cutting) -> bool:
    return cutting.proven and not cutting.too_large


def _strips(case: Case) -> int:
    """Plain strips, the largest pieces first: a strip of one kind after the other, sheets filled from the top."""
    sheets, left = 0, Fraction(0)
    for kind in sorted(case.kinds, key=lambda one: -one.ways[0][0] * one.ways[0][1]):
        across, down = max(kind.ways, key=lambda way: (case.sheet.width // way[0]) * (case.sheet.height // way[1]))
        strips = -(-kind.count // int(case.sheet.width // across))
        for _ in range(strips):
            if down > left:
                sheets, left = sheets + 1, case.sheet.height
            left -= down
    return sheets


def _rectpack(case: Case) -> int:
    """The guillotine packers of rectpack, which turn everything or nothing: what must stand upright forbids it."""
    turns = all(len(kind.ways) > 1 or kind.ways[0][0] == kind.ways[0][1] for kind in case.kinds)
    scale = 40
    best = 10**9
    for packing in (rectpack.GuillotineBssfSas, rectpack.GuillotineBafLas):
        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline, pack_algo=packing, sort_algo=rectpack.SORT_AREA, rotation=turns
        )
        for kind in case.kinds:
            for _ in range(kind.count):
                packer.add_rect(*(float(side * scale) for side in kind.ways[0]))
        total = sum(kind.count for kind in case.kinds)
        packer.add_bin(float(case.sheet.width * scale), float(case.sheet.height * scale), count=total)
        packer.pack()
        if len(packer.rect_list()) == total:
            best = min(best, len(packer))
    return best
