"""Characters that no page can hold are refused, with their place, wherever text comes in."""

from __future__ import annotations

import sys
import unicodedata

import pytest

from foldwright.begin.recover.notes.reading import read_sample
from foldwright.document.findings import tell
from foldwright.event.facts.guests import read_guests
from foldwright.event.facts.stock import read_stock
from foldwright.finding import Finding, Strength
from foldwright.recipe.facts.studio import read_studio
from foldwright.recipe.facts.unprintable import UNPRINTABLE, printable
from foldwright.recipe.reading import read_recipe


def told(text: str, findings: tuple[Finding, ...]) -> list[tuple[str, str]]:
    return [(one.code, text[one.place.start : one.place.end]) for one in findings if one.place]


def allowed_by_xml(code: int) -> bool:
    """XML 1.0 (fifth edition), production 2, Char."""
    return code in (0x9, 0xA, 0xD) or 0x20 <= code <= 0xD7FF or 0xE000 <= code <= 0xFFFD or 0x10000 <= code <= 0x10FFFF


def discouraged(code: int) -> bool:
    """Controls but three (the note to production 2), and noncharacters (the Unicode Standard, 23.7)."""
    noncharacter = 0xFDD0 <= code <= 0xFDEF or code & 0xFFFE == 0xFFFE
    return noncharacter or (unicodedata.category(chr(code)) == "Cc" and code not in (0x9, 0xA, 0xD))


def test_what_is_refused_is_what_the_standards_forbid_or_warn_of() -> None:
    refused = {code for code in range(sys.maxunicode + 1) if UNPRINTABLE.match(chr(code))}
    assert refused == {code for code in range(sys.maxunicode + 1) if not allowed_by_xml(code) or discouraged(code)}


def test_what_is_printed_instead_is_as_long_and_printable() -> None:
    text = "a\x1bb\x0bc\udc80d\U0001f382\ufffe\x85"
    assert printable(text) == "a\ufffdb c\ufffdd\U0001f382\ufffd "


@pytest.mark.parametrize("character", ["\x00", "\x07", "\x0b", "\x1b", "\x7f", "\x85", "\x9b", "\ud800", "\uffff"])
def test_facts_and_words_of_a_recipe(character: str) -> None:
    text = f"---\ntitle: x{character}y\nsupplies:\n  a{character}b: card\n---\n\n## S{character}\n\nWor{character}ds.\n"
    reading = read_recipe(text, "r", "s")
    assert told(text, reading.findings) == [("unprintable", character)] * 4
    assert {one.strength for one in reading.findings} == {Strength.FAULT}
    assert reading.recipe is not None
    assert not UNPRINTABLE.search(repr(reading.recipe))


def test_an_escape_in_quotes_gives_no_way_round() -> None:
    text = '---\ntitle: "x\\e[31m \\x9b \\u0007"\n---\n\n## S\n\nWords.\n'
    reading = read_recipe(text, "r", "s")
    assert [one.code for one in reading.findings] == ["unprintable"] * 3
    assert reading.recipe is not None
    assert reading.recipe.title.value == "x\ufffd[31m \ufffd \ufffd"


def test_the_studio_the_shelf_and_a_sample() -> None:
    studio, shelf = "studio: x\x1by\n", "card\x1b: 6 sheets\n"
    sample = "title: x\x1by\nbase across: 1 | 2 | 1 in\n"
    assert told(studio, read_studio(studio, "s")[1]) == [("unprintable", "\x1b")]
    assert told(shelf, read_stock(shelf, "s")[1]) == [("unprintable", "\x1b")]
    assert told(sample, read_sample(sample, "s").findings) == [("unprintable", "\x1b")]


def test_the_names_of_guests() -> None:
    read = read_guests("name\nZoë\n\x1b[31mÜmit\n".encode(), "names.csv")
    assert read.guests is None
    assert told(read.text, read.findings) == [("unprintable", "\x1b")]


def test_many_lines_are_counted_and_one_line_is_told_once() -> None:
    text = "---\ntitle: x\n---\n\n## S\n\n" + "a\x07b\x07c\n" * 25
    assert [dict(one.facts) for one in read_recipe(text, "r", "s").findings] == [
        *[{"character": "U+0007"}] * 10,
        {"count": 15},
    ]


def test_the_line_is_shown_without_what_a_terminal_would_obey() -> None:
    text = "---\ntitle: x\x1b[2Jy\n---\n\n## S\n\nWords.\n"
    (finding,) = read_recipe(text, "r", "s").findings
    shown = tell(finding, {"r": text})
    assert (shown.line, shown.column, shown.line_text) == (2, 9, "title: x\ufffd[2Jy")
    assert "U+001B" in shown.says


@pytest.mark.parametrize("mark", "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
def test_a_mark_that_turns_the_writing_is_a_thought(mark: str) -> None:
    # The explicit directional formatting characters (Unicode Standard Annex 9, 2).
    assert unicodedata.bidirectional(mark) in {"LRE", "RLE", "PDF", "LRO", "RLO", "LRI", "RLI", "FSI", "PDI"}
    text = f"---\ntitle: x{mark}y\n---\n\n## S\n\nWords.\n"
    (finding,) = read_recipe(text, "r", "s").findings
    assert (finding.code, finding.strength) == ("writing-turned", Strength.THOUGHT)
    assert f"U+{ord(mark):04X}" in tell(finding, {"r": text}).says
