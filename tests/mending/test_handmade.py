"""Mends of findings made by hand, and of texts that are laid out in other ways than the cases are."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.finding import Finding, Place, Strength
from foldwright.finding.changes import changed, moved
from foldwright.measure.length import Length, Unit
from foldwright.mending.mends import with_mends
from foldwright.pipeline import check_recipe
from foldwright.recipe.facts.unprintable import UNPRINTABLE
from mending.broken import FILE, SOUND, found_in


def mended(text: str, code: str, said: str, way: int = 0, strength: Strength = Strength.MISFIT, **facts: object) -> str:
    """The text after one mend of a finding at some words of it."""
    start = text.index(said)
    finding = Finding.of(code, strength, Place(FILE, start, start + len(said)), **facts)
    (found,) = with_mends([finding], {FILE: text}, FILE)
    return changed(text, found.mends[way].changes)


@pytest.mark.parametrize(
    "code", ["does-not-go-in-as-printed", "printed-gap-less-than-the-card", "printed-room-less-than-the-card"]
)
def test_exact_numbers_are_asked_for_above_the_lists_or_in_the_place_of_others(code: str) -> None:
    assert "level: easy\n\nnumbers: exact\nsupplies:" in mended(SOUND, code, "base:")
    other = SOUND.replace("level: easy", "level: easy\nnumbers: 1/16 in  # of our ruler")
    assert "numbers: exact  # of our ruler\n" in mended(other, code, "base:")


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("Cut it to 5 1/8 in.", "Cut it to 5 1/4 in."),
        ("Cut it to 5⅛″.", "Cut it to 5¼″."),
        ("Cut it to 5-1/8 in.", "Cut it to 5-1/4 in."),
        ("Cut it to 5.125 in.", "Cut it to 5.25 in."),
        ("Cut it to 5,125 in.", "Cut it to 5 1/4 in."),
        ("Cut it to 5 1/8 x 5 1/8 in.", "Cut it to 5 1/4 x 5 1/4 in."),
        ("Cut it to 15 1/8 x 5 1/8 in.", "Cut it to 15 1/8 x 5 1/4 in."),
    ],
)
def test_a_number_is_written_as_its_author_writes_numbers(typed: str, wanted: str) -> None:
    said, length = (Length.of(Fraction(value, 8), Unit.INCH) for value in (41, 42))
    place = Place(FILE, len("Cut it to "), len(typed) - 1)
    finding = Finding.of("words-size-differs", Strength.MISFIT, place, said=said, length=length)
    (found,) = with_mends([finding], {FILE: typed})
    assert [changed(typed, mend.changes) for mend in found.mends] == [wanted]


def test_a_length_that_its_unit_cannot_say_brings_its_own_unit() -> None:
    said, length = Length.of(1, Unit.INCH), Length.of(26, Unit.MILLIMETRE)
    finding = Finding.of("words-size-differs", Strength.MISFIT, Place(FILE, 0, 4), said=said, length=length)
    (found,) = with_mends([finding], {FILE: "1 in"})
    assert changed("1 in", found.mends[0].changes) == "26 mm"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("hush: no-time\n", "hush: no-time, tool-unknown\n"),
        ("hush: no-time  # nobody asks\n", "hush: no-time, tool-unknown  # nobody asks\n"),
        ("hush:\n  - no-time\n  - no-tools\n", "hush:\n  - no-time\n  - no-tools\n  - tool-unknown\n"),
        ("hush: [no-time]\n", "hush: [no-time, tool-unknown]\n"),
        ("hush:\n    no-time\n    no-tools\n", "hush:\n    no-time\n    no-tools\n    tool-unknown\n"),
    ],
)
def test_a_suggestion_is_hidden_beside_others_that_are(before: str, after: str) -> None:
    text = SOUND.replace("level: easy\n", "level: easy\n" + before).replace("- bone folder", "- wobbler")
    (finding,) = found_in(text)
    assert finding.code == "tool-unknown"
    once = changed(text, finding.mends[-1].changes)
    assert after in once
    assert found_in(once) == ()


@pytest.mark.parametrize(
    ("entry", "wanted"),
    [
        ("  base: from blue card, size 9 x 9 mm\n", "  base: from blue card, size 9 x 9 mm, fold tray\n"),
        ("  base: {from: blue card, size: 9 x 9 mm}\n", "  base: {from: blue card, size: 9 x 9 mm, fold tray}\n"),
        ("  base:\n      from: blue card\n", "  base:\n      from: blue card\n      fold: tray\n"),
        ("  base:\n\tfrom: blue card  # ours\n", "  base:\n\tfrom: blue card  # ours\n\tfold: tray\n"),
        ("  base:\n    holes:\n      - round 4 mm\n", "  base:\n    holes:\n      - round 4 mm\n    fold: tray\n"),
        ("  base:\n", "  base:\n    fold: tray\n"),
    ],
)
def test_a_fact_is_added_as_the_entry_is_laid_out(entry: str, wanted: str) -> None:
    text = f"---\ntitle: x\npieces:\n{entry}\n  tag:\n    size: 4 x 4 mm\n---\n"
    assert wanted in mended(text, "inside-of-what-form", "base")


def test_all_that_no_page_can_show_goes_from_the_line_on_where_there_is_more_of_it() -> None:
    text = SOUND + "".join(f"A line \x07 of {number}\x08.\n\n" for number in range(14))
    more = next(one for one in check_recipe(text, FILE, "recipe").findings if one.code == "unprintable-more")
    assert more.place is not None
    after = changed(text, more.mends[0].changes)
    assert not UNPRINTABLE.search(after, more.place.start)
    assert UNPRINTABLE.search(after)


def test_letters_outside_the_first_plane_count_as_one() -> None:
    text = SOUND.replace("Ferry box", "🚢🚢 box").replace("makes:", "mkaes:")
    (finding,) = found_in(text)
    assert found_in(changed(text, finding.mends[0].changes)) == ()


def test_a_place_moves_with_what_stands_before_it() -> None:
    text = "one two three"
    changes = (found_in(SOUND.replace("makes:", "mkaes:"))[0].mends[0].changes[0],)
    at = changes[0].end
    assert moved(at + 5, changes) == at + 5
    assert moved(text.index("two"), ()) == text.index("two")
