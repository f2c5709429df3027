"""`foldwright new`: whatever is answered, the recipe is right as it stands, and nothing is written over."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from foldwright.begin.options import FORMS
from foldwright.pipeline import check_recipe
from workbench.command_line import contents, foldwright
from workbench.long import every

SIZES = {
    "box": "80 x 50 x 25 mm",
    "lid": "3 x 2 x 1 in",
    "sleeve": "60 x 90 x 20 mm",
    "card": "4 1/4 x 5 1/2 in",
    "booklet": "66 x 90 mm",
    "tag": "5 x 9 cm",
    "gate": "100 x 140 mm",
    "tri-fold": "4 x 6 in",
    "rosette": "60 mm",
    "tuck box": "60 x 40 x 80 mm",
    "hinged box": "3 x 2 x 1 1/2 in",
    "hexagonal box": "70 x 40 mm",
    "octagonal box": "3 x 1 1/2 in",
    "pillow box": "80 x 100 x 25 mm",
    "cube": "2 in",
    "prism": "40 x 80 mm",
    "pyramid": "60 x 60 x 80 mm",
    "gable-top": "60 x 40 x 60 mm",
    "gift bag": "3 x 1 1/2 x 4 in",
    "envelope": "110 x 150 mm",
    "pocket": "3 1/2 x 2 1/4 in",
    "tube": "50 x 100 mm",
    "cone": "80 x 100 mm",
}


def test_every_form_passes_check_with_nothing_found_and_can_be_built(tmp_path: Path) -> None:
    for form in FORMS:
        call = ("new", f"Blue {form}", "--form", form, "--size", SIZES[form], "--card", "navy card")
        done = foldwright(*call, cwd=tmp_path)
        assert done.status == 0, done.err
        assert f"recipes/blue-{form.replace(' ', '-')}" in done.out
    checked = foldwright("check", "recipes", cwd=tmp_path)
    assert (checked.status, checked.out) == (0, f"All is well in {len(FORMS)} recipes.\n")
    slugs = {form: f"blue-{form.replace(' ', '-')}" for form in every(FORMS, 4)}
    recipes = [f"recipes/{slug}" for slug in slugs.values()]
    built = foldwright("build", *recipes, "--out", "out", "--only", "tutorial", cwd=tmp_path)
    assert built.status == 0, built.out + built.err
    for form, slug in slugs.items():
        assert f"Blue {form}" in (tmp_path / f"out/{slug}/tutorial.html").read_text(encoding="utf-8")


def test_the_example_of_its_own_help_begins_a_recipe_in_which_nothing_is_found(tmp_path: Path) -> None:
    example = re.search(r"^For example: +foldwright (.*)$", foldwright("new", "--help", cwd=tmp_path).out, re.MULTILINE)
    assert example
    done = foldwright(*shlex.split(example[1]), cwd=tmp_path)
    assert (done.status, done.out.splitlines()) == (
        0,
        ["Wrote recipes/blue-box/recipe.md. Next:  foldwright check recipes/blue-box"],
    )
    assert foldwright("check", "recipes/blue-box", cwd=tmp_path).out.endswith("\n\nAll is well.\n")


@pytest.mark.parametrize("words", [["new", "Card"], ["recover", "--name", "Card"], ["new", "card!", "--form", "treat"]])
def test_that_a_folder_is_there_is_said_before_anything_is_asked(tmp_path: Path, words: list[str]) -> None:
    (tmp_path / "recipes/card").mkdir(parents=True)
    done = foldwright(*words, cwd=tmp_path)
    assert done.status == 2
    assert done.err.startswith("recipes/card already exists")
    assert done.err.count("\n") == 1


def test_who_is_asked_for_a_name_may_give_another(tmp_path: Path) -> None:
    (tmp_path / "recipes/card").mkdir(parents=True)
    done = foldwright("new", "--form", "card", cwd=tmp_path, typed="Card\nOther card\n\n\n\n")
    assert done.status == 0, done.err
    assert "recipes/card already exists" in done.err
    assert (tmp_path / "recipes/other-card/recipe.md").exists()


def test_it_asks_for_what_is_not_said(tmp_path: Path) -> None:
    typed = "Pedlar's tag: #3\ntag\nmillimetres\n40 x 90\nkraft card\n"
    done = foldwright("new", cwd=tmp_path, typed=typed)
    assert done.status == 0, done.err
    assert done.err.count("?") == 5
    text = (tmp_path / "recipes/pedlar-s-tag-3/recipe.md").read_text(encoding="utf-8")
    assert "title: Pedlar's tag: #3\n" in text
    assert "size: 40 x 90 mm" in text
    assert "kraft card: cardstock" in text
    assert foldwright("check", "recipes", cwd=tmp_path).out.endswith("\n\nAll is well.\n")


def test_an_empty_answer_takes_what_is_suggested(tmp_path: Path) -> None:
    done = foldwright("new", "Plain", cwd=tmp_path, typed="\n\n\n\n")
    assert done.status == 0
    assert foldwright("check", "recipes/plain", cwd=tmp_path).out.endswith("\n\nAll is well.\n")


def test_a_studio_beside_it_is_obeyed(tmp_path: Path) -> None:
    (tmp_path / "recipes").mkdir()
    (tmp_path / "recipes/studio.yaml").write_text("studio: Harbour Street Paper Studio\ntrimmer: bed 12 in\n")
    assert foldwright("new", "Card", "--form", "card", cwd=tmp_path, typed="\n\n\n").status == 0
    assert foldwright("check", "recipes", cwd=tmp_path).out.endswith("\n\nAll is well.\n")


def test_nothing_is_ever_written_over(tmp_path: Path) -> None:
    foldwright("new", "Card", "--form", "card", cwd=tmp_path, typed="\n\n\n")
    before = contents(tmp_path)
    done = foldwright("new", "Card", "--form", "tag", cwd=tmp_path, typed="\n\n\n")
    assert done.status == 2
    assert "recipes/card" in done.err
    assert contents(tmp_path) == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--form", "hat"], "hat"),
        (["--form", "box", "--size", "big"], "big"),
        (["--form", "box", "--size", "3 x 2 in"], "3 x 2 x 1 in"),
        (["--form", "tag", "--size", "3 x 2 x 1 in"], "2 x 4 in"),
        (["--form", "tag", "--units", "furlongs"], "furlongs"),
        (["--form", "booklet", "--panels", "5"], "5"),
        (["--form", "booklet", "--panels", "lots"], "lots"),
    ],
)
def test_an_answer_that_will_not_do_is_told(tmp_path: Path, words: list[str], said: str) -> None:
    done = foldwright("new", "Thing", *words, cwd=tmp_path)
    assert done.status == 2
    assert said in done.err
    assert contents(tmp_path) == {}


def test_it_needs_a_name(tmp_path: Path) -> None:
    done = foldwright("new", cwd=tmp_path)
    assert done.status == 2
    assert contents(tmp_path) == {}


def test_a_size_no_sheet_gives_is_told_and_nothing_written(tmp_path: Path) -> None:
    done = foldwright("new", "Giant", "--form", "card", "--size", "60 x 40 in", cwd=tmp_path)
    assert done.status == 1
    assert "120" in done.err
    assert contents(tmp_path) == {}


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    done = foldwright("new", "Card", "--form", "card", "--into", "file", cwd=tmp_path)
    assert done.status == 1
    assert "file" in done.err


def test_an_answer_that_will_not_do_is_asked_for_again(tmp_path: Path) -> None:
    typed = "\nRose box\ndoily\nbox\nfurlongs\nmm\n3 x 2\n60 x 40 x 20 mm\n\n"
    done = foldwright("new", cwd=tmp_path, typed=typed)
    assert done.status == 0, done.err
    assert "doily" in done.err and "furlongs" in done.err
    text = (tmp_path / "recipes" / "rose-box" / "recipe.md").read_text(encoding="utf-8")
    assert "size: 100 x 80 mm" in text


def test_who_has_a_sample_is_asked_for_its_readings(tmp_path: Path) -> None:
    typed = "Blue box\nI have a sample\nblue card\nbase\n5/8 | 2 7/8 | 5/8 in\n1 | 2 | 1 in\n\n\n"
    done = foldwright("new", cwd=tmp_path, typed=typed)
    assert done.status == 0, done.out + done.err
    assert "across: 5/8 | 2 7/8 | 5/8" in (tmp_path / "recipes/blue-box/recipe.md").read_text(encoding="utf-8")
    assert foldwright("check", "recipes", cwd=tmp_path).out.endswith("\n\nAll is well.\n")


def test_who_has_a_treat_chooses_from_what_would_hold_it(tmp_path: Path) -> None:
    typed = (
        "Blue box\nI have a treat\nhuge\n3 caramels of 1 1/8 x 3/4 x 1/2 in\nblue card, 270 g/m2\ntray, drawer\n99\n4\n"
    )
    done = foldwright("new", cwd=tmp_path, typed=typed)
    assert done.status == 0, done.out + done.err
    text = (tmp_path / "recipes/blue-box/recipe.md").read_text(encoding="utf-8")
    assert "blue card: cardstock" in text and "slides in: sleeve" in text and "holds: caramel" in text
    # What a sweet contains only its wrapper says: that stays asked, and nothing else.
    checked = check_recipe(text, "recipe.md", "blue-box")
    assert [finding.code for finding in checked.findings] == ["contains-unsaid"]
    assert "hush" not in text
