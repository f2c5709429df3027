"""What is paid for an event: sizes of sheets, scraps, begun spools, optional things; and what the papers say of it."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.event.document.costs import costs_paper
from foldwright.event.document.model import PaperTable, PaperText, PaperWords
from foldwright.event.document.preparing import preparing_paper
from foldwright.event.document.writing import EventSource, missing_words
from foldwright.event.facts.stock import read_stock
from foldwright.event.plan.beforehand import pieces_given
from foldwright.event.plan.model import Making, Wishes, WorkedRecipe
from foldwright.event.plan.money import OtherCost
from foldwright.event.plan.planning import Event, plan_event
from foldwright.event.plan.shopping import ShoppingLine
from foldwright.event.wishes import read_costs
from foldwright.measure.length import System
from foldwright.pipeline import check_recipe
from foldwright.recipe.facts.moneys import is_money, moneys_apart
from foldwright.recipe.reading import read_recipe


def making(supplies: Sequence[str], size: str = "", kits: int = 10, slug: str = "one") -> Making:
    """A recipe of these supplies; a piece of a size is cut from the first."""
    piece = f"pieces:\n  part:\n    from: {supplies[0].partition(':')[0]}\n    size: {size}\n" if size else ""
    lines = "".join(f"  {line}\n" for line in supplies)
    text = (
        f"---\ntitle: {slug}\nmeasured in: millimetres\nmoney: EUR\nsupplies:\n{lines}{piece}---\n\n## Go\n\nGo on.\n"
    )
    understood = check_recipe(text, f"{slug}/recipe.md", slug).understood
    assert understood is not None
    worked = WorkedRecipe(understood.recipe, understood.flat, understood.times)
    return Making(worked, understood.figures[System.METRIC], kits)


def planned(*makings: Making, shelf: str = "", **wishes: object) -> Event:
    lines = read_stock(shelf, "stock.yaml")[0].lines if shelf else ()
    owned = {line.name.value.casefold(): line for line in lines}
    return plan_event(makings, Wishes(System.METRIC, money="EUR", **wishes), owned, {})  # type: ignore[arg-type]


def line(event: Event, supply: str) -> ShoppingLine:
    return next(one for one in event.shopping if one.supply.name.value == supply)


def paper(event: Event) -> PaperText:
    found = costs_paper(EventSource(event, (), catalogue()))
    assert found is not None
    return found


def rows(event: Event) -> list[tuple[str, ...]]:
    return [row for part in paper(event).parts if isinstance(part, PaperTable) for row in (*part.rows, part.foot)]


def notes(event: Event) -> str:
    return " ".join(text for part in paper(event).parts if isinstance(part, PaperWords) for text in part.paragraphs)


def bought(event: Event, supply: str) -> list[tuple[str, int, Fraction | None]]:
    return [(one.sheet, one.count, one.price) for one in line(event, supply).bought]


# --- sheets -----------------------------------------------------------------------------------------------------------


def test_each_size_has_its_price_and_the_cheaper_one_is_cut() -> None:
    """Of 200 x 140 mm an A4 sheet gives two, an A3 sheet four: 4 at 0.45 are dearer than 8 at 0.20."""
    dear = planned(making(["card: cardstock, sheet A4 at 0.20 or A3 at 0.45, pattern one way"], "200 x 140 mm", 16))
    assert bought(dear, "card") == [("A4", 8, Fraction("1.60"))]
    cheap = planned(making(["card: cardstock, sheet A4 at 0.20 or A3 at 0.35, pattern one way"], "140 x 200 mm", 16))
    assert bought(cheap, "card") == [("A3", 4, Fraction("1.40"))]


def test_sheets_of_two_sizes_come_in_packs_of_their_own() -> None:
    """Headers of 400 mm need A3, labels of 200 x 290 mm are cheaper out of A4: a pack of each, never one of both."""
    card = "card: cardstock, sheet A4 at 0.10 or A3 at 0.50, pattern one way, pack 10 sheets"
    first, second = making([card], "290 x 400 mm", 6), making([card], "200 x 290 mm", 6, "two")
    event = planned(first, second)
    assert bought(event, "card") == [("A4", 1, Fraction(1)), ("A3", 1, Fraction(5))]
    assert (line(event, "card").left_over, line(event, "card").cost.used_up) == (8, Fraction("3.60"))
    assert ("card", "1 pack of 10 sheets (A4)", "€1.00", "€1.00") in rows(event)
    assert ("card", "1 pack of 10 sheets (A3)", "€5.00", "€5.00") in rows(event)


def test_the_price_of_a_sheet_goes_before_that_of_a_pack() -> None:
    card = "card: cardstock, sheet A4 at 0.20, pack 50 sheets at 6.00"
    event = planned(making([card], "200 x 290 mm", 3))
    assert bought(event, "card") == [("A4", 3, Fraction("0.60"))]
    assert ("card", "3 sheets of A4", "€0.20", "€0.60") in rows(event)


def test_a_scrap_is_worth_its_share_of_a_sheet() -> None:
    """Two scraps of half an A4 sheet and a whole one for four pieces of half a sheet; dear, so that none is wasted."""
    card = "card: cardstock, sheet A4, pack 10 sheets at 200.00"
    event = planned(making([card], "205 x 145 mm", 4), shelf="card: scraps 2 of 210 x 148.5 mm\n")
    told = line(event, "card")
    assert (told.needed, told.had, told.used_of_had) == (2, 1, 1)
    assert (told.cost.used_up, told.cost.to_buy, told.left_over) == (40, 200, 9)
    assert "A scrap costs its part of a whole sheet, by area." in notes(event)


def test_a_begun_spool_counts_as_its_length() -> None:
    """Eleven lengths of a metre: four off the begun spool, seven off two new ones, of which three metres stay."""
    event = planned(making(["ribbon: ribbon, use 1 m, pack 5 m at 2.00"], kits=11), shelf="ribbon: 4 m\n")
    told = line(event, "ribbon")
    assert (told.had, told.used_of_had, told.needed) == (4000, 4000, 11000)
    assert [one.count for one in told.bought] == [2]
    assert told.left_over == 3000
    assert (told.cost.used_up, told.cost.to_buy) == (Fraction("4.40"), 4)


# --- who pays what ----------------------------------------------------------------------------------------------------


def test_what_is_optional_is_packed_and_paid() -> None:
    event = planned(making(["bead: beads, use 3, optional, pack 10 at 5.00"]))
    assert (event.costs.used_up, event.costs.to_buy) == (15, 15)
    assert ("bead (optional)", "€15.00", "€15.00") in rows(event)


def test_each_recipe_bears_its_part() -> None:
    """30 and 10 beads of four packs at 5.00; two sheets, of which one recipe's pieces are three fifths."""
    bead, card = "pack 10 at 5.00", "card: cardstock, sheet A4, pack 1 sheet at 1.00"
    one = making([card, f"bead: beads, use 3, {bead}"], "180 x 90 mm", 10)
    two = making([card, f"bead: beads, use 2, {bead}"], "180 x 120 mm", 5, "two")
    event = planned(one, two)
    sheets = line(event, "card").cost.to_buy
    first, second = event.costs.recipes
    share = Fraction(10 * 90, 10 * 90 + 5 * 120)
    assert sheets is not None
    assert first.to_buy == 15 + sheets * share
    assert second.to_buy == 5 + sheets * (1 - share)
    assert first.to_buy + second.to_buy == event.costs.to_buy


def test_the_fee_is_of_all_that_is_paid() -> None:
    """10 x 0.50 + 80 + 10 x 0.10 = 86 for ten people; 8.60 / 0.7 = 12.285..."""
    costs = (OtherCost("hall", Decimal(80)), OtherCost("bags", Decimal("0.10"), True))
    event = planned(
        making(["bead: beads, use 1, pack 10 at 5.00"]), costs=costs, margin=Fraction(3, 10), fee=Decimal(10)
    )
    assert ("bags", "for each of 10 kits", "€0.10", "€1.00") in rows(event)
    assert ("In all", "€86.00", "€8.60") in rows(event)
    assert "charge €12.29 per person" in notes(event)
    assert "you keep 14% of it" in notes(event)


def test_lines_that_do_not_add_up_are_told() -> None:
    """Each used up for 0.005, printed as nothing; together 0.02."""
    things = [f"thing {number}: trinket, use 1, pack 200 at 1.00" for number in range(4)]
    event = planned(making(things, kits=1))
    assert rows(event)[4] == ("the event", "€0.02", "€4.00")
    assert "The last line is right." in notes(event)
    assert "The last line is right." not in notes(planned(making(["bead: beads, use 1, pack 10 at 5.00"])))


# --- not whole --------------------------------------------------------------------------------------------------------


def test_what_comes_out_of_no_sheet_is_said_in_the_same_words_and_stops_the_fee() -> None:
    event = planned(
        making(["card: cardstock, sheet A4, pack 10 sheets at 2.00"], "400 x 190 mm", 7), margin=Fraction(1, 2)
    )
    (missing,) = event.missing
    assert (missing.supply, missing.piece, missing.count) == ("card", "part", 7)
    said = missing_words(event, catalogue())
    assert said == ("part: 7 of 400 x 190 mm do not fit on any sheet of card.",)
    for told in (paper(event), preparing_paper(EventSource(event, (), catalogue()))):
        assert isinstance(told.parts[0], PaperWords)
        assert told.parts[0].paragraphs[:1] == said
    assert "no fee and no margin can be worked out" in notes(event)


def test_what_comes_off_no_spool_is_missing_too() -> None:
    event = planned(making(["ribbon: ribbon, use 7 m, pack 5 m at 2.00"]))
    assert [(one.piece, one.count, one.width) for one in event.missing] == [("", 10, 7000)]
    assert missing_words(event, catalogue()) == ("ribbon: 10 lengths of 7000 mm are longer than any spool.",)


def test_where_no_price_is_known_no_table_is_empty() -> None:
    """Without other costs and a fee there is no such paper."""
    beads = making(["bead: beads, use 1, pack 10"])
    assert costs_paper(EventSource(planned(beads), (), catalogue())) is None
    event = planned(beads, costs=(OtherCost("hall", Decimal(80)),))
    tables = [part for part in paper(event).parts if isinstance(part, PaperTable)]
    assert tables and all(table.rows for table in tables)


def test_what_nobody_sells_is_not_missing_but_not_counted() -> None:
    event = planned(making(["ribbon: ribbon, use 7 m"]))
    assert (event.missing, event.costs.not_counted) == ((), ("ribbon",))


# --- money ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sign", "money", "same"),
    [
        ("€", "EUR", True),
        ("euros", "EUR", True),
        ("EUR", "euro", True),
        ("£", "pounds", True),
        ("GBP", "pounds", True),
        ("$", "CAD", True),
        ("$", "US dollars", True),
        ("CAD", "USD", False),
        ("$", "EUR", False),
        ("GBP", "EUR", False),
        ("¥", "CNY", True),
        ("yen", "CNY", False),
    ],
)
def test_signs_codes_and_words_for_money(sign: str, money: str, same: bool) -> None:
    assert is_money(sign, money) is same


def test_prices_in_two_moneys_cannot_be_added_up() -> None:
    """However much a thought is hushed."""
    supplies = "  a: beads, use 1, pack 10 at {}\n  b: beads, use 1, pack 5 at {}\n"
    text = f"---\ntitle: T\nhush: other-money\nsupplies:\n{supplies}---\n"
    mixed = [read_recipe(text.format(*prices), "r", "t").recipe for prices in (("$6.40", "3"), ("1", "6.80 GBP"))]
    recipes = [recipe for recipe in mixed if recipe is not None]
    assert [(number, one.code) for number, one in moneys_apart(recipes, "EUR")] == [
        (0, "other-money"),
        (1, "other-money"),
    ]
    assert [(number, one.code) for number, one in moneys_apart(recipes, "")] == [(1, "moneys-apart")]
    assert moneys_apart(recipes[:1], "USD") == []


def test_other_costs_are_read() -> None:
    said = read_costs("hall 80, teacher 120,50; bags at 0.10 each, tea: €0.5 per kit,room 2 at 30 EUR")
    assert not isinstance(said, str)
    assert [(one.cost.name, one.cost.amount, one.cost.each, one.money) for one in said] == [
        ("hall", Decimal(80), False, ""),
        ("teacher", Decimal("120.50"), False, ""),
        ("bags", Decimal("0.10"), True, ""),
        ("tea", Decimal("0.5"), True, "€"),
        ("room 2", Decimal(30), False, "EUR"),
    ]


@pytest.mark.parametrize("part", ["hall", "80", "hall -3", "hall 0", "hall 1,200", "hall 80 each of us", "h" * 300])
def test_a_cost_that_cannot_be_read_is_handed_back(part: str) -> None:
    assert read_costs(f"teacher 120, {part}") == part


def test_a_piece_that_fits_its_sheet_only_at_a_slant_takes_a_whole_sheet_and_is_not_cut_for_the_class() -> None:
    """330 x 20 mm lies along the diagonal of A4, 363.7 mm (Pythagoras); 340 x 60 mm does not, and is missing."""
    event = planned(making(["card: cardstock, sheet A4, pack 10 at 5.00"], "330 x 20 mm", kits=20))
    (plan,) = event.sheets
    assert (plan.bought, event.missing) == (20, ())
    assert plan.wanted[0].slant and {plan.wanted[0].width, plan.wanted[0].height} == {210, 297}
    assert pieces_given(0, event.sheets) == frozenset()
    assert len(planned(making(["card: cardstock, sheet A4, pack 10 at 5.00"], "340 x 60 mm")).missing) == 1
    grained = planned(making(["card: cardstock, sheet A4, grain long, pack 10 at 5.00"], "330 x 20 mm"))
    assert not grained.missing, "nobody asks how its grain runs"
    one_way = planned(making(["card: patterned card, sheet A4, pattern one way, pack 10 at 5.00"], "330 x 20 mm"))
    assert len(one_way.missing) == 1
