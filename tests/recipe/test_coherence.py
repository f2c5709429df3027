"""Names that must name something, things never used, steps out of order."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.finding import Finding, Strength
from foldwright.pipeline import check_recipe
from foldwright.recipe.coherence import check_names, unknown_hushes
from foldwright.recipe.reading import read_recipe

ROOT = Path(__file__).parent.parent.parent
RECIPES = ROOT / "recipes"
COMPILER = ROOT / "compiler" / "foldwright"

PLAIN = """\
---
title: Tag
level: easy
supplies:
  kraft card: cardstock, sheet A4
  leaf paper: patterned paper, sheet A4
  jute twine: twine, use 10 in
tools:
  - paper trimmer with scoring blade
  - bone folder
pieces:
  tag:
    from: kraft card
    size: 2 x 4 in
    across: 1 | 1
    fold: card
  leaf:
    from: leaf paper
    size: 1 x 1 in
    goes on: outside of tag
---

## Cut

```step
do: cut tag, cut leaf
time: 1 min
```

Cut them.

## Score

```step
do: score tag
time: 1 min
```

Score it.

## Fold

```step
do: fold tag
time: 1 min
```

Fold it and tie the twine.
"""


def told(old: str = "", new: str = "", text: str = PLAIN) -> list[Finding]:
    """The findings of the plain recipe with one passage changed."""
    assert old in text
    recipe = read_recipe(text.replace(old, new, 1), "recipe.md", "tag").recipe
    assert recipe is not None
    return list(check_names(recipe))


def codes(old: str = "", new: str = "") -> list[str]:
    return [finding.code for finding in told(old, new)]


def test_an_ordinary_recipe_has_nothing_told_of_it():
    assert codes() == []


@pytest.mark.parametrize("recipe", sorted(RECIPES.glob("*/recipe.md")), ids=lambda path: path.parent.name)
def test_the_demo_recipes_have_nothing_told_of_them(recipe):
    assert told(text=recipe.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("old", "new", "code", "strength"),
    [
        ("from: leaf paper", "from: leef paper", "from-names-nothing", Strength.FAULT),
        ("from: leaf paper", "from: zinc", "from-names-nothing-at-all", Strength.FAULT),
        ("outside of tag", "outside of tug", "place-names-nothing", Strength.MISFIT),
        ("goes on: outside of tag", "fits over: tgg", "place-names-nothing", Strength.MISFIT),
        ("goes on: outside of tag", "slides in: envelop", "place-names-nothing-at-all", Strength.MISFIT),
        ("    fold: card", "    holds: caramel", "holds-names-nothing-at-all", Strength.MISFIT),
    ],
)
def test_a_name_that_names_nothing_is_stronger_than_a_thought(old, new, code, strength):
    found = next(finding for finding in told(old, new) if finding.code == code)
    assert found.strength is strength


def test_the_nearest_name_is_offered():
    found = next(finding for finding in told("from: leaf paper", "from: leef paper"))
    facts = dict(found.facts)
    assert facts["nearest"] == "leaf paper"
    assert catalogue().say("from-names-nothing.remedy", **facts).startswith("Did you mean leaf paper?")


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("  jute twine", "  plum card: cardstock, sheet A4\n  jute twine", "supply-unused"),
        ("  jute twine", "  brass bell: bell\n  jute twine", "supply-unused"),
        ("pieces:", "pieces:\n  medal:\n    from: kraft card\n    size: 1 x 1 in", "piece-unmentioned"),
        ("tools:\n  - paper trimmer with scoring blade\n  - bone folder\n", "", "no-tools"),
        ("do: fold tag", "do: fold tag, punch tag", "tool-missing"),
        ("Fold it and", "Fold it, snip the corners with scissors and", "tool-not-listed"),
        ("do: score tag\ntime: 1 min", "do: score tag", "no-time"),
        ("level: easy", "level: wobbly", "level-unknown"),
        ("twine, use", "moonbeam, use", "kind-unknown"),
        ("  - bone folder", "  - bone folder\n  - sprocket", "tool-unknown"),
        ("  - bone folder", "  - bone folder\n  - ink pad", "tool-is-supply"),
        # Though tools have names hardly different: clear stamp, stapler.
        ("  - bone folder", "  - bone folder\n  - clear tape", "tool-is-supply"),
        ("  - bone folder", "  - bone folder\n  - staple", "tool-is-supply"),
        ("## Score", "## Cut", "heading-twice"),
        ("do: score tag\n", "do: score tag\nphoto: a.jpg\n", "photo-without-words"),
        ("do: score tag\n", "do: score tag\nvideo: 3:40\n", "video-without-address"),
    ],
)
def test_each_thought_is_told_once_and_alone(old, new, code):
    found = told(old, new)
    assert [finding.code for finding in found] == [code]
    assert found[0].strength is Strength.THOUGHT


def test_what_sticks_is_used_by_a_step_that_glues():
    glue = "  liquid glue: wet glue\n  jute twine"
    assert codes("  jute twine", glue) == ["supply-unused"]
    glued = PLAIN.replace("  jute twine", glue).replace("do: score tag", "do: score tag, glue tag")
    assert "supply-unused" not in [finding.code for finding in told(text=glued)]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        # A small amount, a choice, something a step uses or speaks of: none of these is unused.
        ("  jute twine", "  ink pad: ink, use a little\n  jute twine"),
        ("  jute twine", "  plum card: cardstock, sheet A4, optional\n  jute twine"),
        ("  jute twine: twine, use 10 in", "  jute twine: twine"),
        ("  jute twine", "  glue dot: glue dot\n  jute twine"),
        # The best way to say it: a plural, a capital.
        ("outside of tag", "outside of Tag"),
        ("from: leaf paper", "from: Leaf Paper"),
        # A pencil lies on every table.
        ("do: score tag", "do: mark and score tag"),
        ("do: score tag\n", "do: score tag\nphoto: a.jpg\nphoto shows: The scored tag\n"),
        ("do: score tag\n", "do: score tag\nvideo: https://harbourstreet.example/tag\n"),
        ("title: Tag", "title: Tag\nvideo: https://harbourstreet.example/tag"),
    ],
)
def test_what_is_well_is_passed_over(old, new):
    new = new if "glue dot" not in new else new.replace("glue dot: glue dot", "glue dot: glue dot, use 2")
    assert codes(old, new) == []


def test_all_times_missing_is_one_thought():
    text = PLAIN.replace("time: 1 min\n", "")
    assert [finding.code for finding in told(text=text)] == ["no-time-at-all"]


def test_several_times_missing_are_one_thought_with_their_number():
    text = PLAIN.replace("time: 1 min\n", "", 2)
    found = told(text=text)
    assert [finding.code for finding in found] == ["no-time"]
    facts = dict(found[0].facts)
    assert facts["count"] == 2
    assert catalogue().say("no-time.says", **facts).startswith("2 steps have no time")


def test_scoring_after_folding_is_told_where_it_is_scored():
    text = PLAIN.replace("do: score tag", "do: FOLD").replace("do: fold tag", "do: score tag")
    text = text.replace("do: FOLD", "do: fold tag")
    found = told(text=text)
    assert [finding.code for finding in found] == ["score-after-fold"]
    assert found[0].place is not None
    assert text[found[0].place.start : found[0].place.end] == "score tag"
    assert dict(found[0].facts)["folded"] == "Score"


def test_scoring_another_piece_after_folding_is_fine():
    assert codes("do: fold tag", "do: fold tag, score leaf") == []


def test_a_wait_cannot_be_filled_with_what_is_done_already():
    assert codes("do: fold tag\n", "do: fold tag\nwait: 10 min, meanwhile Score\n") == ["meanwhile-before"]
    assert codes("do: cut tag, cut leaf\n", "do: cut tag, cut leaf\nwait: 10 min, meanwhile Score\n") == []


def test_a_hushed_word_that_is_no_thought_is_told_with_the_nearest():
    recipe = read_recipe(PLAIN.replace("level: easy", "hush: no-tim, no-time"), "recipe.md", "tag").recipe
    assert recipe is not None
    found = unknown_hushes(recipe, {"no-time", "supply-unused"})
    assert [dict(finding.facts) for finding in found] == [{"name": "no-tim", "nearest": "no-time"}]


@pytest.mark.parametrize(("hushed", "told"), [("no-trim-to-spare", []), ("no-trim-to-spar", ["hush-unknown"])])
def test_the_whole_check_knows_every_thought_there_is(hushed, told):
    text = PLAIN.replace("level: easy", f"hush: {hushed}")
    found = [finding.code for finding in check_recipe(text, "recipe.md", "tag").findings]
    assert [code for code in found if code == "hush-unknown"] == told


def test_every_code_has_its_words():
    source = (COMPILER / "recipe" / "coherence.py").read_text(encoding="utf-8")
    found = set(re.findall(r'"([a-z]+(?:-[a-z]+)+)"', source))
    found |= {f"{code}-at-all" for code in found if code.endswith("names-nothing")}
    words = catalogue()
    assert len(found) > 20
    assert {code for code in found if not (words.has(f"{code}.says") and words.has(f"{code}.remedy"))} == set()
