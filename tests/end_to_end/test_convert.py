"""`foldwright convert` as a person runs it. Expected values: 1 in is 25.4 mm exactly (international yard, 1959)."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbench.command_line import foldwright


@pytest.mark.parametrize(
    ("said", "answer"),
    [
        # 4 1/8 x 25.4 = 104.775, 3 5/8 x 25.4 = 92.075
        ("4 1/8 x 3 5/8 in", "4 1/8 x 3 5/8 in  is about  105 x 92 mm"),
        # 105 / 25.4 = 4.1339; 2/16 is 0.125, 3/16 is 0.1875
        ("105 mm", "105 mm  is about  4 1/8 in"),
        ("10 in", "10 in  is  254 mm"),
        ("25.4 mm", "25.4 mm  is  1 in"),
        # 3/4 is 19.05, 3 1/2 is 88.9, the sum 5 is 127 exactly
        ("3/4 | 3 1/2 | 3/4 in", "3/4 | 3 1/2 | 3/4 in  is about  19 + 89 + 19 mm = 127 mm"),
        # 5/8 is 15.875 and 2 7/8 is 73.025; 4 1/8 is 104.775: 16 + 73 + 16 is 105
        ("5/8 + 2 7/8 + 5/8 = 4 1/8 in", "5/8 + 2 7/8 + 5/8 = 4 1/8 in  is about  16 + 73 + 16 mm = 105 mm"),
        ("20 yd", "20 yd  is  18.288 m"),
        ("4⅛″", '4⅛"  is about  105 mm'),
        ("2,5 x 3 cm", "2,5 x 3 cm  is about  1 x 1 3/16 in"),
    ],
)
def test_a_measure_is_said_in_the_other_units(tmp_path: Path, said: str, answer: str) -> None:
    done = foldwright("convert", said, cwd=tmp_path)
    assert (done.status, done.out, done.err) == (0, answer + "\n", "")


def test_a_list_in_one_argument_is_answered_measure_by_measure(tmp_path: Path) -> None:
    done = foldwright("convert", "1 in, 2 x 3 in", cwd=tmp_path)
    assert done.out.splitlines() == ["1 in  is about  25 mm", "2 x 3 in  is about  51 x 76 mm"]


def test_several_measures_are_answered_in_turn(tmp_path: Path) -> None:
    done = foldwright("convert", "1 in", "50 mm", "--to", "metric", cwd=tmp_path)
    assert done.out.splitlines() == ["1 in  is about  25 mm", "50 mm  is  50 mm"]


def test_panels_come_first_and_the_total_is_what_they_come_to(tmp_path: Path) -> None:
    """1 1/4 in is 31.75 mm, 32 rounded, and 3 x 32 is 96 (three times 31.75 is 95.25); 3 x 79.375 mm is 3 x 79."""
    rows = "1 1/4 | 1 1/4 | 1 1/4 in", "3 1/8 + 3 1/8 + 3 1/8 in", "20 | 60 | 20 mm"
    done = foldwright("convert", *rows, cwd=tmp_path)
    assert [line.partition("is about  ")[2] for line in done.out.splitlines()] == [
        "32 + 32 + 32 mm = 96 mm",
        "79 + 79 + 79 mm = 237 mm",
        "13/16 + 2 3/8 + 13/16 in = 4 in",
    ]


def test_a_row_that_does_not_add_up_is_told_with_its_sum(tmp_path: Path) -> None:
    done = foldwright("convert", "5/8 + 2 7/8 + 5/8 = 4 1/4 in", cwd=tmp_path)
    assert (done.status, done.out) == (1, "")
    assert "4 1/8 in, not 4 1/4 in" in done.err


def test_a_trimmer_that_reads_only_some_marks_is_obeyed(tmp_path: Path) -> None:
    done = foldwright("convert", "105 mm", "--reads", "1/4 in", cwd=tmp_path)
    assert done.out.splitlines()[0].endswith(" 4 1/4 in")
    assert "1/4 in" in done.out.splitlines()[1]


@pytest.mark.parametrize(
    "said", ["banana", "4", "1/0 in", "1e999 in", "-3 in", "0 mm", "", "3 furlongs", "1 x 2 x 3 x 4 in"]
)
def test_what_is_no_measure_is_told(tmp_path: Path, said: str) -> None:
    done = foldwright("convert", "--", said, "1 in", cwd=tmp_path)
    assert done.status == 2
    assert f"“{said}”" in done.err
    # One slip does not hide the rest.
    assert done.out == "1 in  is about  25 mm\n"


@pytest.mark.parametrize("words", [["1 in", "--to", "furlongs"], ["1 in", "--reads", "often"], []])
def test_a_wrong_call_is_told(tmp_path: Path, words: list[str]) -> None:
    done = foldwright("convert", *words, cwd=tmp_path)
    assert (done.status, done.out) == (2, "")
    assert done.err


def test_a_range_is_said_as_one(tmp_path: Path) -> None:
    done = foldwright("convert", "2 to 3 in", cwd=tmp_path)
    assert (done.status, done.out) == (0, "2 to 3 in  is about  51 to 76 mm\n")
