"""Conversions of measures typed on one line: each alone, rows with their totals kept."""

from __future__ import annotations

import pytest

from foldwright.figures.conversion import Converted, convert
from foldwright.measure.conversion import read_measures
from foldwright.measure.length import Length, System
from foldwright.measure.reading import read_length
from foldwright.measure.unreadable import Unreadable


def converted(text: str, system: System | None = None, reads: str = "") -> Converted:
    asked = read_measures(text)
    mark = read_length(reads) if reads else None
    assert not isinstance(asked, Unreadable)
    assert not isinstance(mark, Unreadable)
    return convert(asked[0], system, mark)


def sides(done: Converted) -> tuple[list[str], list[str]]:
    pairs = [*done.pairs, *((done.total,) if done.total else ())]
    return [one.plain for one, _ in pairs], [other.plain for _, other in pairs]


# 104.775 and 92.075 mm; 15.875 + 73.025 + 15.875 = 104.775; 44.45 + 19.05 + 44.45 = 107.95: the parts are converted
# first, and their total is what they come to, 107 mm; so are 3 x 79.375, which make 3 x 79 = 237 mm.
PAIRS = {
    "4 1/8 x 3 5/8 in": "4 1/8 in = 105 mm, 3 5/8 in = 92 mm",
    "5/8 + 2 7/8 + 5/8 = 4 1/8 in": "5/8 in = 16 mm, 2 7/8 in = 73 mm, 5/8 in = 16 mm, 4 1/8 in = 105 mm",
    "1 3/4 | 3/4 | 1 3/4 in": "1 3/4 in = 44 mm, 3/4 in = 19 mm, 1 3/4 in = 44 mm, 4 1/4 in = 107 mm",
    "3 1/8 | 3 1/8 | 3 1/8 in": "3 1/8 in = 79 mm, 3 1/8 in = 79 mm, 3 1/8 in = 79 mm, 9 3/8 in = 237 mm",
    "20 | 60 | 20 mm": "20 mm = 13/16 in, 60 mm = 2 3/8 in, 20 mm = 13/16 in, 100 mm = 4 in",
    "10 in": "10 in = 254 mm",
}


@pytest.mark.parametrize(("text", "expected"), PAIRS.items())
def test_pairs_as_written_and_as_converted(text: str, expected: str) -> None:
    done = converted(text)
    assert ", ".join(f"{one} = {other}" for one, other in zip(*sides(done), strict=True)) == expected
    assert done.exact is (text == "10 in")
    assert done.notes == ()


def test_a_total_that_is_wrong_as_written_is_told() -> None:
    assert [note.code for note in converted("20 + 60 + 18 = 100 mm").notes] == ["disagree-as-written"]


def test_into_the_system_it_is_written_in_nothing_changes() -> None:
    done = converted("1 3/4 | 3/4 | 1 3/4 in", System.IMPERIAL)
    assert sides(done)[0] == sides(done)[1]
    assert done.exact


def test_a_ruler_of_whole_millimetres_is_obeyed() -> None:
    # 1/64 in is 0.4 mm: less than a whole millimetre is none.
    done = converted("1 3/4 | 1/64 | 1 3/4 in", reads="1 mm")
    assert [other.plain for _, other in done.pairs] == ["44 mm", "1 mm", "44 mm"]
    assert done.total is not None
    assert done.total[1].plain == "89 mm"
    assert isinstance(dict(done.notes[0].facts)["most"], Length)
