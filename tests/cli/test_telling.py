"""How findings stand in a terminal: the words meant are marked, and nothing an author typed can play tricks."""

from __future__ import annotations

import io
from collections import Counter

import pytest

from foldwright.cli import telling
from foldwright.cli.telling import Teller, cells, marked, seen, total
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import Told
from foldwright.finding import Strength

LINE = "    across: 20 left | 60 floor | 18 right"


def told(strength: Strength = Strength.MISFIT, **more: str) -> Told:
    facts = {"says": "20 + 60 + 18 is 98 mm", "remedy": "Write 100 mm", "line_text": LINE, "said": LINE[12:]} | more
    return Told("recipes/box/recipe.md", 27, 13, strength, "panels-do-not-add-up", **facts)


def output(capsys: pytest.CaptureFixture[str], *told: Told) -> str:
    Teller().told(told)
    return capsys.readouterr().out


def test_the_words_meant_are_marked_beneath_the_authors_line(capsys: pytest.CaptureFixture[str]) -> None:
    lines = output(capsys, told()).splitlines()
    assert lines[0] == "recipes/box/recipe.md"
    at = next(number for number, line in enumerate(lines) if "across:" in line)
    start = lines[at].index("20 left")
    assert lines[at + 1].rstrip() == "    | " + " " * (start - 6) + "^" * len("20 left | 60 floor | 18 right")
    assert "line 27" in lines[1]
    assert "    20 + 60 + 18 is 98 mm" in lines
    assert "    Write 100 mm" in lines


def test_strengths_differ_by_sign_and_word_not_only_by_colour(capsys: pytest.CaptureFixture[str]) -> None:
    heads = [output(capsys, told(strength)).splitlines()[1] for strength in Strength]
    assert len({head.split()[0] for head in heads}) == 3
    assert len({head.split()[1] for head in heads}) == 3


def test_only_a_thought_says_how_to_hush_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert "hush: panels-do-not-add-up" in output(capsys, told(Strength.THOUGHT))
    assert "hush:" not in output(capsys, told(Strength.FAULT))


def test_a_terminal_that_knows_only_ascii_gets_the_marks_it_has(monkeypatch: pytest.MonkeyPatch) -> None:
    bare = io.BytesIO()
    monkeypatch.setattr("sys.stdout", io.TextIOWrapper(bare, encoding="ascii"))
    Teller().told([told(says="The recipe’s “lid” won’t fit: 3 × 4", remedy="")])
    lines = bare.getvalue().decode("ascii").splitlines()
    assert lines[1] == "  ! won't fit, line 27"
    assert lines[-2] == "    The recipe's \"lid\" won't fit: 3 x 4"


@pytest.mark.parametrize("before", range(40, 101, 5))
def test_what_is_to_be_typed_is_not_broken_over_two_lines(capsys: pytest.CaptureFixture[str], before: int) -> None:
    out = output(capsys, told(remedy="Such as it is " * (before // 14) + "x" * (before % 14) + "  size: 5 x 4 1/4 in"))
    assert any(line.endswith("size: 5 x 4 1/4 in") for line in out.splitlines())


def test_nothing_typed_can_move_the_cursor_or_turn_the_writing(capsys: pytest.CaptureFixture[str]) -> None:
    nasty = "\x1b[2J\x1b]0;gone\x07 \u202eright to left\r\b"
    out = output(capsys, told(says=f"I do not know {nasty}", line_text=f"  {nasty}", said=nasty))
    assert not set("\x1b\x07\u202e\r\b") & set(out)
    assert "right to left" in out


def test_a_tab_counts_as_one_column() -> None:
    assert marked("\tsize: 5", 7, 1, 80) == (" size: 5", "       ^")


def test_wide_letters_and_combining_marks_keep_the_marker_in_place() -> None:
    assert marked("箱: 5", 3, 1, 80) == ("箱: 5", "    ^")
    assert marked("e\u0301: 5", 4, 1, 80) == ("e\u0301: 5", "   ^")
    assert cells("箱e\u0301") == 3


@pytest.mark.parametrize("start", [0, 5, 200, 399])
def test_a_long_line_is_cut_around_the_words_meant(start: int) -> None:
    line = "".join(chr(ord("a") + number % 26) for number in range(400))
    shown, marker = marked(line, start, 3, 60)
    assert cells(shown) <= 60
    under = shown[marker.index("^") : marker.index("^") + marker.count("^")]
    assert under and under in line[start : start + 3]


def test_a_place_at_the_very_end_still_has_a_mark() -> None:
    assert marked("size:", 5, 1, 80) == ("size:", "     ^")


@pytest.mark.parametrize(
    ("counts", "recipes", "said"),
    [
        ({}, 1, "All is well."),
        ({}, 3, "All is well in 3 recipes."),
        ({Strength.FAULT: 1, Strength.THOUGHT: 2}, 1, "In all: 1 error and 2 suggestions."),
        ({Strength.MISFIT: 2}, 2, "In all, in 2 recipes: 2 things that won’t fit."),
    ],
)
def test_the_closing_line_counts(counts: dict[Strength, int], recipes: int, said: str) -> None:
    assert total(catalogue(), Counter(counts), recipes) == said


def test_line_ends_are_kept_and_other_controls_shown() -> None:
    assert seen("a\nb\tc\x00d\x85e") == "a\nb c\ufffdd\ufffde"


def test_a_line_as_long_as_a_file_is_cut_without_looking_at_it_again_and_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """The work, counted: signs whose width is asked for, for lines of ten thousand and of twenty thousand words."""

    def work(words: int) -> int:
        asked: list[int] = []
        honest = telling.cells
        monkeypatch.setattr(telling, "cells", lambda text: asked.append(len(text)) or honest(text))
        line, marker = telling.marked("word " * words, 20, 4, 70)
        monkeypatch.undo()
        assert len(line) == 70 and line.endswith("…") and marker.endswith("^^^^")
        return sum(asked)

    assert work(20_000) <= 3 * work(10_000)
