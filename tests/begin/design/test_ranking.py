"""What comes first: sense, then sheets, counted exactly, then a close fit; and nothing better is left out."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest

from begin.design.test_designing import random_wish
from begin.design.wishes import wish
from foldwright.begin.design import designing
from foldwright.begin.design.designing import design
from foldwright.begin.design.made import blank_with, insides_round, no_larger
from foldwright.begin.design.model import DesignWish, Joined, Proposal, ThingsLying, ways_to_lie
from foldwright.begin.design.ranking import fit_of, looseness, oddness, sets_of
from foldwright.begin.design.wishing import read_wish
from foldwright.begin.options import DesignOptions
from foldwright.measure.length import Unit
from foldwright.vocabulary.contents import Posture
from workbench.long import tries


def designed(said: str, **options: str) -> tuple[Proposal, ...]:
    asked = read_wish(DesignOptions(things=(said,), **options))
    assert isinstance(asked, DesignWish), asked
    found = design(asked, 3).all
    assert found
    return found


def ways(said: str, form: str, **options: str) -> list[ThingsLying]:
    return [one.lying for one in designed(said, form=form, **options) if one.lying]


# --- sense ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("form", ["tray", "lid", "drawer"])
@pytest.mark.parametrize(
    ("said", "sheet"),
    [
        ("8 tea lights 38 mm round x 16 mm", "A3"),
        ("6 macarons 45 mm round x 20 mm", "A3"),
        ("6 macarons 45 x 20 mm", "A4"),
        ("4 cupcakes 70 mm round x 75 mm", "A2"),
    ],
)
def test_the_first_has_all_of_them_the_right_way_up_and_none_on_another(said: str, sheet: str, form: str) -> None:
    """A macaron lies, a cupcake and a tea light stand: all of them with their circles level, in one layer."""
    first = ways(said, form, sheet=sheet)[0]
    ((grid, way),) = first.rows
    assert way[0] == way[1]
    assert grid[2] == 1


@pytest.mark.parametrize("form", ["tray", "lid", "drawer", "tuck box", "gift bag"])
@pytest.mark.parametrize(
    "said", ["2 cupcakes 60 mm round x 65 mm", "a mug 120 x 85 x 95 mm", "2 jars 60 mm round x 70 mm"]
)
def test_what_must_stand_never_lies(said: str, form: str) -> None:
    asked = read_wish(DesignOptions(things=(said,), form=form, sheet="A2"))
    assert isinstance(asked, DesignWish)
    (things,) = asked.things
    assert things.posture is Posture.UPRIGHT
    found = design(asked, 3).all
    assert found
    for one in found:
        assert one.lying
        assert one.lying.rows[0][1][2] == things.size[-1].mm


def test_a_soap_lies_before_it_stands_on_edge_and_a_book_lies() -> None:
    for said in ("a bar of soap 90 x 60 x 30 mm", "a notebook 90 x 60 x 30 mm"):
        first, second, *_ = ways(said, "tray", sheet="A3")
        assert first.rows[0][1][2] == 30
        assert second.rows[0][1][2] > 30


def test_a_candle_may_lie_or_stand() -> None:
    candle = read_wish(DesignOptions(things=("a candle 50 mm round x 75 mm",)))
    assert isinstance(candle, DesignWish)
    assert {(lying.box, lying.odd) for lying in ways_to_lie(candle.things)} == {((50, 50, 75), 0), ((75, 50, 50), 0)}


def test_nothing_lies_on_a_cupcake() -> None:
    asked = read_wish(DesignOptions(things=("2 cupcakes 60 mm round x 65 mm and 2 jars 60 mm round x 65 mm",)))
    assert isinstance(asked, DesignWish)
    found = ways_to_lie(asked.things)
    assert found[0].odd == 0
    for lying in found:
        # On each other only with their own kind, which is odd.
        assert Joined.ON not in lying.joined
        assert (lying.odd > 0) == (lying.box[2] > 65)


def test_a_tray_is_no_tower_and_a_bag_is_no_tray() -> None:
    tower = ThingsLying((Fraction(30), Fraction(20), Fraction(50)), ())
    low = ThingsLying((Fraction(50), Fraction(30), Fraction(20)), ())
    assert [oddness(form, (), tower) for form in ("tray", "tuck box", "gift bag")] == [1, 0, 0]
    assert [oddness(form, (), low) for form in ("tray", "tuck box", "gift bag")] == [0, 0, 1]


# --- a close fit ------------------------------------------------------------------------------------------------------


def test_the_best_box_for_a_soap_is_no_half_inch_too_large() -> None:
    """Where as many come out of a sheet, the closer fit comes before the easier numbers."""
    for form in ("tray", "lid", "drawer"):
        first = next(iter(designed("a bar of soap 3 1/2 x 2 1/4 x 1 in", form=form)))
        assert max(first.room) <= Unit.INCH.mm / 8
        assert fit_of(max(first.room)) == "snug"


def test_room_is_told_in_three_words() -> None:
    assert [fit_of(Fraction(room)) for room in (1, 3, 4, 8, 9)] == [
        "snug",
        "snug",
        "a-little-loose",
        "a-little-loose",
        "loose",
    ]
    assert looseness("tray", (Fraction(1), Fraction(5), Fraction(9))) == 3
    # A bag is to be higher than what is in it.
    assert looseness("gift bag", (Fraction(1), Fraction(5), Fraction(30))) == 1


# --- nothing better is left out ---------------------------------------------------------------------------------------


def every_tray(asked: DesignWish) -> list[tuple[tuple[object, ...], Proposal]]:
    """Each way, each rounding, counted out one by one, with none of the bounds."""
    found = []
    for lying in ways_to_lie(asked.things):
        for tray in designing._trays_round(asked.rules, lying.box):
            inside = tray.across[1], tray.down[1], tray.across[0]
            room = designing.room_in(asked.rules, tray, lying)
            one = designing._proposal(asked, "tray", lying, (tray,), inside, room)
            counts = tuple(sets_of((tray,), sheet) for sheet in asked.sheets)
            found.append(((one.odd, tuple(-count for count in counts), one.loose, one.points, one.proportion), one))
    return sorted((entry for entry in found if any(entry[0][1])), key=lambda entry: entry[0])  # type: ignore[arg-type,return-value,index]


@pytest.mark.parametrize("seed", range(tries(15, 200)))
def test_the_first_tray_is_the_best_of_all(seed: int) -> None:
    asked = random_wish(Random(seed), ["tray"])
    first = next(iter(design(asked, 1).all), None)
    best = every_tray(asked)
    assert (first is None) == (not best)
    if first:
        assert first.merit == best[0][0]
        assert first.a_sheet == tuple(sets_of(first.blanks, sheet) for sheet in asked.sheets)


@pytest.mark.parametrize("seed", range(tries(10, 100)))
def test_no_tray_that_is_listed_gives_less_than_one_that_is_not(seed: int) -> None:
    """Of those in which things lie with as much sense, each way has its best, and the best ways are listed."""
    asked = random_wish(Random(1000 + seed), ["tray"])
    listed = design(asked, 3).all
    unlisted: dict[ThingsLying, tuple[object, ...]] = {}
    for merit, one in every_tray(asked):
        if one.lying and one.lying not in [shown.lying for shown in listed]:
            unlisted.setdefault(one.lying, merit)
    if len(listed) == 3:
        assert all(listed[-1].merit <= merit for merit in unlisted.values())  # type: ignore[operator]
    assert [one.merit for one in listed] == sorted(one.merit for one in listed)


@pytest.mark.parametrize("form", ["tuck box", "gift bag"])
def test_the_bound_of_a_blank_that_is_not_laid_yet_is_no_larger_than_the_blank(form: str) -> None:
    random = Random(5)
    seen = 0
    for _ in range(tries(40, 400)):
        rules = wish(thickness=Fraction(random.randint(1, 6), 10)).rules
        lying = ThingsLying(tuple(Fraction(random.randint(5, 120)) for _ in range(3)), ())  # type: ignore[arg-type]
        for inside in insides_round(form, rules, lying, (1,)):
            blank = blank_with(form, rules, inside)
            if blank:
                seen += 1
                assert all(bound <= side.mm for bound, side in zip(no_larger(form, inside), blank.size, strict=True))
    assert seen > 10
