"""Handouts through the real command line: on which papers, under which names, on how many pages, and when none is."""

from __future__ import annotations

import shutil
from pathlib import Path

import pdfplumber
import pytest

from command_line import GOOD, TOP, contents, foldwright, write

WORDS = "Cut the white card to 8 x 5 in and score it at 4 in."
BEFORE = GOOD.replace("time: 2 min\n", "time: 2 min\nwhen: before class\n")
"""Its first step is done before class."""
# ISO 216:2007 and common practice without a source (letter), in points of 1/72 in.
A4, LETTER = (595.28, 841.89), (612, 792)


def handouts(cwd: Path, *words: str, status: int = 0) -> tuple[dict[str, Path], str]:
    """The files of the recipe called `card`, when only handouts are made, and what was said."""
    done = foldwright("build", "card", "--out", "out", "--only", "handout", *words, cwd=cwd)
    assert done.status == status, done.out + done.err
    return {path.name: path for path in (cwd / "out/card").glob("[!.]*")}, " ".join((done.out + done.err).split())


def sizes(path: Path) -> list[tuple[float, float]]:
    with pdfplumber.open(path) as pdf:
        return [(page.width, page.height) for page in pdf.pages]


def test_inches_go_on_letter_and_millimetres_on_a4(tmp_path: Path) -> None:
    write(tmp_path, "card")
    made, said = handouts(tmp_path)
    assert set(made) == {"handout-imperial-letter.pdf", "handout-metric-a4.pdf"}
    assert sizes(made["handout-imperial-letter.pdf"]) == [LETTER]
    assert sizes(made["handout-metric-a4.pdf"]) == [pytest.approx(A4, abs=0.01)]
    assert "handout-metric-a4.pdf: one page, " in said


def test_more_than_one_page_is_said(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace(WORDS, WORDS + " Rub the fold down slowly." * 400))
    made, said = handouts(tmp_path, "--paper", "A5", "--units", "metric")
    pages = len(sizes(made["handout-metric-a5.pdf"]))
    assert pages > 1
    assert f"handout-metric-a5.pdf: {pages} pages, " in said


def test_large_print_is_eighteen_points_and_in_the_name(tmp_path: Path) -> None:
    """18 pt: what the name promises; letters of figures in plans and fractions are the handout's own tests' matter."""
    write(tmp_path, "card")
    made, said = handouts(tmp_path, "--large-print", "--units", "imperial")
    assert set(made) == {"handout-imperial-letter-large-print.pdf"}
    assert ", 18 pt" in said
    with pdfplumber.open(made["handout-imperial-letter-large-print.pdf"]) as pdf:
        words = [word for page in pdf.pages for word in page.extract_words(extra_attrs=["size"])]
    folding = [word["size"] for word in words if word["text"] == "bone"]
    assert folding and min(folding) >= 18 - 0.01


def test_only_the_steps_of_the_class_are_on_it(tmp_path: Path) -> None:
    write(tmp_path, "card", BEFORE)
    made, _ = handouts(tmp_path, "--units", "imperial")
    with pdfplumber.open(made["handout-imperial-letter.pdf"]) as pdf:
        text = " ".join(page.extract_text() for page in pdf.pages)
    assert "Fold the card" in text and "Cut and score the card" not in text


def test_nothing_in_class_is_a_thought_and_no_handout(tmp_path: Path) -> None:
    write(tmp_path, "card", BEFORE.replace("time: 1 min\n", "time: 1 min\nwhen: before class\n"))
    done = foldwright("build", "card", "--out", "out", cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    assert "nothing to hand out" in done.out and "hush: handout-without-steps" in done.out
    made = contents(tmp_path / "out/card")
    assert "card-metric-a4.pdf" in made and not [name for name in made if name.startswith("handout")]


def test_a_word_wider_than_the_paper_is_named_with_its_place(tmp_path: Path) -> None:
    text = GOOD.replace(WORDS, f"{WORDS} {'Sonntags' * 40}.")
    write(tmp_path, "card", text)
    made, said = handouts(tmp_path, "--units", "metric", status=1)
    assert made == {}
    line = next(number for number, line in enumerate(text.splitlines(), 1) if "Sonntags" in line)
    assert f"misfit, line {line}" in said
    assert "handout-metric-a4.pdf is not made: 'Sonntags" in said


def test_a_fault_leaves_nothing_to_hand_out(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace("size: 8 x 5 in", "size: very large"))
    assert handouts(tmp_path, status=1)[0] == {}


def test_the_same_recipes_give_the_same_handouts(tmp_path: Path) -> None:
    """In other processes, one or several at work, another zone, language and hash seed, from another folder."""
    recipes = tmp_path / "recipes"
    for slug in ("birdhouse", "twine-tag"):
        shutil.copytree(TOP / "recipes" / slug, recipes / slug)
    words = ("--only", "handout", "--paper", "letter,a5", "--jobs")
    first = {"PYTHONHASHSEED": "1", "TZ": "Pacific/Kiritimati", "LC_ALL": "C", "LANG": "C"}
    done = foldwright("build", "recipes", "--out", "out", *words, "1", cwd=tmp_path, **first)
    assert done.status == 0, done.out + done.err
    made = contents(tmp_path / "out")
    assert len([name for name in made if name.endswith(".pdf")]) == 8
    (tmp_path / "deep" / "er").mkdir(parents=True)
    other = {"PYTHONHASHSEED": "2", "TZ": "America/Anchorage", "LC_ALL": "tr_TR.UTF-8", "LANG": "tr_TR.UTF-8"}
    again = ("build", "../../recipes", "--out", "../../other", *words, "2")
    done = foldwright(*again, cwd=tmp_path / "deep" / "er", **other)
    assert done.status == 0, done.out + done.err
    assert contents(tmp_path / "other") == made
