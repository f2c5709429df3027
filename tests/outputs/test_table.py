"""The table of outputs, and the wishes that are read by it."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import fields

from foldwright.finding import Wrong
from foldwright.measure.length import System
from foldwright.outputs.model import BuildWish, OnPaper
from foldwright.outputs.options import BuildOptions
from foldwright.outputs.table import OUTPUTS
from foldwright.outputs.wishes import wish_of
from foldwright.render.paper.papers import paper_named
from foldwright.render.themes import DEFAULT_THEME, load_paper_theme

VALUES: dict[str, Any] = {"up": "2", "pages": "1", "pictures_at": "https://a.example/", "begins": "14:00"}
"""A fitting value of each option that is no flag."""
OWN = [(output.name, option) for output in OUTPUTS.values() for option in output.options]
WRONG: dict[str, dict[str, Any]] = {
    "only-unknown": {"only": "tutorial,poster"},
    "units-unknown": {"units": "furlongs"},
    "paper-unknown": {"paper": "napkin"},
    "handout-small": {"only": "handout", "paper": "4x6"},
    "up-odd": {"up": "3"},
    "up-too-many": {"up": "4", "paper": "letter"},
    "pages-odd": {"pages": "3"},
    "begins-odd": {"only": "run-sheet", "begins": "2"},
    "option-idle-unusual": {"in_class": True},
    "pictures-at-odd": {"pictures_at": "pictures"},
    "theme-odd": {"theme": "gothic"},
}


def test_without_options_everything_that_is_usual_is_wished_for() -> None:
    usual = tuple(name for name, output in OUTPUTS.items() if output.usual)
    assert set(OUTPUTS) - set(usual) == {"run-sheet"}
    assert wish_of(BuildOptions()) == BuildWish(usual, tuple(System))


def test_options_become_values() -> None:
    small = paper_named("4x6")
    assert small is not None
    asked = BuildOptions(only="card, tutorial,card", units="metric", paper="4x6", up="2", back=True, larger_paper=True)
    assert wish_of(asked) == BuildWish(
        ("card", "tutorial"), (System.METRIC,), on_paper=OnPaper((small,), 2, True, True)
    )


@pytest.mark.parametrize("message", WRONG)
def test_the_first_thing_that_is_wrong_is_data(message: str) -> None:
    wrong = wish_of(BuildOptions(**WRONG[message]))
    assert isinstance(wrong, Wrong)
    assert wrong.message == message


def test_an_option_of_an_output_is_an_option_of_a_build_and_of_no_other_output() -> None:
    options = [option for _, option in OWN]
    assert len(options) == len(set(options))
    assert set(options) <= {one.name for one in fields(BuildOptions)}


@pytest.mark.parametrize(("output", "option"), OWN)
def test_an_option_about_what_is_not_made_is_a_slip(output: str, option: str) -> None:
    given = {option: VALUES.get(option, True)}
    others = ",".join(name for name in OUTPUTS if name != output)
    wrong = wish_of(BuildOptions(only=others, **given))
    message = "option-idle" if OUTPUTS[output].usual else "option-idle-unusual"
    assert wrong == Wrong.of(message, option="--" + option.replace("_", "-"), output=output)
    assert isinstance(wish_of(BuildOptions(only=output, **given)), BuildWish)


def test_what_goes_on_paper_has_a_page_in_the_theme() -> None:
    on_paper = [output.name for output in OUTPUTS.values() if output.on_paper]
    assert on_paper
    for name in on_paper:
        assert load_paper_theme(DEFAULT_THEME, name).style
