"""The measuring itself works: on a little of it it gives its numbers, whatever they are."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from bench import keystrokes, made_up
from foldwright.outputs.live import Live
from foldwright.outputs.texts import texts_of
from foldwright.pipeline import check_recipe
from foldwright.surroundings import Folder

TESTS = Path(__file__).resolve().parents[1]


QUICK = ("7", "8", "15", "22")
"""The quickest. Measuring the rest takes minutes, and goes through the same functions."""


def test_it_gives_a_number_for_each_that_is_asked_for() -> None:
    words = [sys.executable, "-m", "bench.bench", "--quick", *QUICK]
    done = subprocess.run(words, cwd=TESTS, capture_output=True, text=True, check=False)
    lines = done.stdout.splitlines()
    assert len(lines) == len(QUICK), done.stdout + done.stderr
    assert all(re.search(r"\d.*mark.*(reached|MISSED)$", line) for line in lines)
    assert done.returncode == (1 if "MISSED" in done.stdout else 0)


@pytest.mark.parametrize("number", [1, 7, 40, 79])
def test_what_is_measured_are_recipes_of_ten_steps_with_nothing_wrong(number: int) -> None:
    text = made_up.recipe(number)
    checked = check_recipe(text, "practice/recipe.md", "practice")
    assert checked.recipe is not None
    assert len(checked.recipe.steps) == made_up.STEPS
    assert not checked.wrong
    assert made_up.page(number).count("\n## ") == made_up.STEPS


def test_what_is_typed_into_has_twenty_steps_with_pictures_and_nothing_wrong(tmp_path: Path) -> None:
    keystrokes.write_photos(tmp_path)
    made = Live().page(texts_of("market-stall", keystrokes.TEXT, keystrokes.STUDIO), Folder(tmp_path))
    assert made.findings == ()
    assert made.document is not None
    assert len(made.document.steps) == keystrokes.STEPS
    assert all(step.pictures for step in made.document.steps)
    assert [step.number for step in made.document.steps if step.photo] == [9]
    assert len({change(3) for change in keystrokes.KINDS.values()} | {keystrokes.TEXT}) == len(keystrokes.KINDS) + 1


def test_no_two_of_them_are_alike() -> None:
    assert len({made_up.recipe(number) for number in range(300)}) == 300
