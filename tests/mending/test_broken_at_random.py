"""Demo recipes broken at a random place: every mend that is offered removes its finding, and mending ends."""

from __future__ import annotations

from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.finding import Finding
from foldwright.finding.changes import changed, moved
from mending import broken
from workbench.command_line import TOP

NAMES = ("drawer-box", "birdhouse", "twine-tag")
PIECES = [
    "",
    "",
    " ",
    "  ",
    "\n",
    ":",
    ",",
    "|",
    "-",
    "#",
    " # ",
    "x",
    "ee",
    "1",
    "1,000",
    "41/8",
    "&a ",
    "(",
    "{",
    "\t",
]
MOST_MENDS = 200


@cache
def demo(name: str) -> str:
    return (TOP / "recipes" / name / "recipe.md").read_text(encoding="utf-8")


@st.composite
def broken_recipes(draw: st.DrawFn) -> str:
    """A demo recipe with a few letters gone, and something else in their place."""
    text = demo(draw(st.sampled_from(NAMES)))
    start = draw(st.integers(0, len(text) - 1))
    gone = draw(st.integers(0, 6))
    return text[:start] + draw(st.sampled_from(PIECES)) + text[start + gone :]


@settings(max_examples=40, deadline=None)
@given(broken_recipes())
def test_every_mend_of_a_broken_recipe_applies_and_removes_its_finding(text: str) -> None:
    sound = {(one.code, one.strength) for name in NAMES for one in broken.found_in(demo(name))}
    for finding, mend in broken.ways_of(text):
        if (finding.code, finding.strength) not in sound:
            assert_gone(text, finding, mend.changes)


def assert_gone(text: str, finding: Finding, changes: tuple) -> None:  # type: ignore[type-arg]
    """The same is not said of the same place any more."""
    assert finding.place is not None
    at = moved(finding.place.start, changes)
    after = broken.found_in(changed(text, changes))
    same = [one for one in after if (one.code, one.facts) == (finding.code, finding.facts)]
    assert not [one for one in same if one.place and one.place.start == at], (finding, changes)


@settings(max_examples=20, deadline=None)
@given(broken_recipes())
def test_mending_again_and_again_comes_to_an_end(text: str) -> None:
    asked: set[tuple[str, object]] = set()
    for _ in range(MOST_MENDS):
        found = (one for one in broken.found_in(text) if (one.code, one.facts) not in asked)
        finding = next((one for one in found if one.mends and not one.mends[0].hides), None)
        if finding is None:
            break
        asked.add((finding.code, finding.facts))
        text = changed(text, finding.mends[0].changes)
    else:
        raise AssertionError("there is no end to it")
    left = [one for one in broken.found_in(text) if one.mends and not one.mends[0].hides]
    assert all((one.code, one.facts) in asked for one in left)
