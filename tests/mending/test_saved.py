"""A mend made in the bytes of a file: line ends, mark and all other bytes stay as they are."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from foldwright.finding.changes import Change, changed, moved
from foldwright.mending.saved import as_saved
from foldwright.recipe.facts.source import decode

PARTS = st.lists(st.sampled_from(["a", "é", "🚢", " ", "\n", "\r\n", "\r", "word"]), max_size=30).map("".join)


def read(data: bytes) -> str:
    text, _ = decode(data, "recipe.md")
    assert text is not None
    return text


def test_line_ends_of_windows_and_the_mark_stay_and_new_lines_have_the_same() -> None:
    data = b"\xef\xbb\xbfone\r\ntwo\r\nthree"
    text = read(data)
    at = text.index("two")
    assert as_saved(data, [Change(at, at + 3, "zwei\ndrei")]) == b"\xef\xbb\xbfone\r\nzwei\r\ndrei\r\nthree"
    assert as_saved(data, [Change(at + 3, at + 3, "!")]) == b"\xef\xbb\xbfone\r\ntwo!\r\nthree"
    assert as_saved(data, [Change(at, at + 4, "")]) == b"\xef\xbb\xbfone\r\nthree"


@given(PARTS, st.booleans(), st.data())
def test_the_text_read_again_is_the_text_mended(raw: str, mark: bool, data: st.DataObject) -> None:
    file = ("\ufeff" if mark else "").encode() + raw.encode()
    text = read(file)
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, len(text)))
    change = Change(start, end, data.draw(st.sampled_from(["", "new", "new\n", "🚢"])))
    after = as_saved(file, [change])
    assert after.startswith(b"\xef\xbb\xbf") is file.startswith(b"\xef\xbb\xbf")
    # A lone carriage return before a new line end makes one line end of the two.
    if "\r" not in raw.replace("\r\n", ""):
        assert read(after) == changed(text, [change])


@given(st.text("abc\n", max_size=20), st.data())
def test_a_letter_that_stays_is_found_where_it_moved(text: str, data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, len(text)))
    change = Change(start, end, data.draw(st.text("xyz", max_size=4)))
    after = changed(text, [change])
    for at in [*range(start), *range(end, len(text))]:
        assert after[moved(at, [change])] == text[at]
