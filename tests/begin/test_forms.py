"""What `new` offers: whatever is answered, the draft is right as it stands, and its sums are those of the forms."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from foldwright.begin.draft.begun import Begun, begin
from foldwright.begin.forms import EXAMPLES, SIZES, FormAnswers, draft_of_form, read_size
from foldwright.begin.options import FORMS, MADE
from foldwright.document.catalogue import catalogue
from foldwright.geometry.flat.inside import rooms
from foldwright.measure.length import Length, System, Unit
from foldwright.pipeline import check_recipe
from workbench.long import tries


def begun(answers: FormAnswers) -> Begun:
    return begin(draft_of_form(answers, catalogue()), "thing/recipe.md", "thing")


@settings(max_examples=tries(30, 60))
@given(
    form=st.sampled_from([form for form in FORMS if form not in MADE]),
    unit=st.sampled_from([Unit.INCH, Unit.MILLIMETRE]),
    eighths=st.lists(st.integers(8, 32), min_size=3, max_size=3),
    panels=st.sampled_from([4, 6, 8]),
)
def test_every_form_in_every_size_a_sheet_gives_is_right(
    form: str, unit: Unit, eighths: list[int], panels: int
) -> None:
    part = Fraction(1, 8) if unit is Unit.INCH else Fraction(3)
    lengths = tuple(Length.of(number * part, unit) for number in eighths)
    assume(form != "booklet" or panels * lengths[0].mm < 420)
    size = lengths[: EXAMPLES[unit.system][SIZES[form]].count("x") + 1]
    one = begun(FormAnswers("Thing", form, size, panels, "white card"))
    assert not one.checked.wrong, (one.text, one.checked.findings)
    assert check_recipe(one.text, "recipe.md", "thing").findings == ()
    assert one.hushed == ()


LIMITS = {
    "pillow box": "pillow-too-thick",
    "gable-top": "gables-meet",
    "gift bag": "bag-too-deep",
    "prism": "piece-larger-than-sheet",
}
"""What is said of a size there is none of: by the rule of its form, or by the largest sheet."""


@settings(max_examples=tries(40, 80))
@given(
    form=st.sampled_from(MADE),
    unit=st.sampled_from([Unit.INCH, Unit.MILLIMETRE]),
    eighths=st.lists(st.integers(8, 24), min_size=3, max_size=3),
    sides=st.integers(3, 12),
)
def test_a_form_that_is_worked_out_is_right_in_every_size_there_is(
    form: str, unit: Unit, eighths: list[int], sides: int
) -> None:
    part = Fraction(1, 8) if unit is Unit.INCH else Fraction(3)
    wanted = EXAMPLES[unit.system][SIZES[form]].count("x") + 1
    size = tuple(Length.of(number * part, unit) for number in eighths)[:wanted]
    one = begun(FormAnswers("Thing", form, size, sides, "white card"))
    if one.checked.wrong:
        assert LIMITS.get(form) in {finding.code for finding in one.checked.findings}, (one.text, one.checked.findings)
        return
    assert check_recipe(one.text, "recipe.md", "thing").findings == ()
    assert one.checked.understood is not None
    blank = one.checked.understood.flat.blank(form.rsplit(" ", 1)[-1])
    assert blank is not None and blank.form == form
    # By the geometry of the folded form, which had no part in the draft.
    if form == "cube":
        assert [mm for _, mm in blank.made] == [size[0].mm] * 3
    else:
        assert {mm for _, mm in blank.made} >= {length.mm for length in size}


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("form", FORMS)
def test_every_form_as_it_is_suggested_is_right(form: str, system: System) -> None:
    size = read_size(EXAMPLES[system][SIZES[form]], form, system)
    assert isinstance(size, tuple)
    one = begun(FormAnswers("Thing", form, size, 4, "white card"))
    assert (one.checked.findings, one.hushed) == ((), ())


@pytest.mark.parametrize("said", ["3 x 2 x 1 in", "3 1/16 x 2 1/4 x 2 in", "3.3 x 2.7 x 1.1 in", "61.5 x 60 x 60 mm"])
def test_a_box_has_the_floor_and_the_walls_that_were_asked_for_and_its_lid_goes_on(said: str) -> None:
    system = System.METRIC if said.endswith("mm") else System.IMPERIAL
    size = read_size(said, "lid", system)
    assert isinstance(size, tuple)
    one = begun(FormAnswers("Box", "lid", size, 0, "white card"))
    assert one.checked.findings == (), one.text
    assert one.checked.understood is not None
    base, lid = (one.checked.understood.flat.blank(name) for name in ("base", "lid"))
    assert base is not None and lid is not None
    rows = (base.across[1], base.down[1], base.across[0])
    assert [strip.end - strip.start for strip in rows] == [length.mm for length in size]
    # By the rule of `geometry.flat.inside`, which had no part in the sums of the draft.
    card = one.checked.understood.flat.cards["base"].length.mm
    for outer, inner in zip(rooms(lid, card)[:2], rooms(base, card)[:2], strict=True):
        assert outer.inside > inner.outside
