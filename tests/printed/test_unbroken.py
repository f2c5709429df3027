"""A line end within a measurement is found, one before or after it is not."""

from __future__ import annotations

import pytest

from printed.making import made
from printed.unbroken import broken_measures


def lines(*texts: str) -> bytes:
    return made(f"<h1>a</h1><p>{'<br>'.join(texts)}</p>")


@pytest.mark.parametrize(
    ("texts", "told"),
    [
        (("Cut it to 4", "1/2 in across"), "4 / 1/2 in"),
        (("Cut it to 4 1/2", "in across"), "4 1/2 / in"),
        (("Cut it to 4½", "in across"), "4½ / in"),
        (("score at 12", "mm."), "12 / mm"),
        (("Cut it to 5 ×", "4 in."), "5 × / 4 in"),
        (("Cut it to 5", "x 4 1/4 in."), "5 / x 4 1/4 in"),
        (("three of 89 × 101.5", "mm, turned"), "89 × 101.5 / mm"),
        (("a board of 12", "× 12"), "12 / × 12"),
    ],
)
def test_broken_ones_are_found(texts: tuple[str, ...], told: str) -> None:
    assert broken_measures(lines(*texts)) == [f"page 1: “{told}” is broken over two lines"]


@pytest.mark.parametrize(
    "texts",
    [
        ("Cut it to", "4 1/2 in across"),
        ("Cut it to 4 1/2 in", "across."),
        ("Take 3", "cards in one hand"),
        ("in step 4", "in the box"),
        ("Fold it 2", "times and 3", "more"),
    ],
)
def test_other_line_ends_are_none(texts: tuple[str, ...]) -> None:
    assert broken_measures(lines(*texts)) == []


def test_a_narrow_column_breaks_one_unless_it_is_held() -> None:
    narrow = "<h1>a</h1><p style='width:17mm'>Cut it to 4 1/2 in.</p>"
    held = "<h1>a</h1><p style='width:17mm'>Cut it to <span style='white-space:nowrap'>4 1/2 in.</span></p>"
    assert len(broken_measures(made(narrow))) == 1
    assert broken_measures(made(held)) == []
