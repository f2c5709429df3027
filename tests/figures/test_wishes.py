"""Equal lengths of one piece print alike wherever sums and fits allow it: by hand, and against trying everything."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations
from random import Random

import pytest

from figures.hard_rules import broken, worth
from figures.made_up import panel_row
from figures.test_against_brute_force import STEPS, best_of_all, named
from foldwright.figures.closing import close
from foldwright.figures.model import Figures
from foldwright.geometry.lengths import AtLeast, Equal, LengthId, Lengths, Relation, Sum, Within
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.reading import read_length
from foldwright.pipeline import check_recipe
from foldwright.recipe.facts.writing import write_number
from workbench.long import tries

GROUPS = tries(120, 1200)


def two_rows(across: str, down: str, unit: Unit, *more: Relation, scores: bool = False) -> Lengths:
    """One piece with a row of panels each way, as geometry hands it on; equal panels of a row are tied."""
    by_id: dict[LengthId, Length] = {}
    relations: list[Relation] = []
    for side, row in (("across", across), ("down", down)):
        lengths = [read_length(f"{number} {unit.symbol}") for number in row.split("|")]
        assert all(isinstance(length, Length) for length in lengths)
        panel_row(by_id, relations, "base", side, lengths)
        names = [LengthId("base", side, "panel", number) for number in range(1, len(lengths) + 1)]
        relations += [Equal(one, other) for one, other in combinations(names, 2) if by_id[one] == by_id[other]]
    sizes = LengthId("base", "across", "size"), LengthId("base", "down", "size")
    if by_id[sizes[0]] == by_id[sizes[1]]:
        relations.append(Equal(*sizes))
    if not scores:
        by_id = {name: length for name, length in by_id.items() if not name.place.startswith("score")}
        relations = [one for one in relations if not isinstance(one, Sum) or one.total.place == "size"]
    return Lengths(by_id, (*relations, *more))


def panel(side: str, number: int) -> LengthId:
    return LengthId("base", side, "panel", number)


def shown(figures: Figures, side: str) -> str:
    """`20 | 60 | 20 = 100 mm`."""
    row = [
        printed.plain.rsplit(" ", 1)[0]
        for name, printed in figures.printed.items()
        if name.place == "panel" and name.side == side
    ]
    return f"{' | '.join(row)} = {figures[LengthId('base', side, 'size')].plain}"


# --- by hand ----------------------------------------------------------------------------------------------------------


def test_a_panel_that_one_row_needs_finer_is_as_fine_in_the_other() -> None:
    # 3 3/4 in = 95.25 mm. Across, no less than 95.25 is to print: 96 is too far, so 95.5. Down, 95 would do by itself;
    # on half millimetres it is 95.5 too, and 1 in = 25.4 mm is nearest to 25.5.
    lengths = two_rows("3 3/4|1 3/4|3/4", "1|3 3/4|1", Unit.INCH, AtLeast(panel("across", 1), Fraction(9525, 100)))
    figures = close(lengths, System.METRIC)
    assert shown(figures, "across") == "95.5 | 44.5 | 19 = 159 mm"
    assert shown(figures, "down") == "25.5 | 95.5 | 25.5 = 146.5 mm"
    assert figures.notes == ()


def test_nothing_is_finer_where_nothing_is_apart() -> None:
    lengths = two_rows("1 3/4|3/4|1 3/4", "1 3/4|2|1 3/4", Unit.INCH)
    figures = close(lengths, System.METRIC)
    assert shown(figures, "across") == "44 | 19 | 44 = 107 mm"
    assert shown(figures, "down") == "44 | 51 | 44 = 139 mm"


def test_sums_and_fits_go_before() -> None:
    # 43 mm = 1.693 in. Across no less may print: 1 23/32 in (43.66). Down, two of it come out of a sheet of 86 mm,
    # which is 3.386 in: 1 11/16 in (42.86) twice. Both cannot be, and nothing is told of it: nothing is wrong.
    sheet = Within(LengthId("base", "down", "size"), Fraction(86))
    lengths = two_rows("43|79|84", "43|43", Unit.MILLIMETRE, AtLeast(panel("across", 1), Fraction(43)), sheet)
    figures = close(lengths, System.IMPERIAL)
    assert shown(figures, "across").startswith("1 23/32 | ")
    assert shown(figures, "down") == "1 11/16 | 1 11/16 = 3 3/8 in"
    assert list(broken(lengths, figures)) == []


def test_a_score_takes_no_finer_step_to_be_as_long_as_a_side() -> None:
    # 1 3/4 + 3/4 + 1 3/4 = 4 1/4 in = 107.95 mm prints as 44 + 19 + 44 = 107; so far a score lies from the left edge,
    # at 19 + 89 = 108. On half millimetres both would be 108: whole ones that are easy to cut go before.
    lengths = two_rows("3/4|3 1/2|3/4", "1 3/4|3/4|1 3/4", Unit.INCH, scores=True)
    figures = close(lengths, System.METRIC)
    assert shown(figures, "across") == "19 | 89 | 19 = 127 mm"
    assert shown(figures, "down") == "44 | 19 | 44 = 107 mm"
    assert figures[LengthId("base", "across", "score", 2)].plain == "108 mm"


def test_what_lies_between_the_lines_of_a_ruler_draws_nothing_after_it() -> None:
    # 5 + 18 + 5 mm out of a sheet of 28, and no less than 5: on sixty-fourths alone. The other row stays on sixteenths.
    sheet, room = Within(LengthId("base", "across", "size"), Fraction(28)), AtLeast(panel("across", 1), Fraction(5))
    figures = close(two_rows("5|18|5", "5|18|44", Unit.MILLIMETRE, sheet, room), System.IMPERIAL)
    assert shown(figures, "across").startswith("13/64 | ")
    assert shown(figures, "down") == "3/16 | 11/16 | 1 3/4 = 2 5/8 in"


def test_lengths_of_two_pieces_are_no_affair_of_one_another() -> None:
    by_id = {LengthId(piece, "across", "size"): Length.of(Fraction(15, 4), Unit.INCH) for piece in ("base", "lid")}
    room = AtLeast(LengthId("base", "across", "size"), Fraction(9525, 100))
    figures = close(Lengths(by_id, (room,)), System.METRIC)
    assert [printed.plain for printed in figures.printed.values()] == ["95.5 mm", "95 mm"]


# --- against trying everything ----------------------------------------------------------------------------------------


def random_rows(random: Random) -> Lengths:
    """Two short rows out of three lengths, now and then held by a sheet or by room that was asked for."""
    unit = random.choice((Unit.INCH, Unit.MILLIMETRE))
    most, parts = (4, random.choice((4, 8, 16))) if unit is Unit.INCH else (100, 1)
    pool = [write_number(Fraction(random.randint(most * parts // 16 + 1, most * parts), parts)) for _ in range(3)]
    rows = ["|".join(random.choice(pool) for _ in range(random.randint(1, 3))) for _ in range(2)]
    more: list[Relation] = []
    plain = two_rows(*rows, unit)
    for side in ("across", "down"):
        size, first = LengthId("base", side, "size"), panel(side, 1)
        if random.random() < 0.3:
            more.append(Within(size, plain.by_id[size].mm + random.choice((0, 0, 1))))
        if random.random() < 0.4:
            more.append(AtLeast(first, plain.by_id[first].mm))
    return two_rows(*rows, unit, *more)


def pairs(lengths: Lengths) -> Iterator[Equal]:
    """Every two lengths of the piece that are equal."""
    for one, other in combinations(lengths.by_id, 2):
        if lengths.by_id[one].mm == lengths.by_id[other].mm:
            yield Equal(one, other)


def of_side(lengths: Lengths, side: str) -> Lengths:
    names = {name: length for name, length in lengths.by_id.items() if name.side == side}
    kept = tuple(one for one in lengths.relations if set(named(one)) <= names.keys())
    return Lengths(names, kept)


RULED = {system: steps[:-1] for system, steps in STEPS.items()}
"""The steps that are marks of a ruler; the finest lies between them."""


def closed_by_itself(lengths: Lengths, system: System) -> tuple[Fraction, dict[LengthId, Fraction]] | None:
    """The finest step of all, and the best values on a ruler, each row by itself where nothing ties the two."""
    tied = any(isinstance(one, Equal) and one.one.side != one.other.side for one in lengths.relations)
    parts = [lengths] if tied else [of_side(lengths, side) for side in ("across", "down")]
    best = [best_of_all(part, system, RULED[system]) for part in parts]
    if any(one is None for one in best):
        return None
    return min(one[0] for one in best if one), {name: mm for one in best if one for name, mm in one[1].items()}


@pytest.mark.parametrize("batch", range(4))
def test_equal_lengths_of_one_piece_print_alike_wherever_it_can_be(batch: int) -> None:
    changed = given_up = 0
    for seed in range(batch, GROUPS, 4):
        random = Random(seed)
        lengths = random_rows(random)
        system = next(iter(lengths.by_id.values())).unit.system.other
        alone = closed_by_itself(lengths, system)
        figures = close(lengths, system)
        if alone is None:
            continue
        values = {name: worth(printed) for name, printed in figures.printed.items()}
        assert list(broken(lengths, figures)) == [], seed
        assert STEPS[system][-1] not in figures.steps.values(), seed
        apart = [one for one in pairs(lengths) if values[one.one] != values[one.other]]
        alike = [one for one in pairs(lengths) if one not in apart]
        if all(alone[1][one.one] == alone[1][one.other] for one in pairs(lengths)):
            assert values == alone[1], seed
            continue
        for one in apart:
            # It cannot be had together with those that are: every value on every mark of a ruler was tried.
            tried = best_of_all(Lengths(lengths.by_id, (*lengths.relations, *alike, one)), system, RULED[system])
            assert tried is None, (seed, one)
        if not apart:
            wished = best_of_all(Lengths(lengths.by_id, (*lengths.relations, *pairs(lengths))), system, RULED[system])
            assert wished is not None, seed
            assert values == wished[1], seed
            changed += 1
        given_up += bool(apart)
    assert changed >= GROUPS // 80, "some are made alike"
    assert given_up >= GROUPS // 80, "and some cannot be"


# --- from a recipe ----------------------------------------------------------------------------------------------------


def test_a_square_prints_as_a_square_whatever_is_scored_glued_or_fitted_on_it() -> None:
    for seed in range(tries(40, 400)):
        random = Random(seed)
        side, border = Fraction(random.randint(24, 60), 8), Fraction(random.randint(1, 6), 16)
        text = f"""---
title: Square
makes: 1 card
measured in: inches
supplies:
  card: cardstock, weight 220 g/m2, thickness 0.3 mm, sheet {write_number(side)} x 12 in
pieces:
  base:
    from: card
    size: {write_number(side)} x {write_number(side)} in
    across: {write_number(side / 4)} | rest | {write_number(side / 4)}
    down: {write_number(side / 3 if random.random() < 0.5 else side / 8)} | rest
  mat:
    from: card
    size: {write_number(border)} in smaller all round than base
    goes on: base
---

Words.
"""
        understood = check_recipe(text, "recipe.md", "square").understood
        assert understood is not None
        figures = understood.figures[System.METRIC]
        for piece in ("base", "mat"):
            across, down = (figures[LengthId(piece, way, "size")].plain for way in ("across", "down"))
            assert across == down, (seed, piece, across, down)
