"""The studio's shelf as it is written down: what was read, what was told and where."""

from __future__ import annotations

import string
import warnings
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.document.findings import tell
from foldwright.event.facts.stock import MOST_OWNED, ShelfLine, check_stock, read_stock
from foldwright.finding import Finding, Strength
from recipe.facts_shown import shown
from workbench.long import tries

SHELF = """\
charcoal card: 6 sheets, scraps 3 of 5 x 11 in or 4 x 6 in
gingham card:
  sheets: 2 of 12 x 12 in
  scraps: 3 of 6 x 12 in or 2 1/2 x 12 in
  trim 1/8 in
cotton twine: 2 of 20 yd, 4 yd           # full spools, and one begun
foam square: 120
caramel: 1 pack, 15                      # unopened, and single ones
hot glue: plenty
"""


def short(line: ShelfLine) -> str:
    """A line of the shelf in short: `2 of A | scrap 1 of B | length 1 of C | 15 | packs 1 | trim D | plenty`."""
    parts = [
        *(f"{one.value.count} of {shown(one.value.size) or 'recipe'}" for one in line.sheets),
        *(f"scrap {one.value.count} of {shown(one.value.size)}" for one in line.scraps),
        *(f"length {one.value.count} of {shown(one.value.length)}" for one in line.lengths),
        shown(line.amount),
        f"packs {line.packs.value}" if line.packs else "",
        f"trim {shown(line.trim)}" if line.trim else "",
        "plenty" if line.plenty else "",
    ]
    return " | ".join(part for part in parts if part)


def told(findings: tuple[Finding, ...], text: str) -> list[tuple[str, str]]:
    """Each finding with the words it stands at; every one is told without a missing word, and says what to do."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for finding in findings:
            one = tell(finding, {"s": text})
            assert one.line >= 1
            assert one.says
            assert one.remedy
    return [(one.code, text[one.place.start : one.place.end]) for one in findings if one.place]


def test_a_shelf_is_read() -> None:
    shelf, findings = read_stock(SHELF, "stock.yaml")
    assert findings == ()
    assert shelf.file == "stock.yaml"
    assert {line.name.value: short(line) for line in shelf.lines} == {
        "charcoal card": "6 of recipe | scrap 3 of 5 x 11 in | scrap 1 of 4 x 6 in",
        "gingham card": "2 of 12 x 12 in | scrap 3 of 6 x 12 in | scrap 1 of 2 1/2 x 12 in | trim 1/8 in",
        "cotton twine": "length 2 of 20 yd | length 1 of 4 yd",
        "foam square": "120",
        "caramel": "15 | packs 1",
        "hot glue": "plenty",
    }


def test_every_value_has_its_place() -> None:
    shelf, _ = read_stock(SHELF, "s")
    card, gingham, twine, foam, caramel, _ = shelf.lines
    assert card.scraps[0].value.size is not None
    assert gingham.trim is not None
    assert foam.amount is not None
    assert caramel.packs is not None
    said = (card.name, *card.sheets, *card.scraps, gingham.sheets[0], gingham.trim, *twine.lengths, foam.amount)
    assert [SHELF[one.place.start : one.place.end] for one in (*said, caramel.packs)] == [
        "charcoal card", "6 sheets", "scraps 3 of 5 x 11 in", "4 x 6 in", "sheets: 2 of 12 x 12 in", "trim 1/8 in",
        "2 of 20 yd", "4 yd", "120", "1 pack",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("said", "read"),
    [
        ("a sheet", "1 of recipe"),
        ("six sheets", "6 of recipe"),
        ("2 full sheets of 12 x 12 in", "2 of 12 x 12 in"),
        ("6 sheets (top drawer)", "6 of recipe"),
        ("6 sheets (12 x 12 in)", "6 of 12 x 12 in"),
        # ISO 216: A4 is 210 x 297 mm.
        ("2 of A4, 8½ x 11 in", "2 of 210 x 297 mm | 1 of 8 1/2 x 11 in"),
        ("12 x 12 in", "1 of 12 x 12 in"),
        ("3 scraps of 5 x 11 in and 4×6 in; 2 x 2 in",
         "scrap 3 of 5 x 11 in | scrap 1 of 4 x 6 in | scrap 1 of 2 x 2 in"),
        ("scraps 4 x 6 in, 6 sheets, trim 3 mm", "6 of recipe | scrap 1 of 4 x 6 in | trim 3 mm"),
        ("{sheets: 2 of A4, trim: 1/8 in}", "2 of 210 x 297 mm | trim 1/8 in"),
        ("2 spools of 20 yd", "length 2 of 20 yd"),
        ("2 spools", "packs 2"),
        ("lengths: 2 of 3 m, 1 m", "length 2 of 3 m | length 1 of 1 m"),
        ("two and a half packs, 15 loose", "15 | packs 5/2"),
        ("amount: 200 ml", "200 ml"),
        ("amount: 4 yd", "length 1 of 4 yd"),
        ("15 squares", "15 squares"),
        (f"{MOST_OWNED}", f"{MOST_OWNED}"),
        ("enough", "plenty"),
    ],
)  # fmt: skip
def test_how_people_write_what_they_have(said: str, read: str) -> None:
    shelf, findings = read_stock(f"card: {said}\n", "s")
    assert findings == ()
    assert short(shelf.lines[0]) == read


@pytest.mark.parametrize(
    "text",
    [
        "a:\n  - 6 sheets\n  - scraps: 3 of 4 x 6 in\n  - 2 x 2 in\n",
        "a: 6 sheets\n  scraps:\n    - 3 of 4 x 6 in\n    - 2 x 2 in\n",
        "---\na: 6 sheets, scraps 3 of 4 x 6 in or\n  2 x 2 in\n---\n",
        "a:\n  6 sheets\n  scraps 3 of 4 x 6 in\n  or 2 x 2 in\n",
    ],
)
def test_on_one_line_or_on_several(text: str) -> None:
    shelf, findings = read_stock(text, "s")
    assert findings == ()
    assert short(shelf.lines[0]) == "6 of recipe | scrap 3 of 4 x 6 in | scrap 1 of 2 x 2 in"


@pytest.mark.parametrize(
    ("said", "code", "at", "read"),
    [
        ("-3 sheets, scraps 4 x 6 in", "negative-number", "-3", "scrap 1 of 4 x 6 in"),
        ("0", "stock-nothing", "0", ""),
        ("0 sheets", "stock-nothing", "0", ""),
        ("none", "stock-nothing", "none", ""),
        ("1 1/2 sheets", "stock-part-of-one", "1 1/2 sheets", ""),
        ("half of 20 yd, 3 yd", "stock-part-of-one", "half of 20 yd", "length 1 of 3 yd"),
        ("2 of 12 x 12", "no-unit", "12 x 12", ""),
        ("2 of 5", "no-unit", "5", ""),
        ("2 of 20 yd, 15", "no-unit", "15", "length 2 of 20 yd"),
        ("1000001", "stock-too-many", "1000001", ""),
        ("1000001 sheets", "stock-too-many", "1000001", ""),
        ("1,200 sheets", "comma-of-thousands", "1,200", ""),
        ("6 sheets at £0.40 each, trim 3 mm", "stock-price", "at £0.40 each", "6 of recipe | trim 3 mm"),
        ("1 pack at 7.50, 15", "stock-price", "at 7.50", "15 | packs 1"),
        ("15, price: 3.40", "stock-price", "price: 3.40", "15"),
        ("scraps 3, 6 sheets", "stock-scrap-size", "scraps 3", "6 of recipe"),
        ("6 sheets, 12 x 12 in", "stock-size-alone", "12 x 12 in", "6 of recipe | 1 of 12 x 12 in"),
        ("2 packs of 24, 3", "stock-pack-size", "2 packs of 24", "3"),
        ("2 boxes of 50", "stock-pack-size", "2 boxes of 50", ""),
        ("2 of foolscap, A4", "unknown-sheet", "foolscap", "1 of 210 x 297 mm"),
        ("2 of 5 x 5 x 5 in", "sheet-needs-two", "5 x 5 x 5 in", ""),
        ("6 shets", "unknown-word", "6 shets", ""),
        ("shets 6", "unknown-word", "shets 6", ""),
        ("colour: red, blue", "unknown-word-no-near", "colour", ""),
        ("a few", "stock-unclear", "a few", ""),
        ("3 lengths", "stock-unclear", "3 lengths", ""),
        ("6 sheets, packs", "stock-unclear", "packs", "6 of recipe"),
        ("15, 20", "said-twice", "20", "15"),
        ("plenty, 6 sheets", "stock-plenty-and-more", "plenty", "6 of recipe | plenty"),
        ("4 yd, trim 1/8 in", "stock-trim-of-what", "trim 1/8 in", "length 1 of 4 yd | trim 1/8 in"),
        ("2 of 4 x 6 in, trim 2 in", "stock-trim-leaves-nothing", "2 of 4 x 6 in", "2 of 4 x 6 in | trim 2 in"),
        ("6 sheets (top drawer, 5 x 5", "remark-not-closed", "(top drawer, 5 x 5", None),
        ("6 sheets # top drawer, left", "one-space-remark", "6 sheets # top drawer, left", "6 of recipe"),
        ("", "nothing-said", "card", ""),
        ("1" + " " * 300 + "x, 4 yd", "stock-unclear", "1" + " " * 300 + "x", "length 1 of 4 yd"),
        ("9" * 2001, "stock-unclear", "9" * 2001, ""),
    ],
)  # fmt: skip
def test_slips_are_told_and_hide_nothing_else(said: str, code: str, at: str, read: str | None) -> None:
    text = f"card: {said}\nglue: plenty\n"
    shelf, findings = read_stock(text, "s")
    assert (code, at) in told(findings, text)
    assert [line.name.value for line in shelf.lines] == ["card", "glue"]
    assert shelf.lines[1].plenty
    if read is not None:
        assert len(findings) == 1
        assert short(shelf.lines[0]) == read


def test_slips_of_the_whole_file() -> None:
    text = "Card: 6 sheets\nfoam squares 120\ncard: 2\n\tscraps\n\nglue: 5\n"
    shelf, findings = read_stock(text, "s")
    assert told(findings, text) == [
        ("no-name", "foam squares 120"),
        ("name-twice", "card"),
        ("stock-scrap-size", "scraps"),
    ]
    assert [short(line) for line in shelf.lines] == ["6 of recipe", "5"]


@pytest.mark.parametrize("text", ["", "\n \n", "# nothing yet\n", "---\n---\n"])
def test_an_empty_shelf_is_a_thought(text: str) -> None:
    shelf, findings = read_stock(text, "s")
    assert shelf.lines == ()
    assert told(findings, text) == [("stock-empty", "")]
    assert findings[0].strength is Strength.THOUGHT


def test_a_shelf_without_end_is_cut_at_a_line() -> None:
    text = "".join(f"card {number:06}: 5\n" for number in range(5000))
    shelf, findings = read_stock(text, "s")
    assert told(findings, text) == [("stock-too-long", "")]
    assert len(shelf.lines) == 65536 // len("card 000000: 5\n")


def test_a_name_is_asked_about_only_if_it_is_nearly_a_planned_one() -> None:
    shelf, _ = read_stock("charcoal cards: 1\nlight grey card: 3\nlight green card: 3\nrose ribbon: 4 yd\n", "s")
    findings = check_stock(shelf, ["charcoal card", "Light green card", "caramel"])
    assert [(one.code, dict(one.facts)) for one in findings] == [
        ("stock-name-near", {"said": "charcoal cards", "nearest": "charcoal card"})
    ]
    assert check_stock(shelf, ["charcoal cards", "charcoal card"]) == ()
    assert check_stock(shelf, []) == ()


@pytest.mark.parametrize(
    ("text", "same", "short_form"),
    [
        ("rose card: same as wrap card, rose", "wrap card, rose", ""),
        ("rose card: 6 sheets, same as wrap card, rose", "wrap card, rose", "6 of recipe"),
        ("rose card:\n  sheets: 6\n  same as: wrap card, rose", "wrap card, rose", "6 of recipe"),
        ("our twine: the same as cotton twine", "cotton twine", ""),
        ("our twine: plenty; same as cotton or linen twine  # as sold", "cotton or linen twine", "plenty"),
    ],
)
def test_another_name_takes_the_rest_of_its_line(text: str, same: str, short_form: str) -> None:
    shelf, findings = read_stock(text + "\n", "s")
    (line,) = shelf.lines
    assert findings == () and line.same is not None
    assert (line.same.value, short(line)) == (same, short_form)
    assert text[line.same.place.start : line.same.place.end].startswith(("same", "the same"))


def test_another_name_is_one_and_is_said() -> None:
    assert [one.code for one in read_stock("a: same as\n", "s")[1]] == ["nothing-said"]
    assert [one.code for one in read_stock("a:\n  same as b\n  same as c\n", "s")[1]] == ["said-twice"]


COUNTS = st.integers(1, MOST_OWNED)
SIDES = st.fractions(Fraction(1, 8), 40, max_denominator=16)


def mixed(number: Fraction) -> str:
    whole, rest = divmod(number, 1)
    return " ".join(str(part) for part in (whole, rest) if part)


@settings(max_examples=tries(20, 60))
@given(COUNTS, SIDES, SIDES, COUNTS, SIDES)
def test_what_is_written_comes_back(
    sheets: int, across: Fraction, down: Fraction, spools: int, yards: Fraction
) -> None:
    size = f"{mixed(across)} x {mixed(down)} in"
    text = (
        f"card: {sheets} of {size}, scraps {sheets} of {size}\ntwine: {spools} of {mixed(yards)} yd, {spools} packs\n"
    )
    shelf, findings = read_stock(text, "s")
    assert findings == ()
    card, twine = shelf.lines
    owned = card.sheets[0].value
    assert owned.size is not None
    # An inch is 25.4 mm and a yard 36 inches (international yard and pound agreement, 1959).
    assert (owned.count, *(length.mm for length in owned.size.lengths)) == (
        sheets, across * Fraction(254, 10), down * Fraction(254, 10),
    )  # fmt: skip
    assert card.scraps[0].value == owned
    assert (twine.lengths[0].value.count, twine.lengths[0].value.length.mm) == (spools, yards * Fraction(9144, 10))
    assert twine.packs is not None
    assert twine.packs.value == spools


WORDS = ["sheets", "scraps", "of", "4 x 6 in", "20 yd", "plenty", "1 pack", "trim", "3", "-", ":", ",", "or", "(", "[",
         "\n", "\n  ", "\t", "£2", "at 3", "#", "½", "card", "{", "x", "0"]  # fmt: skip


@settings(max_examples=tries(50, 150))
@given(st.lists(st.sampled_from([*WORDS, *string.punctuation]), max_size=25).map(" ".join))
def test_no_text_is_too_odd(text: str) -> None:
    """Whatever is typed, every place lies in the text and every finding can be told."""
    shelf, findings = read_stock(text, "s")
    told(findings, text)
    assert all(0 <= one.place.start <= one.place.end <= len(text) for one in findings if one.place)
    assert all(line.name.value == " ".join(line.name.value.split()) for line in shelf.lines)
