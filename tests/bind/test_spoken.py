"""Captions against a recipe: where steps begin, worked out by hand, and lengths that are spoken and not written."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from itertools import combinations_with_replacement
from operator import le
from pathlib import Path
from random import Random

import pytest

from foldwright.bind.aligning import _in_order, align, telling_words
from foldwright.finding import Finding, LineTable, Strength
from foldwright.finding.changes import changed
from foldwright.pipeline import Understood, check_captions, check_recipe
from foldwright.recipe.captions import Cue, CueLine, read_captions
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.moments import write_moment
from foldwright.recipe.film import moments_of
from foldwright.recipe.reading import read_recipe
from workbench.compiled import RECIPES
from workbench.long import tries

CASES = Path(__file__).parents[1] / "cases" / "captions"
BIRDHOUSE = (RECIPES / "birdhouse" / "recipe.md").read_text(encoding="utf-8")
FILM = (CASES / "birdhouse.vtt").read_text(encoding="utf-8")

TAG = """---
title: Gift tag
measured in: millimetres
{head}supplies:
  blue card: cardstock, sheet A4
  ribbon: ribbon, width 6 mm, use 40 cm
pieces:
  tag:
    from: blue card
    size: 50 x 90 mm
    down: 30 top | 60 bottom
    fold: card
---

## Cut the tag

do: cut tag

Cut the blue card to 50 x 90 mm.

## Score and fold

```step
do: score tag, fold tag
time: 2 min
```

Score it at 30 mm and fold it.

## Thread the ribbon

Pull the ribbon through.
"""


def film(*cues: tuple[str, str]) -> str:
    """Captions of cues at moments (`1:05`), each half a second long."""
    lines = ["WEBVTT", ""]
    for moment, said in cues:
        minutes, seconds = moment.split(":")
        lines += [f"00:{int(minutes):02}:{seconds}.000 --> 00:{int(minutes):02}:{seconds}.500", said, ""]
    return "\n".join(lines)


@cache
def understood(text: str) -> Understood:
    checked = check_recipe(text, "tag/recipe.md", "tag")
    assert checked.understood is not None
    return checked.understood


def found(captions: str, text: str = TAG.format(head="")) -> tuple[Finding, ...]:
    return check_captions(understood(text), captions, "film.vtt", text)


def proposed(findings: tuple[Finding, ...]) -> dict[object, tuple[object, str]]:
    """By the number of the step: its moment, and how sure it is."""
    steps = [one for one in findings if one.code.startswith("captions-step-")]
    return {
        (facts := dict(one.facts))["number"]: (facts["moment"], one.code.removeprefix("captions-step-"))
        for one in steps
    }


# --- where steps begin ------------------------------------------------------------------------------------------------


def test_a_film_of_the_birdhouse_has_every_step_where_its_heading_is_spoken() -> None:
    # Read off the captions by hand: the first cue that names each step.
    assert proposed(found(FILM, BIRDHOUSE)) == {
        1: ("0:41", "sure"),
        2: ("2:12", "sure"),
        3: ("3:41", "sure"),
        4: ("5:21", "sure"),
        5: ("6:10", "sure"),
        6: ("7:01", "sure"),
        7: ("8:31", "sure"),
        8: ("9:41", "sure"),
    }


def test_how_much_a_cue_speaks_for_a_step_by_hand() -> None:
    # Words of the opening: gift, tag, blue, card, ribbon (what is said once counts once).
    # Of step 1: cut 2, tag 2, blue 1, card 1. Of step 2: score 2, fold 2, tag 1. Of step 3: thread 2, ribbon 2, pull 1,
    # through 1. `tag` is shared by the opening and steps 1 and 2, `blue` and `card` by the opening and step 1, `ribbon`
    # by the opening and step 3.
    recipe = understood(TAG.format(head="")).recipe
    assert telling_words("Cut the tag.") == {"cut", "tag"}
    assert telling_words("Scoring and folding") == {"score", "fold"}
    # `blue card`: opening 1/2 + 1/2, step 1 the same: it stays with the opening. `cut`: step 1 alone, 2. `ribbon`:
    # opening 1/2, step 3 2/2. After `fold` it goes on to step 3.
    said = ("here is blue card", "we cut it", "hm", "fold now", "the ribbon")
    captions = film(*zip(("0:01", "0:10", "0:20", "0:30", "0:40"), said, strict=True))
    aligned = align(recipe, read_captions(captions, "film.vtt", Complaints()))
    assert [cue.text for cue in aligned.opening] == ["here is blue card"]
    assert [(one.step.number, [cue.text for cue in one.cues]) for one in aligned.steps] == [
        (1, ["we cut it", "hm"]),
        (2, ["fold now"]),
        (3, ["the ribbon"]),
    ]
    assert [one.sureness.value for one in aligned.steps] == ["sure", "sure", "sure"]


def test_how_sure_it_is_follows_from_what_is_said() -> None:
    # Step 3 has two telling words in its heading, of which none is said: with two words of the step it is likely.
    assert proposed(found(film(("0:05", "cut the tag"), ("0:30", "pull it through now"))))[3] == ("0:30", "likely")
    guessed = found(film(("0:05", "cut the tag"), ("0:30", "now pull")))
    assert proposed(guessed)[3] == ("0:30", "guess")
    # A guess is for looking there: nobody writes it by answering `all`.
    ways = {one.code: [mend.hides for mend in one.mends] for one in guessed}
    assert ways == {"captions-step-sure": [False, True], "captions-step-guess": [True]}


def test_what_is_said_too_early_moves_no_step_back() -> None:
    captions = film(
        ("0:01", "later we thread the ribbon"), ("0:10", "cut the tag"), ("0:30", "score and fold it"),
        ("0:50", "thread the ribbon"),
    )  # fmt: skip
    assert proposed(found(captions)) == {1: ("0:10", "sure"), 2: ("0:30", "sure"), 3: ("0:50", "sure")}


def test_a_step_nobody_speaks_of_gets_no_moment() -> None:
    assert proposed(found(film(("0:10", "cut the tag"), ("0:50", "thread the ribbon")))).keys() == {1, 3}


def test_a_step_that_says_its_moment_is_only_doubted_where_it_is_sure() -> None:
    text = TAG.format(head="video: https://harbourstreet.example/tag.mp4\n")
    at_ten = text.replace("do: cut tag\n", "do: cut tag\nvideo: 0:10\n")
    captions = film(("0:14", "cut the tag"), ("0:30", "score and fold it"))
    assert proposed(found(captions, at_ten)) == {2: ("0:30", "sure")}
    late = text.replace("do: cut tag\n", "do: cut tag\nvideo: 0:20\n")
    assert proposed(found(captions, late)) == {1: ("0:14", "elsewhere"), 2: ("0:30", "sure")}


def test_a_moment_that_does_not_go_with_those_of_other_steps_is_not_proposed() -> None:
    text = TAG.format(head="video: https://harbourstreet.example/tag.mp4\n")
    text = text.replace("do: cut tag\n", "do: cut tag\nvideo: 0:40\n")
    assert 2 not in proposed(found(film(("0:12", "cut the tag"), ("0:30", "score and fold it")), text))


@pytest.mark.parametrize("step", [1, 2, 3])
def test_agreed_to_the_moment_stands_in_the_step(step: int) -> None:
    text = TAG.format(head="video: https://harbourstreet.example/tag.mp4\n")
    captions = film(("0:10", "cut the tag"), ("0:30", "score and fold it"), ("0:50", "thread the ribbon"))
    one = next(one for one in found(captions, text) if dict(one.facts).get("number") == step)
    mended = changed(text, one.mends[0].changes)
    recipe = read_recipe(mended, "tag/recipe.md", "tag").recipe
    assert recipe is not None
    moments = {moment.step.number: moment.written for moment in moments_of(recipe)}
    assert moments == {step: dict(one.facts)["moment"]}
    before = read_recipe(text, "tag/recipe.md", "tag").recipe
    assert before is not None
    assert [(step.heading.value, step.do, len(step.words)) for step in recipe.steps][: step - 1] == [
        (step.heading.value, step.do, len(step.words)) for step in before.steps
    ][: step - 1]
    assert mended.replace(f"video: {dict(one.facts)['moment']}\n", "").split() == text.split()


def test_the_order_is_the_best_of_all_orders_and_as_late_as_may_be() -> None:
    """Against every order there is, of a few cues and steps."""
    random = Random(5)
    for _ in range(tries(150, 3000)):
        cues, places = random.randint(1, 6), random.randint(1, 4)
        drawn = [[random.choice([0, 0, 1, 2, 3]) for _ in range(places)] for _ in range(cues)]
        scores = [[Fraction(number, 2) for number in row] for row in drawn]
        ways = combinations_with_replacement(range(places), cues)
        sums = {way: sum(row[place] for row, place in zip(drawn, way, strict=True)) for way in ways}
        best = [way for way, total in sums.items() if total == max(sums.values())]
        chosen = tuple(_in_order(scores))
        assert chosen in best
        # No way as good has every step begin as late, and one of them later.
        assert not any(way != chosen and all(map(le, way, chosen)) for way in best)


# --- lengths ----------------------------------------------------------------------------------------------------------


def spoken(captions: str, text: str = TAG.format(head="")) -> list[tuple[str, int, object]]:
    """What is found of lengths: its code, its line in the captions, the moment."""
    lines = LineTable(captions)
    return [
        (one.code, lines.line_and_column(one.place.start)[0], dict(one.facts)["moment"])
        for one in found(captions, text)
        if one.code.startswith("spoken-") and one.place
    ]


def test_a_length_that_differs_is_told_with_its_moment_and_its_line() -> None:
    captions = film(("0:10", "cut the tag fifty by ninety millimetres"), ("0:30", "score it at thirty-two millimetres"))
    assert spoken(captions) == [("spoken-differs", 7, "0:30")]
    facts = next(dict(one.facts) for one in found(captions) if one.code == "spoken-differs")
    # 32 mm are heard, the score is at 30: 2 mm apart.
    assert [facts[name].mm for name in ("said", "length", "apart")] == [32, 30, 2]  # type: ignore[attr-defined]
    assert {one.strength for one in found(captions) if one.code == "spoken-differs"} == {Strength.MISFIT}


def test_a_length_the_recipe_has_not_is_told() -> None:
    captions = film(("0:10", "cut the tag"), ("0:50", "thread seven inches of ribbon"))
    assert spoken(captions) == [("spoken-lacks", 7, "0:50")]


def test_lengths_the_recipe_has_are_well_in_either_system_and_as_they_are_printed() -> None:
    # 30 mm is printed 1 3/16 in (30.16 mm); the ribbon is 40 cm, and 6 mm wide.
    captions = film(
        ("0:10", "cut the tag 5 by 9 centimetres"),
        ("0:30", "score it at one and three sixteenths of an inch"),
        ("0:50", "thread forty centimetres of the six millimetre ribbon"),
    )
    assert spoken(captions) == []


def test_a_length_parted_by_two_cues_is_heard_as_one() -> None:
    captions = film(("0:10", "cut the tag"), ("0:30", "score it at thirty"), ("0:33", "two millimetres and fold"))
    assert spoken(captions) == [("spoken-differs", 7, "0:30")]


def test_the_birdhouse_is_told_of_two_lengths() -> None:
    # 2 5/8 in is spoken for the score at 2 1/2, and no 7 in of paper are in the recipe; read off by hand.
    assert spoken(FILM, BIRDHOUSE) == [("spoken-differs", 22, "0:52"), ("spoken-lacks", 54, "8:31")]


def test_hushed_thoughts_stay_hushed() -> None:
    text = TAG.format(head="hush: spoken-lacks\n")
    assert spoken(film(("0:50", "thread seven inches of ribbon")), text) == []


def test_random_talk_raises_nothing_and_every_place_is_where_it_is_said() -> None:
    random = Random(11)
    words = "cut score fold tag ribbon three and a half inches thirty two millimetres at 5 x 9 cm , . by".split()
    for _ in range(tries(60, 3000)):
        moments = sorted(random.sample(range(300), random.randint(1, 8)))
        cues = [(write_moment(at), " ".join(random.choices(words, k=random.randint(1, 9)))) for at in moments]
        captions = film(*cues)
        for one in found(captions):
            assert one.place is not None
            if one.place.file == "film.vtt" and one.code.startswith("spoken-"):
                assert captions[one.place.start : one.place.end].strip()


def test_a_talk_without_a_cue_of_the_recipe_proposes_nothing() -> None:
    line = CueLine("good evening", 0)
    recipe = understood(TAG.format(head="")).recipe
    cue = Cue(0, 1000, (line,), found(film(("0:01", "cut")))[0].place)  # type: ignore[arg-type]
    assert align(recipe, [cue]).steps == ()
