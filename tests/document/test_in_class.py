"""The sheet for a class. What is expected was read off the demo recipes by eye."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.document.catalogue import catalogue
from foldwright.document.in_class import ClassDocument, PreparedPiece, class_document
from foldwright.document.model import Document
from foldwright.document.words import plain, plain_passage
from foldwright.measure.length import System
from foldwright.recipe.model import When
from foldwright.recipe.words import SectionKind
from foldwright.vocabulary.acts import ACTS, Phase
from workbench.compiled import DEMOS, demo, small


def in_class(document: Document) -> ClassDocument:
    found = class_document(document)
    assert found is not None
    return found


def step(heading: str, do: str, *, before: bool = False, more: str = "", words: str = "") -> str:
    facts = "\n".join(filter(None, (f"do: {do}" if do else "", "when: before class" if before else "", more)))
    return f"## {heading}\n\n```step\n{facts}\n```\n\n{words or heading}.\n\n"


def headings(document: Document) -> list[str]:
    return [plain(step.heading, document.system) for step in document.steps]


def codes(document: Document) -> list[list[str]]:
    return [[caution.code for caution in step.cautions] for step in document.steps]


# --- steps and time ---------------------------------------------------------------------------------------------------


def test_the_steps_of_the_class_are_numbered_anew():
    document = in_class(demo("birdhouse")).document
    assert [step.number for step in document.steps] == [1, 2, 3, 4, 5, 6]
    assert headings(document)[0] == "Free the corner flaps" and headings(document)[-1] == "Tie it shut"
    assert document.totals.hands_on.seconds == sum((2, 4, 2, 2, 3, 2)) * 60
    assert document.totals.get_ready is None


def test_when_nothing_is_done_before_class_everything_stays():
    whole = demo("twine-tag")
    found = in_class(whole)
    assert found.prepared == ()
    assert found.document == whole


def test_without_a_step_in_class_there_is_no_sheet():
    assert class_document(small(words=step("Cut", "cut base", before=True))) is None


def test_a_wait_does_not_point_to_a_step_that_is_not_there():
    thread = next(step for step in demo("drawer-box").steps if step.meanwhile)
    assert plain(thread.meanwhile, System.METRIC) == "Cut and score the sleeve"
    assert all(not step.meanwhile for step in in_class(demo("drawer-box")).document.steps)
    stays = in_class(demo("layered-card")).document.steps[1]
    assert plain(stays.meanwhile, System.METRIC) == "Layer the mats"


def test_what_is_for_the_teacher_is_not_handed_out():
    assert SectionKind.TEACHER in {section.kind for section in demo("keepsake-box").sections}
    assert {section.kind for section in in_class(demo("keepsake-box")).document.sections} == {SectionKind.TIPS}


# --- cautions ---------------------------------------------------------------------------------------------------------


def test_a_hazard_said_before_class_is_said_again_where_it_is_met():
    whole = demo("birdhouse")
    assert "trimmer-blade" in codes(whole)[0] and "trimmer-blade" not in codes(whole)[6]
    document = in_class(whole).document
    assert codes(document)[headings(document).index("Wrap the caramels")] == ["trimmer-blade"]


def test_a_hazard_that_is_not_met_again_is_not_said():
    assert "trimmer-blade" in codes(demo("drawer-box"))[0]
    assert "trimmer-blade" not in {code for step in codes(in_class(demo("drawer-box")).document) for code in step}


def test_in_full_is_said_what_the_whole_brings_and_what_arises_in_class():
    whole = demo("drawer-box")
    left = {caution.code for caution in whole.cautions} - {
        caution.code for caution in in_class(whole).document.cautions
    }
    in_class_steps = {caution.code for step in in_class(whole).document.steps for caution in step.hazards}
    assert "trimmer-blade" in left
    assert not left & in_class_steps
    assert not left & {"food-contact", "wrapped-food", "allergen", "small-parts", "cord"}


def test_an_authors_own_caution_stays_with_its_step():
    own = "caution: Mind the dog."
    words = step("Cut", "cut base", before=True, more="caution: Mind the cat.") + step("Fold", "fold base", more=own)
    document = in_class(small(words=words)).document
    said = [plain_passage(caution.own, System.METRIC) for step in document.steps for caution in step.cautions]
    assert said == ["Mind the dog."]


@pytest.mark.parametrize("name", DEMOS)
def test_every_hazard_of_the_class_is_said_once_and_at_the_first_step_that_brings_it(name):
    document = in_class(demo(name)).document
    said: set[str] = set()
    for one in document.steps:
        brings = [caution.code for caution in one.hazards]
        assert [caution.code for caution in one.cautions] == [
            code for code in brings if code == "own" or code not in said
        ]
        said.update(brings)


# --- the table --------------------------------------------------------------------------------------------------------


def test_pieces_made_ready_are_told_with_their_count_and_what_was_done():
    assert in_class(demo("birdhouse")).prepared == (
        PreparedPiece("base", "cut and scored"),
        PreparedPiece("birdhouse front\u00a0×\u00a02", "cut"),
    )


def test_turning_a_piece_over_leaves_nothing_to_be_seen():
    words = step("Cut", "cut base, turn base", before=True) + step("Turn", "turn base", before=True)
    assert in_class(small(words=words + step("Fold", "fold base"))).prepared == (PreparedPiece("base", "cut"),)


def on_table(document: Document) -> tuple[list[str], list[str]]:
    found = in_class(document).document
    return [supply.said for supply in found.supplies], [tool.said for tool in found.tools]


def test_card_that_is_all_cut_is_not_on_the_table():
    supplies, tools = on_table(demo("drawer-box"))
    # Before class only the trimmer is used; the slot is cut into a drawer that has long left its sheet.
    assert supplies == ["satin ribbon", "wet glue", "strong tape"]
    assert tools == ["bone folder", "craft knife", "metal ruler", "small sharp scissors", "cutting mat"]


def test_card_of_which_a_piece_is_still_to_be_cut_is_on_the_table():
    assert "charcoal card" not in on_table(demo("birdhouse"))[0]
    assert {"gingham card", "ink pad", "caramel"} <= set(on_table(demo("birdhouse"))[0])


def test_card_used_by_name_is_on_the_table():
    words = step("Cut", "cut base", before=True) + step("Fold", "fold base", more="with: card")
    assert on_table(small(words=words))[0] == ["card"]


@pytest.mark.parametrize(
    ("words", "left"),
    [
        ("Fold it", []),
        ("Peel the tape off and fold", ["strong tape"]),
    ],
)
def test_a_supply_named_before_class_only_is_used_up_unless_the_words_hint_at_it(words, left):
    supplies = "  card: cardstock, sheet A4\n  strong tape: double-sided tape, use 100 mm"
    text = step("Cut", "cut base", before=True, words="Put strong tape on the flaps") + step(
        "Fold", "fold base", words=words
    )
    assert on_table(small(words=text, supplies=supplies))[0] == left


def test_a_step_that_names_no_act_may_need_anything():
    words = step("Cut", "cut base", before=True) + step("Play", "")
    assert on_table(small(words=words)) == (
        ["card"],
        ["paper trimmer with scoring blade", "small sharp scissors", "bone folder"],
    )


# --- pictures ---------------------------------------------------------------------------------------------------------


def test_a_plan_goes_with_the_first_step_in_class_that_works_on_its_piece():
    shown = [(one.step, one.piece) for one in in_class(demo("birdhouse")).document.shown if not one.drawing]
    assert shown == [(0, ""), (1, "base"), (3, "birdhouse front"), (5, "wrapper")]


def test_a_plan_of_a_piece_that_class_never_touches_is_not_shown():
    words = step("Cut", "cut base", before=True) + step("Tie", "tie")
    plans = [one.piece for one in small(words=words).shown if not one.drawing]
    assert plans == ["base"] and all(one.drawing for one in in_class(small(words=words)).document.shown)


# --- any recipe -------------------------------------------------------------------------------------------------------

_PIECES = ("base", "lid", "strip")
_ACTS = ("cut", "score", "fold", "glue", "punch", "turn", "tie")
_STEPS = st.lists(
    st.tuples(st.sampled_from(_ACTS), st.sampled_from((*_PIECES, "")), st.booleans()), min_size=1, max_size=12
)


@settings(max_examples=40)
@given(steps=_STEPS)
def test_whatever_the_steps_the_class_has_its_own_and_loses_nothing_it_needs(steps):
    more = "".join(f"  {name}:\n    from: card\n    size: 50 x 50 mm\n" for name in _PIECES[1:])
    whole = small(
        more, "".join(step(f"{act} {piece} now", f"{act} {piece}", before=early) for act, piece, early in steps)
    )
    found = class_document(whole)
    own = [one for one in whole.steps if one.when is When.IN_CLASS]
    assert (found is None) == (not own)
    if found is None:
        return
    document = found.document
    assert [one.heading for one in document.steps] == [one.heading for one in own]
    assert [one.number for one in document.steps] == list(range(1, len(own) + 1))
    table = {line.said for line in (*document.supplies, *document.tools)}
    assert all(set(one.needs) <= table for one in document.steps)
    assert {one.step for one in document.shown} <= {0, *range(1, len(own) + 1)}
    works = {one.number: one.pieces for one in document.steps}
    assert all(one.piece in works[one.step] for one in document.shown if one.step and one.piece)
    seconds = sum(one.time.hands_on.seconds for one in document.steps if one.time.hands_on and not one.optional)
    assert document.totals.hands_on.seconds == seconds


def test_every_act_that_leaves_a_trace_has_a_word_for_it():
    """All but those that may be done at any time, and measuring and the like, which come to nothing by themselves."""
    silent = {"measure", "collect", "sort", "turn", "lay", "check", "dry", "wait", "share out", "clean"}
    told = {act.name for act in ACTS if catalogue().has(f"page.done.{act.name.replace(' ', '-')}")}
    assert {act.name for act in ACTS} - told == silent
    assert {act.name for act in ACTS if Phase.CUT <= act.phase <= Phase.FINISH} <= told
    named = {key.removeprefix("page.done.") for key in catalogue().names() if key.startswith("page.done.")}
    assert named == {name.replace(" ", "-") for name in told}


def test_the_whole_sheet_says_its_cautions_as_before():
    for name in DEMOS:
        said: set[str] = set()
        for caution in (caution for step in demo(name).steps for caution in step.cautions if caution.code != "own"):
            assert caution.code not in said
            said.add(caution.code)


def test_what_is_done_to_no_piece_is_told_too():
    document = small(words=step("Tie", "tie"))
    assert [(done.act, done.piece) for done in document.steps[0].done] == [("tie", "")]
