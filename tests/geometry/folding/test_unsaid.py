"""Who says nothing of how a piece folds is asked where something else says that it does, and only there."""

from __future__ import annotations

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.document.findings import tell
from foldwright.finding import Finding, Strength
from foldwright.pipeline import check_recipe
from workbench.compiled import DEMOS, RECIPES

ASKS = frozenset({"flaps-of-what-form", "folded-to-what-form", "folded-at-what-angles", "named-after-a-form"})
ROWS = {
    "three by three": "across: 30 | 60 | 30 mm\n    down: 30 | 80 | 30 mm",
    "four and a flap": "size: 140 x 60 mm\n    across: 40 | 25 | 40 | 25 | 10 glue flap",
    "two": "across: 50 | 50 mm\n    down: 60 mm",
    "three": "across: 50 | 50 | 50 mm\n    down: 60 mm",
    "none": "size: 100 x 60 mm",
}


def asked(name: str, rows: str, do: str, more: str = "") -> list[Finding]:
    """What is asked of one piece beside a tag that is flat."""
    text = f"""---
title: A trial
makes: 1 box
measured in: millimetres
supplies:
  card: cardstock, weight 200 g/m2, sheet 700 x 1000 mm
tools:
  - ruler, craft knife, scoring tool
pieces:
  {name}:
    from: card
    {ROWS[rows]}
{more}  tag:
    from: card
    size: 40 x 60 mm
---

## Make it

do: {do}
time: 5 min

Work slowly.
"""
    return [one for one in check_recipe(text, "recipe.md", "trial").findings if one.code in ASKS]


@pytest.mark.parametrize("rows", ROWS)
def test_scores_alone_ask_nothing(rows: str) -> None:
    assert asked("panel", rows, "cut and score panel, cut tag") == []
    assert asked("card", rows, "cut and score card, cut tag") == []
    assert asked("panel", rows, "cut and score panel, fold tag") == []


@pytest.mark.parametrize(
    ("name", "rows", "first", "others"),
    [
        ("panel", "three by three", "tray", ("lid",)),
        ("snow lid", "three by three", "lid", ("tray",)),
        ("panel", "four and a flap", "sleeve", ()),
        ("panel", "two", "card", ("accordion",)),
        ("panel", "three", "tri-fold", ("gate", "accordion", "sleeve")),
        ("gate", "three", "gate", ("tri-fold", "accordion", "sleeve")),
    ],
)
def test_a_step_that_folds_it_asks_for_the_forms_its_scores_would_do_for(
    name: str, rows: str, first: str, others: tuple[str, ...]
) -> None:
    (finding,) = asked(name, rows, f"cut and score {name}, fold {name}, cut tag")
    facts = dict(finding.facts)
    assert (finding.code, finding.strength) == ("folded-to-what-form", Strength.MISFIT)
    assert (facts["form"], facts["others"]) == (first, others)
    told = tell(finding, {}, catalogue())
    assert told.remedy.startswith(f"Write:  fold: {first}")
    assert all(form in told.remedy for form in others)
    assert ("Other forms" in told.remedy) is bool(others)


def test_a_name_alone_is_a_suggestion_and_only_where_the_scores_would_do() -> None:
    (finding,) = asked("treat tray", "three by three", "cut and score treat tray, cut tag")
    assert (finding.code, finding.strength) == ("named-after-a-form", Strength.THOUGHT)
    assert asked("treat tray", "two", "cut and score treat tray, cut tag") == []
    assert asked("tray liner", "three by three", "cut and score tray liner, cut tag") == []
    assert asked("treat tray", "three by three", "cut and score treat tray, cut tag", "    fold: flat\n") == []


@pytest.mark.parametrize("said", ["flat", "tray", "-90, -90, -90, -90", "try"])
def test_who_says_anything_of_its_fold_is_not_asked(said: str) -> None:
    flaps = f"    flaps: joined to top and bottom\n    fold: {said}\n"
    assert asked("tray", "three by three", "cut and score tray, fold tray, cut tag", flaps) == []


@pytest.mark.parametrize("name", DEMOS)
def test_nothing_is_asked_of_our_own_recipes(name: str) -> None:
    text = (RECIPES / name / "recipe.md").read_text(encoding="utf-8")
    assert not ASKS & {one.code for one in check_recipe(text, "recipe.md", name).findings}
