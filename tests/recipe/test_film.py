"""Moments in a video: how they are read, and what is told of those that do not go together."""

from __future__ import annotations

import pytest

from foldwright.finding import Finding, LineTable, Strength
from foldwright.recipe.facts.moments import near_moment, parted_film, read_film_length, read_moment, write_moment
from foldwright.recipe.film import check_film, moments_of
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe

# Seconds by hand: 3 x 60 + 40; 3600 + 2 x 60 + 5; 75 x 60 + 10.
MOMENTS = {"3:40": 220, "0:00": 0, "0:09": 9, "1:02:05": 3725, "75:10": 4510, "01:00": 60, " 3:40 ": 220}
NONE = ["", "3", "3:4", "3:60", "1:75:10", "3.40", "3:40 min", "-3:40", "3:40:", "::", "three", "12:3:40", "٣:٤٠"]


@pytest.mark.parametrize(("text", "seconds"), MOMENTS.items())
def test_moments_are_read(text: str, seconds: int) -> None:
    assert read_moment(text) == seconds


@pytest.mark.parametrize("text", NONE)
def test_what_is_no_moment_is_not_taken_for_one(text: str) -> None:
    assert read_moment(text) is None


@pytest.mark.parametrize("seconds", [0, 9, 60, 599, 600, 3599, 3600, 3725, 86_399])
def test_a_moment_is_read_as_it_is_written(seconds: int) -> None:
    assert read_moment(write_moment(seconds)) == seconds


@pytest.mark.parametrize(
    ("text", "near"),
    [("3.40", "3:40"), ("3,40", "3:40"), ("3 40", "3:40"), ("3 min 40 s", "3:40"), ("90 s", "1:30"), ("later", "")],
)
def test_what_is_nearly_a_moment_is_known(text: str, near: str) -> None:
    assert near_moment(text) == near


@pytest.mark.parametrize(
    ("text", "address", "seconds"),
    [
        ("https://harbourstreet.example/box.mp4, 12:30 long", "https://harbourstreet.example/box.mp4", 750),
        ("https://harbourstreet.example/box.mp4 , 12 min 30 s long", "https://harbourstreet.example/box.mp4", 750),
        ("https://harbourstreet.example/a,b.mp4 1:00:00 long", "https://harbourstreet.example/a,b.mp4", 3600),
        ("https://harbourstreet.example/box.mp4", "https://harbourstreet.example/box.mp4", None),
    ],
)
def test_an_address_may_say_how_long_its_video_is(text: str, address: str, seconds: int | None) -> None:
    found, length = parted_film(text)
    assert found == address
    assert (read_film_length(length) if length else None) == seconds


HEAD = "---\ntitle: Tag\nvideo: https://harbourstreet.example/tag.mp4{length}\n---\n"


def recipe_of(*moments: str, length: str = ", 10:00 long") -> tuple[Recipe, str]:
    steps = (f"\n## Step {number}\n\nvideo: {said}\n\nWords.\n" for number, said in enumerate(moments, 1))
    text = HEAD.format(length=length) + "".join(steps)
    recipe = read_recipe(text, "tag/recipe.md", "tag").recipe
    assert recipe is not None
    return recipe, text


def told(*moments: str, length: str = ", 10:00 long") -> list[tuple[str, int]]:
    """The codes of what is found, each with its line."""
    recipe, text = recipe_of(*moments, length=length)
    lines = LineTable(text)

    def line(finding: Finding) -> int:
        assert finding.place is not None
        return lines.line_and_column(finding.place.start)[0]

    return [(finding.code, line(finding)) for finding in check_film(recipe)]


# The facts take four lines, each step six, of which the fourth has its moment: lines 8, 14 and 20.
@pytest.mark.parametrize(
    ("moments", "found"),
    [
        (("0:00", "1:00", "2:00"), []),
        (("1:00", "0:59", "2:00"), [("video-moment-before", 14)]),
        (("1:00", "1:00", "2:00"), [("video-moment-twice", 14)]),
        (("1:00", "9:59", "10:00"), [("video-moment-beyond", 20)]),
        (("1:00", "2.00", "3:00"), [("video-moment-unread-near", 14)]),
        (("1:00", "in the middle", "3:00"), [("video-moment-unread", 14)]),
        (("1:00", "https://harbourstreet.example/two.mp4", "3:00"), []),
    ],
)
def test_moments_that_do_not_go_together_are_told_where_they_stand(
    moments: tuple[str, ...], found: list[tuple[str, int]]
) -> None:
    assert told(*moments) == found


@pytest.mark.parametrize(
    "address", ["www.harbourstreet.example/box", "javascript:alert(1)", "https://[x/box.mp4", "box.mp4"]
)
def test_a_video_that_nothing_can_lead_to_is_told(address: str) -> None:
    text = HEAD.format(length="").replace("https://harbourstreet.example/tag.mp4", address)
    assert address in text
    recipe = read_recipe(text, "tag/recipe.md", "tag").recipe
    assert recipe
    (found,) = check_film(recipe)
    assert (found.code, found.strength, dict(found.facts)["said"]) == ("video-odd", Strength.MISFIT, address)


def test_where_nobody_says_how_long_the_video_is_no_moment_is_beyond_it() -> None:
    assert told("1:00", "2:00", "99:00", length="") == []


def test_what_does_not_go_together_is_no_mere_thought() -> None:
    recipe, _ = recipe_of("1:00", "0:30", "11:00")
    assert {finding.strength for finding in check_film(recipe)} == {Strength.MISFIT}


def test_a_length_that_is_none_is_a_fault_with_its_place() -> None:
    text = HEAD.format(length=", quite long")
    findings = [one for one in read_recipe(text, "tag/recipe.md", "tag").findings if one.code.startswith("video-")]
    assert [(one.code, one.strength, dict(one.facts)["said"]) for one in findings] == [
        ("video-length-unreadable", Strength.FAULT, "quite")
    ]


def test_moments_are_in_the_order_of_the_steps() -> None:
    recipe, _ = recipe_of("1:00", "https://harbourstreet.example/two.mp4", "3:00")
    assert [(one.step.number, one.seconds) for one in moments_of(recipe)] == [(1, 60), (3, 180)]
