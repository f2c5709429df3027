"""From a recipe to its sheet: measures in both systems, cautions where they belong, times, lists the program writes."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from foldwright.document.compose import licence_address
from foldwright.document.model import Document, Readiness
from foldwright.document.words import plain, plain_passage
from foldwright.measure.length import System
from foldwright.recipe.model import When
from foldwright.vocabulary import Signal
from workbench.compiled import DEMOS, compiled, demo, small

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL


def said(document: Document, number: int, system: System) -> str:
    return plain_passage(document.steps[number - 1].words, system)


def test_the_authors_words_with_every_measure_in_both_systems():
    sheet = demo("birdhouse")
    assert said(sheet, 1, IMPERIAL) == (
        "Cut the charcoal card to 5 x 4 1/4 in. With a short edge against the fence, score at 1 3/4 in and 2 1/2 in. "
        "Turn the card and score 3/4 in from each end."
    )
    metric = said(sheet, 1, METRIC)
    assert not re.search(r"\d in\b", metric)
    # 5 in is 127 mm exactly, 3/4 in 19.05 (handbook tables of inches and millimetres).
    assert metric.startswith("Cut the charcoal card to 127 x ")
    assert metric.endswith("score 19 mm from each end.")


def test_a_length_prints_in_the_unit_it_was_written_in():
    """The wall is 20 mm; whoever writes it as 2 cm reads 2 cm, and in inches both are one figure."""
    sheet = small(words="## Fold\n\ndo: fold base\n\nThe walls stand 2 cm high, that is 20 mm.")
    assert said(sheet, 1, METRIC) == "The walls stand 2 cm high, that is 20 mm."
    assert said(sheet, 1, IMPERIAL) == "The walls stand 13/16 in high, that is 13/16 in."


@pytest.mark.parametrize("name", DEMOS)
def test_panels_add_up_in_both_systems_as_printed(name):
    for piece in demo(name).pieces:
        for total, panels in ((piece.across, piece.panels_across), (piece.down, piece.panels_down)):
            if not panels:
                continue
            assert total is not None
            for system in System:
                numbers = [value(panel.length.printed.of(system).plain) for panel in panels]
                assert sum(numbers) == value(total.printed.of(system).plain), (piece.name, system)
            assert sum(panel.length.exact.mm for panel in panels) == total.exact.mm


def value(text: str) -> Fraction:
    """The number of `4 1/8 in` or `44.5 mm`."""
    return sum((Fraction(part) for part in text.split()[:-1]), Fraction(0))


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("system", System)
def test_no_measure_of_the_other_system_is_left(name, system):
    sheet = demo(name)
    texts = [plain_passage(step.words, system) for step in sheet.steps]
    texts += [plain(line, system) for piece in sheet.pieces for line in piece.work]
    texts += [plain(supply.amount + (*supply.details,), system) for supply in sheet.supplies]
    foreign = r"\d\s*(?:mm|cm)\b" if system is IMPERIAL else r"\d\s*(?:in|ft|yd)\b"
    assert [text for text in texts if re.search(foreign, text)] == []


def test_the_list_of_cuts_and_scores_comes_from_the_piece():
    base = demo("birdhouse").pieces[0]
    assert [plain(line, IMPERIAL) for line in base.work] == [
        "Cut 5 x 4 1/4 in.",
        "Score from side to side, 1 3/4 and 2 1/2 in from the top edge.",
        "Score from top to bottom, 3/4 and 4 1/4 in from the left edge.",
        (
            "Make 4 cuts, each 3/4 in long, in from the left and right edges, along the scores at 1 3/4 and 2 1/2 in. "
            "The flaps stay joined to front and back."
        ),
        "Trim 1/16 in off the free edge of every flap.",
    ]
    front = demo("birdhouse").pieces[1]
    assert [plain(line, IMPERIAL) for line in front.work] == [
        "Cut 2, each 3 1/2 x 4 in.",
        "Make a round hole 1 in wide, midway between left and right, its middle 1 1/2 in from the top edge.",
    ]


def test_flaps_joined_to_the_side_walls_are_cut_from_the_other_edges():
    drawer = demo("drawer-box").pieces[0]
    lines = [plain(line, METRIC) for line in drawer.work]
    assert (
        "Make 4 cuts, each 20 mm long, in from the top and bottom edges, along the scores at 20 and 80 mm. "
        "The flaps stay joined to left wall and right wall."
    ) in lines
    assert "Cut a slot 8 x 2 mm on front, in the middle." in lines


def test_a_step_without_words_prints_its_list():
    sheet = small(words="## Make the base\n\n```step\ndo: cut and score base\ntime: 2 min\n```\n")
    words = said(sheet, 1, METRIC)
    assert words.startswith("Cut 100 x 130 mm. Score from side to side, 20 and 110 mm from the top edge.")
    # 20 + 60 + 20 and 20 + 90 + 20 mm: 13/16 + 2 3/8 + 13/16 and 13/16 + 3 9/16 + 13/16 in.
    assert said(sheet, 1, IMPERIAL).startswith("Cut 4 x 5 3/16 in.")


def test_the_plan_is_described_from_what_it_shows():
    picture = demo("birdhouse").pieces[0].picture
    assert picture is not None
    words = picture.describes.of(METRIC)
    assert "From left to right: left end, floor and right end." in words
    assert "Cut 127 x" in words
    strip = demo("concertina").pieces[0].picture
    assert strip is not None
    assert "4 panels from left to right." in strip.describes.of(METRIC)


def test_a_picture_has_a_label_for_every_dimension_in_each_system():
    for name in DEMOS:
        for piece in demo(name).pieces:
            assert piece.picture is not None
            for system in System:
                labels = piece.picture.labels.of(system)
                assert {dimension.length for dimension in piece.picture.scene.dimensions} <= labels.keys()
                unit = "in" if system is IMPERIAL else "mm"
                assert all(label.endswith(unit) for label in labels.values())


def test_metric_sheets_name_the_metric_paper():
    card, gingham, *_ = demo("birdhouse").supplies
    assert plain(card.details, IMPERIAL) == "cardstock, 100\u202flb cover, 8 1/2 x 11 in sheets, grain long"
    # 100 lb cover is 270.4 g/m2 (paper makers' tables print 270 or 271); 80 lb cover 216.
    assert plain(card.details, METRIC) == "cardstock, 270\u202fg/m², A4 sheets, grain long"
    assert plain(gingham.details, METRIC).startswith("patterned card, 216\u202fg/m², 305 x 305 mm sheets")


def test_amounts_and_what_may_stand_in():
    twine, tape, foam, ink, caramel = demo("birdhouse").supplies[2:]
    assert plain(twine.amount, METRIC) == "920 mm"  # what one cuts off a roll, up from 914.4
    assert plain(tape.instead[0].name, METRIC) == "wet glue"
    assert plain(tape.instead[0].remark, METRIC) == "let it dry 10 min"
    assert plain(foam.amount, METRIC) == "4"
    assert (plain(ink.amount, METRIC), ink.colours, ink.optional) == ("a little", "brown or plum", True)
    assert caramel.contains == "milk"
    assert plain(tape.packs[0], IMPERIAL) == "27 yd"


def test_nothing_that_is_handed_on_names_a_price():
    from foldwright.document.data import as_json

    text = as_json(demo("birdhouse"))
    for price in ("8.40", "11.00", "5.25", "4.20"):
        assert price not in text


# --- cautions ---------------------------------------------------------------------------------------------------------


def codes(document: Document) -> list[list[str]]:
    return [[caution.code for caution in step.cautions] for step in document.steps]


def test_every_caution_is_said_in_full_once_the_gravest_first_then_as_it_is_met():
    sheet = demo("birdhouse")
    assert [caution.code for caution in sheet.cautions] == [
        *("allergen", "small-parts", "cord"),
        *("trimmer-blade", "scissors", "pinch"),
        "wrapped-food",
    ]
    assert [caution.signal for caution in sheet.cautions] == sorted(
        (caution.signal for caution in sheet.cautions), reverse=True
    )
    every = [code for step in codes(sheet) for code in step if code != "own"]
    assert {*every} < {caution.code for caution in sheet.cautions}


def test_a_step_reminds_of_what_it_brings_first():
    sheet = demo("birdhouse")
    assert codes(sheet)[:3] == [["trimmer-blade"], ["scissors"], []]
    every = [code for step in codes(sheet) for code in step]
    assert len(every) == len(set(every))


def test_the_cautions_of_a_step_are_one_line():
    """The author's own words first, since they are about that step."""
    reminder = demo("drawer-box").steps[2].reminder
    assert reminder
    assert plain_passage(reminder.words, METRIC) == (
        "Keep the fingers of the other hand behind the blade. Cut away from your other hand."
    )
    assert (reminder.signal, reminder.signal_word) == (Signal.CAUTION, "Caution")


def test_a_reminder_is_left_out_where_the_authors_own_words_say_it():
    own = "Always keep your fingers off the cutting line of the trimmer."
    sheet = small(words=f"## Cut\n\n```step\ndo: cut base\ncaution: {own}\n```\n\nUse the trimmer.\n")
    assert codes(sheet) == [["own"]]
    assert sheet.steps[0].reminder and plain_passage(sheet.steps[0].reminder.words, METRIC) == own
    assert "trimmer-blade" in [caution.code for caution in sheet.cautions]


def test_the_gravest_signal_word_leads_a_step():
    words = "## Glue\n\n```step\ndo: cut base\n```\n\nCut with scissors, then use super glue.\n"
    reminder = small(words=words).steps[0].reminder
    assert reminder and reminder.signal is Signal.WARNING
    assert len(small(words=words).steps[0].cautions) == 2


def test_an_allergen_is_named_with_what_holds_it():
    warning = demo("birdhouse").cautions[0]
    assert "caramel (milk)" in warning.hazard
    assert (warning.signal, warning.signal_word) == (Signal.WARNING, "Warning")
    assert warning.consequence
    assert warning.avoid


def test_the_tool_the_words_name_decides():
    words = "## Cut\n\n```step\ndo: cut base\n```\n\nCut the base to 100 x 130 mm with the {}.\n"
    assert codes(small(words=words.format("scissors"))) == [["scissors"]]
    assert codes(small(words=words.format("trimmer"))) == [["trimmer-blade"]]
    assert codes(small(words=words.format("card to hand"))) == [["trimmer-blade"]]


def test_hot_glue_is_cautioned_where_it_is_used():
    sheet = small(
        supplies="  card: cardstock, sheet A4\n  hot glue: hot glue, use a little",
        words="## Fold\n\n```step\ndo: fold base\n```\n\nFold it.\n\n"
        "## Glue\n\n```step\ndo: glue base\nwith: hot glue\n```\n\nGlue the flaps.\n",
    )
    assert codes(sheet) == [[], ["hot-glue"]]


@pytest.mark.parametrize(
    ("supplies", "words", "warned"),
    [
        ("  hot glue: hot glue, use some", "Glue it.", True),
        ("  hot glue: hot glue, use some\n  glue stick: glue stick, use some", "Use a glue stick.", False),
        ("  glue stick: glue stick, use some", "Glue it.", False),
    ],
)
def test_a_step_that_glues_and_does_not_say_with_what_may_use_any_glue(supplies, words, warned):
    sheet = small(
        supplies=f"  card: cardstock, sheet A4\n{supplies}",
        words=f"## Glue\n\n```step\ndo: glue base\n```\n\n{words}\n",
    )
    assert (["hot-glue"] in codes(sheet)) is warned


@pytest.mark.parametrize("audience", ["children under three", "adults", ""])
def test_small_parts_are_told_whoever_gets_them(audience):
    """Nobody knows who picks a favour up."""
    facts = f"for: {audience}\n" if audience else ""
    sheet = small(facts, supplies="  card: cardstock, sheet A4\n  pearl: bead, use 3")
    assert "small-parts" in [caution.code for caution in sheet.cautions]


def test_the_authors_own_caution_stands_first():
    cautions = demo("drawer-box").steps[2].cautions
    assert [caution.code for caution in cautions] == ["own", "blade"]
    assert plain_passage(cautions[0].own, METRIC) == "Keep the fingers of the other hand behind the blade."


# --- times and the rest -----------------------------------------------------------------------------------------------


def test_times_of_steps_and_in_all():
    sheet = demo("birdhouse")
    first = sheet.steps[0]
    assert (first.when, first.when_words) == (When.BEFORE_CLASS, "before class")
    assert first.time.line == "2\u202fmin, plus 3\u202fmin to set up"
    assert not first.time.estimated
    assert sheet.totals.hands_on.seconds == sum(
        step.time.hands_on.seconds for step in sheet.steps if step.time.hands_on
    )
    assert sheet.totals.line == "20\u202fmin, plus 3\u202fmin to set up"


def test_a_time_nobody_gave_is_estimated_and_says_so():
    sheet = small(words="## Fold it\n\n```step\ndo: fold base\n```\n\nFold all four walls.\n")
    assert sheet.steps[0].time.estimated
    assert sheet.steps[0].time.line.startswith("about ")
    assert sheet.totals.line.startswith("about ")


def test_a_long_estimate_is_said_in_whole_minutes():
    words = "".join(f"## Fold {number}\n\n```step\ntime: 50 sec\n```\n\nFold it.\n\n" for number in range(15))
    given, partly = small(words=words), small(words=words + "## Glue it\n\nGlue it.\n")
    assert given.totals.line == "12\u202fmin 30\u202fs"
    assert re.fullmatch("about 1\\d\u202fmin", partly.totals.line), partly.totals.line
    assert partly.totals.hands_on.seconds % 60


def test_a_wait_names_what_may_be_done_meanwhile():
    step = demo("drawer-box").steps[4]
    assert step.time.waiting is not None
    assert step.time.waiting.seconds == 600
    assert plain(step.meanwhile, METRIC) == "Cut and score the sleeve"


def test_a_deadline_stands_beside_the_time():
    sheet = small(words="## Close it\n\n```step\ntime: 1 min\nget ready: 2 min\nwithin: 90 sec\n```\n\nClose it.\n")
    time = sheet.steps[0].time
    assert time.line == "1\u202fmin, plus 2\u202fmin to set up, finish within 1\u202fmin 30\u202fs"
    assert time.in_hand == "1\u202fmin, finish within 1\u202fmin 30\u202fs"


def test_short_words_are_a_second_choice():
    sheet = small(
        words="## Cut\n\n```step\ndo: cut base\nshort: Cut 100 x 130 mm.\n```\n\nCut the base to 100 x 130 mm.\n"
    )
    full, short = sheet.steps[0].wordings
    assert plain_passage(full, IMPERIAL) == "Cut the base to 4 x 5 3/16 in."
    assert plain_passage(short, IMPERIAL) == "Cut 4 x 5 3/16 in."


def test_steps_that_change_a_piece_show_its_plan():
    assert [step.shows for step in demo("birdhouse").steps] == [
        ("base",),
        ("base",),
        ("base",),
        ("birdhouse front",),
        ("birdhouse front",),
        (),
        ("wrapper",),
        (),
    ]


def test_the_head():
    head = demo("birdhouse").head
    assert (head.title, head.makes, head.level) == ("Birdhouse favour box", "1 box", "easy")
    assert (head.revised, head.revised_words) == ("2026-11-20", "November 20, 2026")
    assert head.licence_address == "https://creativecommons.org/licenses/by/4.0/"
    assert head.address == "https://harbourstreet.example/birdhouse/"
    assert head.studio == "Harbour Street Paper Studio"


# Addresses of the deeds: creativecommons.org.
@pytest.mark.parametrize(
    ("name", "address"),
    [
        ("CC BY-SA 4.0", "https://creativecommons.org/licenses/by-sa/4.0/"),
        ("cc-by-nc-nd-4.0", "https://creativecommons.org/licenses/by-nc-nd/4.0/"),
        ("CC0", "https://creativecommons.org/publicdomain/zero/1.0/"),
        ("All rights reserved", ""),
        ("", ""),
    ],
)
def test_a_licence_by_its_short_name_has_an_address(name, address):
    assert licence_address(name) == address


LID = """
  lid:
    from: card
    size: 60.4 x 90.4 mm
    fits over: base
"""


def test_what_the_trimmer_forced_is_told_to_who_reads_inches():
    # 60.4 over 60 mm, 2.378 over 2.362 in: both are 2 3/8 in, so that one moves by more than 1/32 in.
    sheet = small(LID.strip("\n") + "\n")
    assert sheet.rounding.metric == ()
    assert [note for note in sheet.rounding.imperial if "trimmer only shows steps of 1/16 in" in note]


def test_the_step_a_recipe_asks_for_is_kept_and_the_page_says_what_gave():
    sheet = small(LID.strip("\n") + "\nnumbers: whole mm\n")
    printed = {piece.name: piece.across.printed.metric.plain for piece in sheet.pieces if piece.across}
    assert printed["lid"] == "61 mm"
    told = "For lid, 60.4 mm is printed as 61 mm, because the recipe asks for steps of 1 mm."
    assert told in sheet.rounding.metric
    # 20 and 60 mm are 0.787 and 2.362 in.
    exact = small("numbers: exact\n")
    assert exact.rounding.imperial == ()
    assert exact.pieces[0].across is not None
    assert exact.pieces[0].across.printed.imperial.plain == "3.936 in"


def test_a_fault_makes_a_draft_and_the_rest_is_still_there():
    from pathlib import Path

    from workbench.compiled import RECIPES

    text = Path(RECIPES / "birdhouse" / "recipe.md").read_text(encoding="utf-8")
    sheet, _ = compiled(text.replace("3/4 left end | 3 1/2 floor", "3/4 left end | 3 1/4 floor"), "birdhouse")
    assert sheet.standing is Readiness.DRAFT
    assert any(told.line and told.says for told in sheet.findings)
    assert len(sheet.steps) == 8
    assert all(piece.picture for piece in sheet.pieces)
    assert demo("birdhouse").standing is Readiness.READY


def test_composing_twice_gives_the_same():
    text = (
        "---\ntitle: Card\nmeasured in: inches\npieces:\n  base:\n    size: 5 x 7 in\n---\n\n## Cut\n\nCut 5 x 7 in.\n"
    )
    assert compiled(text)[0] == compiled(text)[0]
