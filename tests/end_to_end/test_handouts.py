"""Handouts through the real command line: on which papers, under which names, on how many pages, and when none is."""

from __future__ import annotations

from pathlib import Path

import pdfplumber
import pytest

from workbench.built import SIZES, WORDS, build, built, in_one_line, page_sizes
from workbench.command_line import GOOD, contents, write

BEFORE = GOOD.replace("time: 2 min\n", "time: 2 min\nwhen: before class\n")
"""Its first step is done before class."""


def handouts(cwd: Path, *words: str, status: int = 0) -> tuple[dict[str, Path], str]:
    """The files of the recipe called `card`, when only handouts are made, and what was said."""
    made, done = built(cwd, "handout", *words, status=status)
    return made, in_one_line(done.out + done.err)


def test_inches_go_on_letter_and_millimetres_on_a4(tmp_path: Path) -> None:
    write(tmp_path, "card")
    made, said = handouts(tmp_path)
    assert set(made) == {"handout-imperial-letter.pdf", "handout-metric-a4.pdf"}
    assert set(page_sizes(made["handout-imperial-letter.pdf"])) == {SIZES["letter"]}
    sizes = page_sizes(made["handout-metric-a4.pdf"])
    assert sizes == [pytest.approx(SIZES["a4"], abs=0.01)] * len(sizes)
    assert f"handout-metric-a4.pdf: {'one page' if len(sizes) == 1 else f'{len(sizes)} pages'}, " in said


def test_one_page_is_one_page_and_says_what_it_leaves_out(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace(WORDS, WORDS + " Rub the fold down slowly." * 80))
    made, said = handouts(tmp_path, "--units", "metric", "--pages", "1")
    assert len(page_sizes(made["handout-metric-a4.pdf"])) == 1
    assert "handout-metric-a4.pdf: one page, " in said and "without " in said


def test_what_does_not_go_on_one_page_is_not_made_and_that_is_said(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace(WORDS, WORDS + " Rub the fold down slowly." * 400))
    made, said = handouts(tmp_path, "--units", "metric", "--pages", "1", status=1)
    assert made == {}
    assert "I did not make handout-metric-a4.pdf: with --pages 1, about" in said
    assert "Leave out --pages" in said


def test_more_than_one_page_is_said(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace(WORDS, WORDS + " Rub the fold down slowly." * 400))
    made, said = handouts(tmp_path, "--paper", "A5", "--units", "metric")
    pages = len(page_sizes(made["handout-metric-a5.pdf"]))
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
    done = build(tmp_path, "card", "--only", "card,handout", "--units", "metric")
    assert "there is no handout" in done.out and "hush: handout-without-steps" in done.out
    made = contents(tmp_path / "out/card")
    assert "card-metric-a4.pdf" in made and not [name for name in made if name.startswith("handout")]


def test_on_a_small_card_alone_there_is_no_handout_and_that_is_said(tmp_path: Path) -> None:
    write(tmp_path, "card")
    done = build(tmp_path, "card", "--only", "handout", "--paper", "4x6", status=2)
    assert "4 x 6 in is too small" in in_one_line(done.err) and "letter, half letter, A4 and A5" in in_one_line(
        done.err
    )
    assert not (tmp_path / "out").exists()


def test_a_word_wider_than_the_paper_is_named_with_its_place(tmp_path: Path) -> None:
    text = GOOD.replace(WORDS, f"{WORDS} {'Sonntags' * 40}.")
    write(tmp_path, "card", text)
    made, said = handouts(tmp_path, "--units", "metric", status=1)
    assert made == {}
    line = next(number for number, line in enumerate(text.splitlines(), 1) if "Sonntags" in line)
    assert f"won’t fit, line {line}" in said
    assert "I did not make handout-metric-a4.pdf: “Sonntags" in said


def test_a_fault_leaves_nothing_to_hand_out(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace("size: 8 x 5 in", "size: very large"))
    assert handouts(tmp_path, status=1)[0] == {}
