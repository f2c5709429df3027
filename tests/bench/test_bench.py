"""The measuring itself works: on a little of it it gives its numbers, whatever they are."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from bench import keystrokes, made_up, made_up_library
from foldwright.outputs.checking import check_texts
from foldwright.outputs.live import Live
from foldwright.outputs.texts import texts_of
from foldwright.pipeline import check_recipe
from foldwright.surroundings import Folder
from workbench.long import tries

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


# --- the made-up library ----------------------------------------------------------------------------------------------


def test_recipes_of_the_made_up_library_have_nothing_the_matter_in_any_of_their_sizes(tmp_path: Path) -> None:
    for number in range(1, tries(60, 2000)):
        text = made_up_library.recipe_text(number, photographs=False)
        for size in ("", *(["large"] if "\nsizes:" in text else [])):
            texts = texts_of(made_up_library.slug_of(number), text, made_up_library.STUDIO)
            checked = check_texts(texts, Folder(tmp_path), size)
            assert checked.recipe is not None
            assert checked.findings == (), (number, size)


def test_the_same_call_writes_the_same_library_and_more_recipes_leave_the_first_as_they_were(tmp_path: Path) -> None:
    def written(name: str, count: int, seed: int) -> dict[str, bytes]:
        made_up_library.made_up_library(tmp_path / name, count, seed)
        files = (path for path in (tmp_path / name).rglob("*") if path.is_file())
        return {str(path.relative_to(tmp_path / name)): path.read_bytes() for path in files}

    few = written("few", 5, 1)
    assert few == written("again", 5, 1)
    assert few.items() < written("more", 7, 1).items()
    assert set(few.values()) & set(written("other", 5, 2).values()) == {few["studio.yaml"]}
    assert len(few) > 6, "some have photographs"


def test_no_two_recipes_of_the_made_up_library_are_alike_and_they_are_of_many_kinds() -> None:
    numbers = range(1, 1001)
    texts = [made_up_library.recipe_text(number) for number in numbers]
    assert len(set(texts)) == len(texts)
    assert len({made_up_library.slug_of(number) for number in numbers}) == len(texts)
    for line, least in (("    fold: ", 8), ("title: ", 800), ("level: ", 3), ("measured in: ", 2), ("    size: ", 900)):
        assert len({found for text in texts for found in re.findall(f"^{line}.*$", text, re.MULTILINE)}) >= least
    for part in ("\nsizes:\n", "\nphoto: ", "\nwhen: before class\n", "\ntip: ", "\n## Variations\n"):
        assert 20 < sum(part in text for text in texts) < 900, part
