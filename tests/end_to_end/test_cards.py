"""Cards through the real command line: on which papers, under which names, what is said of those that do not fit."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pdfplumber
import pytest
from PIL import Image

from workbench.built import SIZES, WORDS, build, built, in_one_line, page_sizes
from workbench.command_line import GOOD, MISFIT, contents, foldwright, write

LONG = GOOD.replace(WORDS, WORDS + " Rub the fold down slowly." * 60)
"""Too long for 4 x 6 in, not for half letter."""
TOO_LONG = GOOD.replace(WORDS, WORDS + " Rub the fold down slowly." * 400)
"""A step of 2,000 words, which no card holds."""
WITH_PHOTO = GOOD.replace("time: 1 min\n", "time: 1 min\nphoto: fold.png\nphoto shows: The card, folded\n")


def cards(cwd: Path, *words: str | Path, status: int = 0) -> tuple[set[str], str]:
    """The files of the recipe called `card`, when only cards are made, and what was said."""
    made, done = built(cwd, "card", *words, status=status)
    return set(made), done.out


# --- which cards ------------------------------------------------------------------------------------------------------


def test_inches_go_on_letter_and_millimetres_on_a4(tmp_path: Path) -> None:
    write(tmp_path, "card")
    made, said = cards(tmp_path)
    assert made == {"card-imperial-letter.pdf", "card-metric-a4.pdf"}
    assert said.splitlines()[0] == "Wrote out/card: card-imperial-letter.pdf, card-metric-a4.pdf"
    for line in ("  card-imperial-letter.pdf: 11 pt, ", "  card-metric-a4.pdf: 11 pt, "):
        assert line in said


def test_the_papers_of_the_studio_come_before_the_usual_ones(tmp_path: Path) -> None:
    write(tmp_path, "card")
    (tmp_path / "studio.yaml").write_text("papers: 4x6, A 5\n", encoding="utf-8")
    assert cards(tmp_path)[0] == {"card-imperial-4x6.pdf", "card-metric-a5.pdf"}


def test_every_unit_system_goes_on_every_paper_asked_for(tmp_path: Path) -> None:
    write(tmp_path, "card")
    made, _ = cards(tmp_path, "--paper", "US letter, half-letter,4x6,A 4,a5,105 x 148 mm")
    assert made == {f"card-{system}-{slug}.pdf" for system in ("imperial", "metric") for slug in SIZES}
    for name in made:
        slug = name.removesuffix(".pdf").partition("-")[2].partition("-")[2]
        assert page_sizes(tmp_path / "out/card" / name) == [pytest.approx(SIZES[slug], abs=0.01)]


def test_only_the_units_asked_for_are_printed(tmp_path: Path) -> None:
    write(tmp_path, "card")
    made, _ = cards(tmp_path, "--units", "metric", "--paper", "letter")
    assert made == {"card-metric-letter.pdf"}
    with pdfplumber.open(tmp_path / "out/card/card-metric-letter.pdf") as pdf:
        text = pdf.pages[0].extract_text()
    assert re.search(r"\d\s?mm\b", text)
    assert not re.search(r"\d\s?in\b", text)


def test_cards_may_be_left_out(tmp_path: Path) -> None:
    write(tmp_path, "card")
    build(tmp_path, "card", "--only", "tutorial,sheet")
    assert not list((tmp_path / "out").rglob("*.pdf"))


def test_several_on_a_sheet_say_so_in_their_name_and_how_the_sheet_is_turned(tmp_path: Path) -> None:
    write(tmp_path, "card")
    words = ("--paper", "4x6", "--units", "imperial", "--up", "2", "--back")
    made, said = cards(tmp_path, *words)
    assert made == {"card-imperial-4x6-2-up.pdf"}
    assert "2 to a sheet of letter, printed on both sides, turned on the " in in_one_line(said)
    # Letter, upright or lying, on both sides.
    sizes = page_sizes(tmp_path / "out/card/card-imperial-4x6-2-up.pdf")
    assert [sorted(size) for size in sizes] == [[612, 792], [612, 792]]


def test_a_back_has_the_supplies(tmp_path: Path) -> None:
    write(tmp_path, "card")
    _, said = cards(tmp_path, "--units", "imperial", "--paper", "a6", "--back")
    # An upright page is turned as a leaf of a book is.
    assert "card-imperial-a6.pdf: printed on both sides, turned on the long edge, " in in_one_line(said)
    with pdfplumber.open(tmp_path / "out/card/card-imperial-a6.pdf") as pdf:
        front, back = (page.extract_text() for page in pdf.pages)
    assert "bone folder" in back and "100 lb" in back
    assert "100 lb" not in front and "Fold the card" in front


# --- what does not fit ------------------------------------------------------------------------------------------------


def test_a_card_that_does_not_fit_is_told_and_all_else_is_made(tmp_path: Path) -> None:
    write(tmp_path, "card", TOO_LONG)
    done = build(tmp_path, "card", "--only", "tutorial,fragment,card,sheet", "--paper", "a4,letter", status=1)
    made = {name for name in contents(tmp_path / "out/card") if not name.startswith(".")}
    assert made >= {"tutorial.html", "fragment.html", "sheet.json"}
    # It is nothing against the tutorial, which is no draft and names no card that is not there.
    assert json.loads((tmp_path / "out/card/sheet.json").read_text(encoding="utf-8"))["draft"] is False
    assert "card-imperial" not in (tmp_path / "out/card/tutorial.html").read_text(encoding="utf-8")
    assert not [name for name in made if name.startswith("card-")]
    said = in_one_line(done.out)
    heading = TOO_LONG.splitlines().index("## Cut and score the card") + 1
    assert f"won’t fit, line {heading}" in said
    for file in ("imperial-letter", "metric-letter", "imperial-a4", "metric-a4"):
        assert said.count(f"card-{file}.pdf: even in 8 pt type") == 1
    assert "step 1 (" in said
    assert said.endswith("In all: 4 things that won’t fit.")


@pytest.mark.parametrize(("text", "paper"), [(LONG, "4x6"), (TOO_LONG, "half-letter")])
def test_a_small_card_that_cannot_hold_the_words_is_a_strip_of_pictures(tmp_path: Path, text: str, paper: str) -> None:
    write(tmp_path, "card", text)
    made, said = cards(tmp_path, "--paper", paper, "--units", "imperial")
    assert made == {f"card-imperial-{paper}.pdf"}
    assert "a strip of pictures, without the words of the steps" in in_one_line(said)
    with pdfplumber.open(tmp_path / f"out/card/card-imperial-{paper}.pdf") as pdf:
        text = pdf.pages[0].extract_text()
    assert "Cut and score the card" in text and "Rub the fold" not in text


def test_a_larger_paper_is_taken_where_it_is_allowed(tmp_path: Path) -> None:
    write(tmp_path, "card", LONG)
    made, said = cards(tmp_path, "--paper", "4x6", "--larger-paper")
    assert made == {"card-imperial-half-letter.pdf", "card-metric-half-letter.pdf"}
    assert "card-imperial-half-letter.pdf: too long for 4 x 6 in, " in in_one_line(said)
    assert page_sizes(tmp_path / "out/card/card-imperial-half-letter.pdf") == [SIZES["half-letter"]]


def test_a_card_moved_to_a_paper_that_was_asked_for_as_well_is_one_card(tmp_path: Path) -> None:
    write(tmp_path, "card", LONG)
    made, said = cards(tmp_path, "--units", "imperial", "--paper", "half-letter,4x6", "--larger-paper")
    assert made == {"card-imperial-half-letter.pdf"}
    assert said.count("card-imperial-half-letter.pdf:") == 1


def test_a_larger_paper_that_goes_on_no_sheet_is_not_offered(tmp_path: Path) -> None:
    """Four of letter paper go on no sheet, so the last that is tried is half letter."""
    write(tmp_path, "card", TOO_LONG)
    words = ("--only", "card", "--larger-paper", "--paper", "4x6", "--up", "4", "--units", "imperial")
    said = in_one_line(build(tmp_path, "card", *words, status=1).out)
    assert "I did not make card-imperial-half-letter-4-up.pdf" in said and "Longest: step 1 (" in said
    assert "with --larger-paper" not in said and "no sheet" not in said


def test_a_step_of_two_thousand_words_fits_nowhere(tmp_path: Path) -> None:
    write(tmp_path, "card", TOO_LONG)
    words = ("--only", "card", "--larger-paper", "--paper", "a6", "--units", "metric")
    done = build(tmp_path, "card", *words, status=1)
    assert not (tmp_path / "out/card").exists()
    assert "I did not make card-metric-a4.pdf" in in_one_line(done.out)
    assert "There is no larger paper" in in_one_line(done.out)
    assert "nothing was written" in done.err


def test_short_words_are_taken_where_there_is_little_room_and_told(tmp_path: Path) -> None:
    text = LONG.replace("time: 2 min\n", "time: 2 min\nshort: Cut to 8 x 5 in; score at 4 in.\n")
    write(tmp_path, "card", text)
    made, said = cards(tmp_path, "--paper", "4x6", "--units", "imperial")
    assert made == {"card-imperial-4x6.pdf"}
    assert "short words in 1 step" in in_one_line(said)


@pytest.mark.parametrize(
    ("text", "said", "place"),
    [
        (GOOD.replace(WORDS, f"{WORDS} {'Sonntags' * 40}."), "“SonntagsSonntags", "SonntagsSonntags"),
        (GOOD.replace("Practice card", "P" * 300), "“PPPPPPPP", "title: PPPP"),
        (GOOD.replace(WORDS, f"{WORDS} \u05e9\u05dc\u05d5\u05dd"), "4 Hebrew letters", "\u05e9\u05dc\u05d5\u05dd"),
        (GOOD.replace(WORDS, f"{WORDS} \u0e1e\u0e31\u0e1a"), "3 Thai letters", "\u0e1e\u0e31\u0e1a"),
        (GOOD.replace(WORDS, f"{WORDS} \U0001f600"), "(grinning face, U+1F600)", "\U0001f600"),
        (GOOD.replace("bone folder", "\u03bb\u0416\u4e2d"), "U+4E2D", "\u4e2d"),
    ],
    ids=["long word", "long title", "Hebrew", "Thai", "a face", "one letter among others"],
)
def test_what_cannot_be_printed_is_named_with_its_place(tmp_path: Path, text: str, said: str, place: str) -> None:
    """The names of letters are those of the Unicode Character Database."""
    write(tmp_path, "card", text)
    only = "tutorial,fragment,sheet,card,handout"
    done = build(tmp_path, "card", "--only", only, "--units", "metric", status=1)
    line = next(number for number, line in enumerate(text.splitlines(), 1) if place in line)
    assert f"won’t fit, line {line}" in done.out
    assert said in in_one_line(done.out)
    made = contents(tmp_path / "out/card")
    assert {"tutorial.html", "fragment.html", "sheet.json"} <= set(made)
    assert not [name for name in made if name.startswith(("card-", "handout-"))]


def test_letters_that_are_missing_are_told_once_for_all_papers(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace(WORDS, f"{WORDS} \u05e9"))
    done = build(tmp_path, "card", "--only", "sheet,card,handout", "--paper", "letter,a4,a5", status=1)
    assert done.out.count("U+05E9") == 1
    assert done.out.endswith("In all: 1 thing that won’t fit.\n")
    assert not list((tmp_path / "out").rglob("*.pdf"))


def test_a_template_is_not_made_with_letters_missing(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace("title: Practice card", "title: Practice \u05e9"))
    done = build(tmp_path, "card", "--only", "template", status=1)
    assert done.out.count("U+05E9") == 1
    assert not list((tmp_path / "out").rglob("*.pdf"))


def test_a_title_of_three_hundred_letters_is_set(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace("Practice card", "Practice " * 33))
    made, _ = cards(tmp_path, "--units", "imperial")
    assert made == {"card-imperial-letter.pdf"}


@pytest.mark.parametrize(("size", "code"), [((1, 9000), "print-slender"), ((20, 20), "print-coarse")])
def test_a_photograph_that_cannot_be_printed_is_a_thought(tmp_path: Path, size: tuple[int, int], code: str) -> None:
    home = write(tmp_path, "card", WITH_PHOTO)
    picture = io.BytesIO()
    Image.new("RGB", size, (20, 120, 60)).save(picture, "PNG")
    (home / "fold.png").write_bytes(picture.getvalue())
    made, said = cards(tmp_path)
    assert made == {"card-imperial-letter.pdf", "card-metric-a4.pdf"}
    assert f"suggestion, line {WITH_PHOTO.splitlines().index('photo: fold.png') + 1}" in said
    assert said.count("The photograph fold.png") == 1
    hushed = WITH_PHOTO.replace("level: easy", f"level: easy\nhush: {code}")
    write(tmp_path, "card", hushed)
    assert "fold.png" not in cards(tmp_path, "--units", "metric")[1]


def test_a_misfit_gives_a_card_that_says_it_is_a_draft_and_a_fault_none(tmp_path: Path) -> None:
    write(tmp_path, "card", MISFIT)
    made, _ = cards(tmp_path, "--units", "imperial", status=1)
    assert made == {"card-imperial-letter.pdf"}
    with pdfplumber.open(tmp_path / "out/card/card-imperial-letter.pdf") as pdf:
        assert "draft" in pdf.pages[0].extract_text().lower()
    write(tmp_path, "other", GOOD.replace("size: 8 x 5 in", "size: very large"))
    done = build(tmp_path, "other", "--only", "card", status=1)
    assert "nothing was written" in done.out + done.err
    assert not (tmp_path / "out/other").exists()


# --- calls ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--paper", "foolscap"], "foolscap"),
        (["--paper", "letter,A7"], "A7"),
        (["--paper", ","], "half letter"),
        (["--up", "3"], "“3”"),
        (["--up", "many"], "--up 2 or --up 4"),
        (["--up", "-2"], "“-2”"),
        (["--paper", "letter", "--up", "4"], "4 recipe cards on letter"),
    ],
)
def test_a_wrong_call_is_told_and_nothing_is_written(tmp_path: Path, words: list[str], said: str) -> None:
    write(tmp_path, "card")
    done = foldwright("build", "card", "--out", "out", *words, cwd=tmp_path)
    assert done.status == 2, done.out + done.err
    assert said in done.err
    assert not (tmp_path / "out").exists()


def test_more_cards_than_any_sheet_holds_are_told_when_the_paper_is_nobodys_choice(tmp_path: Path) -> None:
    write(tmp_path, "card")
    done = build(tmp_path, "card", "--only", "tutorial,card", "--up", "4", status=1)
    assert "4 recipe cards on letter do not fit on any sheet" in done.out
    assert (tmp_path / "out/card/tutorial.html").is_file()


# --- themes of ones own, backs and small papers ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("file", "text", "said"),
    [
        ("card.css", "body{background:url(http://harbourstreet.example/sea.png)}", "asks for http://harbourstreet"),
        ("card.css", "body{background:url(file:///etc/hostname)}", "asks for file:///etc/hostname"),
        ("card.html", '{% extends "theme/card.html" %}{% block foot %}{{ tide.high }}{% endblock %}', "'tide'"),
        (
            "tutorial.html",
            '{% extends "theme/tutorial.html" %}{% block footer %}{{ tide.high }}{% endblock %}',
            "'tide'",
        ),
    ],
)
def test_a_theme_of_ones_own_that_does_not_work_is_said_and_the_rest_is_made(
    tmp_path: Path, file: str, text: str, said: str
) -> None:
    write(tmp_path, "card")
    (tmp_path / "own").mkdir()
    (tmp_path / "own" / file).write_text(text, encoding="utf-8")
    only = ("--only", "tutorial,card,sheet", "--units", "metric")
    done = build(tmp_path, "card", *only, "--theme", "own", status=1)
    assert said in in_one_line(done.out)
    made = {path.name for path in (tmp_path / "out/card").glob("[!.]*")}
    failed = file.partition(".")[0]
    assert not any(name.startswith(failed) for name in made)
    assert "sheet.json" in made and len(made) >= 2


def test_a_card_too_long_for_its_front_is_told_to_take_a_back(tmp_path: Path) -> None:
    write(tmp_path, "card", GOOD.replace(WORDS, WORDS + " Rub the fold down slowly." * 220))
    made, said = cards(tmp_path, "--units", "imperial", status=1)
    assert made == set()
    assert "Add --back: the steps have the front to themselves" in said
    made, said = cards(tmp_path, "--units", "imperial", "--back")
    assert made == {"card-imperial-letter.pdf"}
    assert "Add --back" not in said


def test_a_small_paper_is_for_cards_alone(tmp_path: Path) -> None:
    write(tmp_path, "card")
    build(tmp_path, "card", "--only", "card,handout", "--units", "metric", "--paper", "A6")
    made = {path.name for path in (tmp_path / "out/card").glob("*.pdf")}
    assert made == {"card-metric-a6.pdf", "handout-metric-a4.pdf"}


@pytest.mark.parametrize(
    ("only", "option"),
    [
        ("tutorial", "--back"),
        ("handout", "--up 2"),
        ("handout,sheet", "--larger-paper"),
        ("card", "--large-print"),
    ],
)
def test_an_option_for_what_is_not_made_is_a_slip(tmp_path: Path, only: str, option: str) -> None:
    write(tmp_path, "card")
    done = build(tmp_path, "card", "--only", only, *option.split(), status=2)
    assert f"{option.split()[0]} is for the" in done.err
    assert not (tmp_path / "out").exists()


def test_nothing_is_left_where_temporary_files_lie(tmp_path: Path) -> None:
    """Neither by one process nor by several."""
    for name in ("one", "two"):
        write(tmp_path / "recipes", name, GOOD.replace("Practice card", f"Card {name}"))
    (tmp_path / "temporary").mkdir()
    one_each = ("--only", "card", "--units", "imperial")
    build(tmp_path, "recipes", *one_each, "--jobs", "1", TMPDIR=str(tmp_path / "temporary"))
    build(tmp_path, "recipes", *one_each, "--jobs", "2", TMPDIR=str(tmp_path / "temporary"))
    assert list((tmp_path / "temporary").iterdir()) == []
