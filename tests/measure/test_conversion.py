"""Measures lined up as people line them up. Whether a row closes is the figures' affair (tests/figures)."""

from __future__ import annotations

import pytest

from foldwright.measure.conversion import read_measures
from foldwright.measure.length import Length, Shape
from foldwright.measure.reading import read_length
from foldwright.measure.unreadable import Unreadable
from foldwright.measure.writing import write_exact


def plain(*lengths: Length) -> list[str]:
    return [write_exact(length).plain for length in lengths]


ROWS = {
    "5/8 + 2 7/8 + 5/8 = 4 1/8 in": (["5/8 in", "2 7/8 in", "5/8 in"], "4 1/8 in"),
    "5/8 in + 2 7/8 + 5/8 = 4 1/8": (["5/8 in", "2 7/8 in", "5/8 in"], "4 1/8 in"),
    "5/8, 2 7/8, 5/8, total 4 1/8 in": (["5/8 in", "2 7/8 in", "5/8 in"], "4 1/8 in"),
    "5/8, 2 7/8, 5/8, 4 1/8 in in all": (["5/8 in", "2 7/8 in", "5/8 in"], "4 1/8 in"),
    "3/4 | 3 1/2 | 3/4 in": (["3/4 in", "3 1/2 in", "3/4 in"], "5 in"),
    "20|60|20 mm": (["20 mm", "60 mm", "20 mm"], "100 mm"),
    "20 mm + 1 in": (["20 mm", "1 in"], "45.4 mm"),
    "2,5 + 3,5 cm": (["2.5 cm", "3.5 cm"], "6 cm"),
    "20 + 60 + 18 = 100 mm": (["20 mm", "60 mm", "18 mm"], "100 mm"),
}


@pytest.mark.parametrize(("text", "row"), ROWS.items())
def test_a_row_and_its_total(text: str, row: tuple[list[str], str]) -> None:
    read = read_measures(text)
    assert not isinstance(read, Unreadable)
    (asked,) = read
    assert asked.shape is Shape.LIST
    assert asked.total is not None
    assert (plain(*asked.lengths), plain(asked.total)) == (row[0], [row[1]])


def test_a_list_without_a_total_is_so_many_measures() -> None:
    read = read_measures("4 1/8 x 3 5/8 in; 10,5 cm, 1 ft 6 in\n5 mm")
    assert not isinstance(read, Unreadable)
    assert [(asked.shape, plain(*asked.lengths)) for asked in read] == [
        (Shape.CROSS, ["4 1/8 in", "3 5/8 in"]),
        (Shape.SINGLE, ["10.5 cm"]),
        (Shape.SINGLE, ["18 in"]),
        (Shape.SINGLE, ["5 mm"]),
    ]
    assert all(asked.total is None for asked in read)


@pytest.mark.parametrize(
    ("text", "shape", "lengths"),
    [
        ("2 to 2 1/2 in", Shape.RANGE, ["2 in", "2 1/2 in"]),
        ("2–2½″", Shape.RANGE, ["2 in", "2 1/2 in"]),
        ("2-3 in", Shape.RANGE, ["2 in", "3 in"]),
        ("1 in to 2 in", Shape.RANGE, ["1 in", "2 in"]),
        ("3 mm to 4 mm", Shape.RANGE, ["3 mm", "4 mm"]),
        ("1 1/2″–2″", Shape.RANGE, ["1 1/2 in", "2 in"]),
        ("1–1/2 in", Shape.SINGLE, ["1 1/2 in"]),
        ("1‑1/2″", Shape.SINGLE, ["1 1/2 in"]),
        ("½ʺ", Shape.SINGLE, ["1/2 in"]),
        ("0.75 in", Shape.SINGLE, ["3/4 in"]),
        ("3/4-inch", Shape.SINGLE, ["3/4 in"]),
        ("inch-and-a-half", Shape.SINGLE, ["1 1/2 in"]),
        ("an inch-and-a-half", Shape.SINGLE, ["1 1/2 in"]),
        ("an inch and a half", Shape.SINGLE, ["1 1/2 in"]),
        ("5/8ths of an inch", Shape.SINGLE, ["5/8 in"]),
        ("1/2 an inch", Shape.SINGLE, ["1/2 in"]),
        ("1 ft 6", Shape.SINGLE, ["18 in"]),
    ],
)
def test_what_a_sentence_may_hold_may_stand_alone(text: str, shape: Shape, lengths: list[str]) -> None:
    (one,) = read_measures(text)
    assert (one.shape, list(one.lengths)) == (shape, [read_length(length) for length in lengths])


@pytest.mark.parametrize("text", ["about 3 in", "3 in or 4 in", "1 in and 2 in", "3 in then 4 in", "cut 3 in", "3 in."])
def test_more_than_a_measure_is_none(text: str) -> None:
    assert isinstance(read_measures(text), Unreadable) is (text != "3 in.")


@pytest.mark.parametrize(
    ("text", "code"),
    {
        "": "no-number",
        "  ;  ": "no-number",
        "= 4 in": "no-number",
        "1 +": "no-unit",
        "3 | 4": "no-unit",
        "1/0 + 2 in": "fraction-over-nothing",
        "4, 5 in": "no-unit",
        "1 + " * 70 + "1 in": "too-many-lengths",
        "1 + " * 1000: "absurd-number",
    }.items(),
)
def test_what_is_no_measure(text: str, code: str) -> None:
    read = read_measures(text)
    assert isinstance(read, Unreadable)
    assert read.code == code
