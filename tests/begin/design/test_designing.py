"""What is proposed holds what it should, passes its own check, and never beats what calculus says is the least."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import pi, sqrt
from random import Random

import pytest
from msgspec.structs import replace

from begin.design.wishes import metric, things, wish
from foldwright.begin.design import designing
from foldwright.begin.design.designing import design, passes, room_in
from foldwright.begin.design.drafting import TOLD_IN_THE_TABLE, draft_of_proposal
from foldwright.begin.design.model import DesignWish, Things, ways_to_lie
from foldwright.begin.design.wishing import read_wish
from foldwright.begin.draft.begun import ASKED_OF_THE_AUTHOR
from foldwright.begin.draft.blanks import tray_round
from foldwright.begin.draft.writing import write_draft
from foldwright.begin.options import DesignOptions
from foldwright.document.catalogue import catalogue
from foldwright.measure.length import Unit
from foldwright.pack.model import Answer, Thing
from foldwright.pack.packing import pack
from foldwright.pipeline import check_recipe
from workbench.long import LONG, tries

INCH = Unit.INCH.mm


def random_wish(random: Random, forms: Sequence[str] = ()) -> DesignWish:
    """One or two kinds of things of any likely size, in either system, of thin or thick card."""
    unit = random.choice([Unit.INCH, Unit.MILLIMETRE])
    kinds: list[Things] = []
    for number in range(random.choice([1, 1, 1, 2])):
        if unit is Unit.INCH:
            size = [Fraction(random.randint(2, 40), 16) for _ in range(3)]
        else:
            size = [Fraction(random.randint(4, 70)) for _ in range(3)]
        kinds.append(things(random.randint(1, 6), *size, unit=unit, name=f"thing {number}"))
    make = wish if unit is Unit.INCH else metric
    chosen = [random.choice(["tray", "lid", "drawer", "envelope", "tuck box", "gift bag"])]
    thickness = random.choice([Fraction(1, 5), Fraction(7, 20), Fraction(1, 2)])
    options: dict[str, object] = {"thickness": thickness, "forms": forms or chosen}
    if random.random() < 0.3:
        options["step"] = "1/16" if unit is Unit.INCH else "5"
    return make(*kinds, **options)  # type: ignore[arg-type]


@pytest.mark.parametrize("part", range(10))
def test_nothing_proposed_fails_its_own_check(part):
    """Ten times some random contents, one proposal of each form written as a recipe and checked."""
    random = Random(part)
    proposed = 0
    for _ in range(tries(5, 20)):
        asked = random_wish(random)
        for proposal in design(asked, 1).all:
            text = write_draft(draft_of_proposal(asked, proposal, catalogue()), catalogue())
            findings = check_recipe(text, "blue-box/recipe.md", "blue-box").findings
            assert [one for one in findings if one.code not in {*TOLD_IN_THE_TABLE, *ASKED_OF_THE_AUTHOR}] == []
            assert not any(one.strength > 1 for one in findings)
            proposed += 1
    assert proposed >= tries(2, 10)


def test_the_rule_for_blanks_needs_no_second_thought(monkeypatch):
    """The blanks are right as they are made: the check that each must pass drops next to none of them.

    What it may drop is a box that only the page in the other units would make too small.
    """
    tried: list[bool] = []

    def counted(*given: object) -> bool:
        tried.append(passes(*given))  # type: ignore[arg-type]
        return tried[-1]

    monkeypatch.setattr(designing, "passes", counted)
    random = Random(42)
    for _ in range(tries(15, 40)):
        design(random_wish(random), 3)
    assert len(tried) > tries(20, 60)
    assert tried.count(False) <= 1


@pytest.mark.parametrize("seed", range(40))
def test_what_lies_in_a_box_of_its_size_goes_in(seed):
    """The packer, which knows nothing of rows, finds room for the things in every box they are said to lie in."""
    random = Random(seed)
    held = [things(random.randint(1, 3), *(random.randint(1, 9) for _ in range(3)), name=str(n)) for n in range(2)]
    for lying in ways_to_lie(held)[:4]:
        solids = [Thing(tuple(length.mm for length in one.size)) for one in held for _ in range(one.count)]  # type: ignore[arg-type]
        assert pack(solids, lying.box).answer is Answer.GOES_IN
        volume = sum(one.volume for one in solids)
        assert lying.box[0] * lying.box[1] * lying.box[2] >= volume


def test_the_room_asked_for_is_left_on_every_side():
    for seed in range(tries(30, 200)):
        asked = random_wish(Random(seed))
        for lying in ways_to_lie(asked.things)[:3]:
            tray = tray_round(asked.rules, lying.box)
            across, down, high = room_in(asked.rules, tray, lying)
            assert across >= asked.rules.clearance.mm
            assert down >= asked.rules.clearance.mm
            assert high >= 0
            assert all(not length.mm % asked.rules.step.mm for length in (*tray.across, *tray.down))


# --- limits that calculus gives -------------------------------------------------------------------------------------


def test_the_least_paper_for_a_volume_is_come_near_to_and_never_beaten():
    """Square base, open top, 216 cubic inches: 108 * 4^(1/3) = 171.44 sq in (OpenStax, Calculus Volume 1, 4.7).

    216 one-inch cubes cannot lie in the very best box; a blank also has its corners. Card of no thickness to speak of.
    """
    least = 108 * 4 ** (1 / 3)
    asked = wish(
        things(216, "1", "1", "1"),
        forms=["tray"],
        step="1/64",
        clearance="1/1000",
        thickness=Fraction(1, 1000),
        sheets=["ANSI E"],
    )
    designed = design(asked, 12)
    papers = []
    for proposal in designed.all:
        base, high = proposal.blanks[0].across[1].mm * proposal.blanks[0].down[1].mm, proposal.blanks[0].across[0].mm
        around = 2 * (proposal.blanks[0].across[1].mm + proposal.blanks[0].down[1].mm)
        papers.append(float((base + around * high) / INCH**2))
    assert min(papers) >= least
    # In whole inches the best is a box of 9 x 6 x 4 in, 174 sq in.
    assert min(papers) <= 1.03 * 174


@pytest.mark.parametrize(
    ("sheet", "volume"),
    [
        # Largest open box from a sheet: OpenStax, Calculus Volume 1, 4.7 (24 x 36 in: 640 + 448 root 7; 20 x 30 in).
        ("24 x 36 in", 640 + 448 * 7**0.5),
        ("20 x 30 in", 1056.306),
        # A standard textbook problem: 12 x 12 in gives 128 cubic inches at corners of 2 in.
        ("12 x 12 in", 128.0),
    ],
)
def test_no_box_is_larger_than_the_largest_that_a_sheet_gives(sheet, volume):
    random = Random(7)
    best = 0.0
    for _ in range(tries(25, 60)):
        size = [Fraction(random.randint(8, 8 * most), 8) for most in (20, 12, 6)]
        asked = wish(things(1, *size), forms=["tray"], sheets=[sheet], clearance="1/1000", thickness=Fraction(1, 1000))
        held = float(size[0] * size[1] * size[2])
        if design(asked, 1).all:
            assert held <= volume
            best = max(best, held)
    assert best > 0


def test_the_largest_box_of_a_sheet_is_come_near_to():
    """From 24 x 36 in the best corners are 4.708 in: a box of 14.58 x 26.58 x 4.71 in; with eighths a little less."""
    asked = wish(
        things(1, "14.5", "26.5", "4.5"),
        forms=["tray"],
        sheets=["24 x 36 in"],
        clearance="1/1000",
        thickness=Fraction(1, 1000),
    )
    (proposal, *_) = design(asked, 1).all
    assert float(Fraction("14.5") * Fraction("26.5") * Fraction("4.5")) > 0.94 * (640 + 448 * 7**0.5)
    assert proposal.a_sheet == (1,)


# --- envelopes ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "size", "across", "down"),
    [
        # Cards the trade sells for its announcement envelopes (charts of makers; weak pages, they agree).
        ("A2 envelope", ("35/8", "23/4"), "17/4", "11/2"),
        ("A6 envelope", ("19/4", "13/2"), "9/2", "25/4"),
        ("A7 envelope", ("21/4", "29/4"), "5", "7"),
        ("A9 envelope", ("23/4", "35/4"), "11/2", "17/2"),
    ],
)
def test_cards_for_announcement_envelopes_are_those_the_trade_sells(name, size, across, down):
    asked = wish(Things(name, 1, things(1, *size).size, name), forms=["card"], sheets=["11 x 17 in"])
    fronts = {(one.blanks[0].across[0].mm / INCH, one.blanks[0].down[0].mm / INCH) for one in design(asked, 12).all}
    assert (Fraction(across), Fraction(down)) in fronts


@pytest.mark.parametrize(
    ("name", "short", "long"), [("C6 envelope", 114, 162), ("DL envelope", 110, 220), ("C5 envelope", 162, 229)]
)
def test_cards_for_iso_269_envelopes_go_in_with_a_little_room(name, short, long):
    asked = metric(
        Things(name, 1, things(1, short, long, unit=Unit.MILLIMETRE).size, name), forms=["card"], sheets=["A3"]
    )
    designed = design(asked, 12)
    assert designed.all
    for one in designed.all:
        across, down = one.blanks[0].across[0].mm, one.blanks[0].down[0].mm
        assert 2 <= short - across <= 8
        assert 2 <= long - down <= 8


def test_what_is_flat_gets_an_envelope_it_goes_into():
    asked = wish(Things("photo", 1, things(1, "4", "6").size), forms=["envelope", "card"])
    designed = design(asked, 3)
    assert {one.form for one in designed.all} == {"envelope", "card"}
    for one in designed.proposals["envelope"]:
        body = one.blanks[0]
        assert body.across[1].mm >= (6 + Fraction(1, 4)) * INCH
        assert body.down[1].mm >= (4 + Fraction(1, 4)) * INCH


def test_what_no_sheet_holds_is_said_with_the_blank_it_would_take():
    designed = design(wish(things(1, "7", "7", "7"), forms=["tray"]), 3)
    assert designed.all == ()
    reason = designed.why_not["tray"]
    facts = dict(reason.facts)
    assert reason.message == "design.larger-than-these-sheets"
    # 7 1/8 in with walls as high: 21 3/8 in either way.
    assert facts["larger"] == "22 x 28 in"
    assert min(length.mm for length in facts["size"]) > 21 * INCH  # type: ignore[attr-defined]
    assert (
        design(wish(things(1, "9", "9", "9"), forms=["tray"]), 3).why_not["tray"].message
        == "design.larger-than-any-sheet"
    )


def rounds(count: int, *size: int, unit: Unit = Unit.MILLIMETRE) -> Things:
    return replace(things(count, *map(Fraction, size), unit=unit, name="candle"), round=True)


def test_round_things_lie_in_each_others_gaps_where_that_is_closer():
    """Seven of 30 mm: two rows, 4 and 3, are 120 x (30 + 15 root 3) = 120 x 55.98 mm, where 4 x 2 take 120 x 60."""
    ways = ways_to_lie((rounds(7, 30, 50),))
    (closer,) = [one for one in ways if one.staggered and one.rows[0][0] == (4, 2, 1)]
    assert closer.box[0] == 120
    assert float(closer.box[1]) == pytest.approx(30 + 15 * sqrt(3), abs=1e-3)
    assert not any(one.box[:2] == (120, 60) for one in ways)


FORMS = ("tray", "lid", "drawer", "tuck box", "gift bag")
ROUND = ((5, (24, 30)), (7, (18, 18)), (3, (20, 60)), (1, (30,)), (8, (15,)))


@pytest.mark.parametrize(
    ("form", "count", "size"),
    [
        (form, *held)
        for number, form in enumerate(FORMS)
        for other, held in enumerate(ROUND)
        # In a usual run each form holds two of them, and each of them lies in two forms.
        if LONG or (number + other) % len(FORMS) < 2
    ],
)
def test_what_is_designed_for_round_things_passes_its_own_check(form: str, count: int, size: tuple[int, ...]):
    """The check packs the things once more, as circles in the printed room."""
    asked = metric(rounds(count, *size), forms=[form], sheets=["A3", "A2"])
    found = design(asked, 3).all
    assert found
    for proposal in found:
        text = write_draft(draft_of_proposal(asked, proposal, catalogue()), catalogue())
        checked = check_recipe(text, "blue-box/recipe.md", "blue-box")
        assert not any(one.strength > 1 for one in checked.findings)
        assert checked.understood is not None
        assert [one.things for one in checked.understood.flat.held] == [(("candle", count),)]


@pytest.mark.parametrize(
    ("thing", "girths"),
    [
        (things(1, "80", "50", "25", unit=Unit.MILLIMETRE, name="soap"), [2 * (50 + 25), 2 * (80 + 25)]),
        (rounds(1, 40, 110), [pi * 40]),
    ],
)
def test_a_band_goes_round_one_thing_and_overlaps(thing: Things, girths: list[float]):
    """The girth, four thicknesses of the band at its corners, and 12 mm to overlap, up to whole millimetres."""
    asked = metric(thing, forms=["band"], sheets=["A4"])
    found = design(asked, 3).all
    lengths = sorted(float(one.blanks[0].across[0].mm) for one in found)
    assert lengths == [pytest.approx(girth + 4 * float(asked.rules.thickness) + 12, abs=2) for girth in girths]
    assert all(length >= girth + 12 for length, girth in zip(lengths, girths, strict=True))
    for one in found:
        text = write_draft(draft_of_proposal(asked, one, catalogue()), catalogue())
        codes = {finding.code for finding in check_recipe(text, "band/recipe.md", "band").findings}
        assert codes <= {*TOLD_IN_THE_TABLE, *ASKED_OF_THE_AUTHOR}


def test_no_band_for_several_things():
    asked = metric(things(3, "80", "50", "25", unit=Unit.MILLIMETRE), forms=["band"])
    assert design(asked, 3).why_not["band"].message == "design.band-one-thing"


@pytest.mark.parametrize("form", ["tuck box", "gift bag"])
def test_a_form_that_is_worked_out_needs_no_studio_that_knows_the_card(form: str):
    """How thick 100 lb cover is has to be guessed; that is no reason against a box that comes out of the sheet."""
    asked = read_wish(DesignOptions(things=("a bar of soap of 3 5/8 x 2 1/2 x 1 1/4 in",), form=form))
    assert isinstance(asked, DesignWish)
    designed = design(asked, 1, None)
    assert [one.form for one in designed.all] == [form]
    assert not designed.why_not
    ((across, down),) = [blank.size for blank in designed.all[0].blanks]
    assert max(across.mm, down.mm) <= 11 * INCH
    assert min(across.mm, down.mm) <= Fraction(17, 2) * INCH


def test_what_is_called_like_the_card_or_the_tape_is_held_too():
    for name in ("white card", "strong tape"):
        asked = read_wish(DesignOptions(things=(f"a {name} 60 x 40 x 20 mm",), form="tray"))
        assert isinstance(asked, DesignWish)
        assert len(design(asked, 1).all) == 1


@pytest.mark.parametrize("said", ["a box 2 x 2 x 2 in", "a mug 85 mm round x 95 mm", "a candle 50 mm round x 75 mm"])
def test_a_bag_for_what_is_as_deep_as_wide_is_a_little_wider(said: str):
    """The ends of a bag's bottom lap over each other, so that it is wider than deep."""
    asked = read_wish(DesignOptions(things=(said,), form="gift bag", sheet="A2"))
    assert isinstance(asked, DesignWish)
    (first, *_) = design(asked, 1).all
    assert first.inside[0] > first.inside[1]
