"""Markdown to blocks: what each mark becomes, what is shown as text, and where every measure stands in the file."""

from __future__ import annotations

import html
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token

from bench.long_texts import UNENDED, growth_in_calls
from foldwright.recipe.prose import markdown as prose
from foldwright.recipe.prose.inline import WordNotes
from foldwright.recipe.prose.markdown import read_words
from foldwright.recipe.words import Block, Measure
from recipe.prose_shown import measures, shown
from workbench.long import tries

BEFORE = "front matter\n---\n"


def blocks_of(markdown: str, offset: int = 0) -> tuple[Block, ...]:
    return read_words(markdown, offset, WordNotes("recipe.md"))


def read(markdown: str) -> str:
    return shown(blocks_of(markdown))


@pytest.mark.parametrize(
    ("markdown", "wanted"),
    [
        ("Cut it to 5 x 4 1/4 in.", "Cut it to {5 x 4 1/4 in}."),
        ("Cut it to 4\n1/8 in wide.", "Cut it to {4 1/8 in} wide."),
        ("Cut it to 4\n   1/8 in wide.", "Cut it to {4 1/8 in} wide."),
        ("Cut it to 4  x 3 3/4 in now.", "Cut it to {4 x 3 3/4 in} now."),
        ("Cut it to 4 x  \n  3\t3/4 in  \nnow.", "Cut it to {4 x 3 3/4 in}|now."),
        ("Cut it to 4 x\\\n3 in now.", "Cut it to {4 x 3 in} now."),
        ("- Cut it to 4\n  x 3  in *or 2  in* now.", "- [Cut it to {4 x 3 in} <i>or {2 in}</i> now.]"),
        ("**Score** at 3 in, then turn.", "<b>Score</b> at {3 in}, then turn."),
        ("*Cut* it **4 1/8 in** wide.", "<i>Cut</i> it <b>{4 1/8 in}</b> wide."),
        ("Cut it **4** 1/8 in wide.", "Cut it <b>4</b> {1/8 in} wide."),
        ("Cut it *4 1/8* in wide.", "Cut it <i>4 1/8</i> in wide."),
        ("Type `3 mm` there.", "Type `3 mm` there."),
        ("Half &frac12; in off, 3&nbsp;mm on.", "Half {½ in} off, {3\u00a0mm} on."),
        (r"Put \3 in the bag, cut \1/2 in wide.", "Put 3 in the bag, cut 1/2 in wide."),
        (r"A \* star, a \_ line, 3 \* 4.", "A * star, a _ line, 3 * 4."),
        ("<b>3 mm</b> & <script>x</script>", "<b>{3 mm}</b> & <script>x</script>"),
        ("See [the 3 mm punch](https://x.example/3mm).", "See <https://x.example/3mm>the {3 mm} punch</a>."),
        ("See <https://x.example/3mm>.", "See <https://x.example/3mm>https://x.example/3mm</a>."),
        ("See https://harbourstreet.example/a-3mm and 3 mm.", "See https://harbourstreet.example/a-3mm and {3 mm}."),
        ("Ask cut-3in@x.example or www.x.example/3mm", "Ask cut-3in@x.example or www.x.example/3mm"),
        ("See [it](javascript:alert(1)) or [it](data:text/html,x).", "See it or it."),
        ("See [it](ftp://x.example) or [it](other.html) or [it](#tips).", "See it or it or <#tips>it</a>."),
        ("![the 3 mm base](base.jpg) here", "the 3 mm base here"),
        ("One  \ntwo\\\nthree", "One|two|three"),
        ("- one 3 mm\n- two\n  - 4 mm", "- [one {3 mm}]\n- [two\n- [{4 mm}]]"),
        ("1. one\n2. two", "1. [one]\n1. [two]"),
        ("> quoted 3 mm\n> more", "> [quoted {3 mm} more]"),
        ("### Sub 3 mm ##", "### Sub {3 mm}"),
        ("Words\n---\nmore", "Words\n***\nmore"),
        ("    four spaces and 3 mm", "four spaces and {3 mm}"),
        ("```\n3 mm\n```", "```3 mm\n```"),
        ("a_3 mm_b and ~~3 mm~~", "a_3 mm_b and ~~3 mm~~"),
        ("", ""),
    ],
)  # fmt: skip
def test_marks_become_runs(markdown: str, wanted: str) -> None:
    assert read(markdown) == wanted


@pytest.mark.parametrize(
    "markdown",
    [
        "Cut it to 4 1/8 in.",
        "> - one\n> - Score at 1 3/4 and 2 1/2 in.\n>   Then 3 mm.",
        "1. ***very** 5 mm deep*\n   and 6 mm\n\n   7 mm",
        "a &amp; b &frac12; in \\* 3 mm",
        "\ttab 3 mm\r\nand 4 mm\r\n\r\n5 mm\rand 6 mm",
        "### One 1/2 in ###\n\n#### 3 mm\n",
        "* * *\n- 3 mm\n\n+ 4 mm\n",
        "[a 3 mm link](https://x.example/ \"title 4 mm\") then 5 mm",
        "Cut 4&nbsp;1/8&#32;in wide; then ½&thinsp;in wide",
        "soft 4\n  1/8 in\n\n\n\n  and 3 mm  \n4 mm",
    ],
)  # fmt: skip
def test_the_place_of_a_measure_covers_the_authors_words(markdown: str) -> None:
    text = BEFORE + markdown
    found = list(measures(blocks_of(markdown, len(BEFORE))))
    assert found
    for measure in found:
        assert measure.place.file == "recipe.md"
        assert _plain(text[measure.place.start : measure.place.end]) == _plain(measure.said)


def _plain(said: str) -> str:
    """An author's spelling without entities, line ends, and the marks of the quotation or list that it runs through."""
    return re.sub(r"\s+(?:>\s*)*", " ", html.unescape(said))


def test_findings_point_at_what_they_speak_of() -> None:
    markdown = "See [the shop](javascript:x) and ![the base](base.jpg), 4 x 5 1/4 or so, 1/0 in wide."
    notes = WordNotes("recipe.md")
    read_words(markdown, 100, notes)
    places = {
        finding.code: markdown[finding.place.start - 100 : finding.place.end - 100]
        for finding in notes.complaints.findings
        if finding.place
    }
    assert places == {
        "link-dropped": "the shop",
        "picture-in-words": "![",
        "unit-forgotten": "4 x 5 1/4",
        "fraction-over-nothing": "1/0 in",
    }  # fmt: skip


def test_what_was_passed_over_is_kept_with_its_place() -> None:
    markdown = "Put *2 in each bag*, then \\3 in white."
    notes = WordNotes("recipe.md")
    read_words(markdown, 7, notes)
    (first, second) = notes.not_measured
    assert (first.said, first.why) == ("2 in", "little-word-in")
    assert (second.said, second.why) == ("3 in", "cancelled")
    assert markdown[second.place.start - 7 : second.place.end - 7] == "3 in"


def test_too_deep_is_told_once_and_the_rest_is_read() -> None:
    notes = WordNotes("recipe.md")
    blocks = read_words("> " * 30 + "deep\n\nAfter 3 mm.", 0, notes)
    assert [finding.code for finding in notes.complaints.findings] == ["nested-too-deep"]
    assert shown(blocks).endswith("After {3 mm}.")


def test_emphasis_inside_emphasis_stops_nesting_and_loses_no_word() -> None:
    text = read("*a **b " * 40 + "3 mm" + "** *" * 40)
    assert "{3 mm}" in text
    assert text.count("<i>") + text.count("<b>") <= 8


# --- the quick way and Markdown-it's way agree --------------------------------------------------------------------

PLAIN_PARTS = (
    "Cut", "it", "3 mm", "4 1/8 in,", "the", "\n", " ", "  ", "\n\n", "\n \n", "\t", "&", "!", ".", "½", "\u00a0",
    "a - b", "5", "|",
)  # fmt: skip
PLAIN = st.lists(st.sampled_from(PLAIN_PARTS), max_size=25).map(" ".join)


@settings(max_examples=tries(100, 250))
@given(PLAIN)
def test_plain_paragraphs_read_as_markdown_would_read_them(text: str) -> None:
    slow = prose._TokenReader(text, 5, WordNotes("recipe.md")).read()
    assert prose.read_words(text, 5, WordNotes("recipe.md")) == slow


MARK_PARTS = (
    "*", "**", "_", "`", "[", "](", ")", "<", ">", "!", "\\", "&amp;", "&frac12;", "\n", "\n\n", "> ", "- ", "1. ",
    "# ", "### ", "```", "3 mm", "4 1/8 in", "cut", "a", " ", "  \n", "\t", "http://x.example/", "x", "\\3 in",
    "\r\n", "~",
    "<b>", "&#0;", "🂡",
)  # fmt: skip
MARKS = st.lists(st.sampled_from(MARK_PARTS), max_size=30).map("".join)


@settings(max_examples=tries(100, 400))
@given(MARKS)
def test_any_mixture_of_marks_is_read_and_every_place_is_true(text: str) -> None:
    _places_are_true(text)


@settings(max_examples=tries(100, 400))
@given(st.text(max_size=120))
def test_any_text_is_read_and_every_place_is_true(text: str) -> None:
    _places_are_true(text)


def _places_are_true(markdown: str) -> None:
    text = BEFORE + markdown
    notes = WordNotes("recipe.md")
    blocks = read_words(markdown, len(BEFORE), notes)
    for measure in measures(blocks):
        # List marks may stand inside a wrapped measure; all of its figures are there, in order.
        said = html.unescape(text[measure.place.start : measure.place.end])
        assert _figures(said) == _figures(measure.said)
        assert _plain(said)[-1] == measure.said[-1]
    for passed in notes.not_measured:
        assert _figures(html.unescape(text[passed.place.start : passed.place.end])) == _figures(passed.said)
    for finding in notes.complaints.findings:
        assert finding.place is not None
        assert len(BEFORE) <= finding.place.start <= finding.place.end <= len(text)


def _figures(said: str) -> list[str]:
    return re.findall(r"[0-9½]", said)


REFERENCE = MarkdownIt("commonmark", {"html": False, "maxNesting": 60})
REFERENCE.disable(["lheading", "code"])
REFERENCE.validateLink = lambda url: True  # type: ignore[method-assign]


@settings(max_examples=tries(100, 300))
@given(MARKS)
def test_the_words_are_those_markdown_it_finds(markdown: str) -> None:
    """The places are remembered by a state of our own; what it reads must be what the library reads without it."""
    tokens = (token for token in REFERENCE.parse(markdown) if token.type in {"inline", "fence"})
    wanted = "".join(_library_text(leaf) for token in tokens for leaf in (token.children or [token]))
    ours = "".join(_texts(blocks_of(markdown)))
    assert _joined(ours) == _joined(wanted.replace("\\3 in", "3 in").replace("\\4 1/8 in", "4 1/8 in"))


def _library_text(leaf: Token) -> str:
    return leaf.content if leaf.type in {"text", "code_inline", "image", "fence"} else " "


def _joined(text: str) -> str:
    return re.sub(r"[\s|\\]+", "", text)


def _texts(blocks: object) -> list[str]:
    match blocks:
        case tuple():
            return [text for each in blocks for text in _texts(each)]
        case Measure():
            return [blocks.said]
        case _ if hasattr(blocks, "items"):
            return _texts(blocks.items)
        case _ if hasattr(blocks, "children"):
            return _texts(blocks.children)
        case _ if hasattr(blocks, "text"):
            return [blocks.text]
    return []


@pytest.mark.parametrize("piece", UNENDED)
def test_long_texts_take_work_in_proportion(piece: str) -> None:
    """In calls, which are the same on every machine; `start.py bench` has the time."""
    assert growth_in_calls(lambda text: blocks_of(text), piece) <= 9
