"""From bytes to text, and from text to facts and words."""

from __future__ import annotations

import warnings

import pytest

from foldwright.document.findings import tell
from foldwright.finding import Finding
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.recipe.facts.source import decode, split
from foldwright.recipe.reading import read_recipe


def test_text_loses_its_byte_order_mark_and_odd_line_ends() -> None:
    assert decode("\ufefftitle: x\r\nmakes: y\rlevel: z\n".encode(), "r") == ("title: x\nmakes: y\nlevel: z\n", ())


def test_a_byte_order_mark_inside_is_text() -> None:
    assert decode("a\ufeffb".encode(), "r") == ("a\ufeffb", ())


@pytest.mark.parametrize(
    ("data", "code", "facts"),
    [
        (b"title: caf\xe9\n", "file-not-utf8", {"line": 1, "column": 11, "before": "title: caf"}),
        (b"a\r\nb\r\n\xff", "file-not-utf8", {"line": 3, "column": 1, "before": ""}),
        ("title: x".encode("utf-16"), "file-other-encoding", {"encoding": "UTF-16"}),
        (b"PK\x03\x04\x00\x00", "file-no-text", {}),
        (b"x" * (MOST_BYTES + 1), "file-too-large", {"limit": 1}),
    ],
)
def test_what_is_no_text_is_named(data: bytes, code: str, facts: dict[str, object]) -> None:
    text, (finding,) = decode(data, "r")
    assert text is None
    assert finding.code == code
    assert facts.items() <= dict(finding.facts).items()
    assert told(finding)


def test_as_much_as_is_allowed_is_read() -> None:
    assert decode(b"x" * MOST_BYTES, "r") == ("x" * MOST_BYTES, ())


def told(finding: Finding) -> str:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        return tell(finding, {}).says


@pytest.mark.parametrize(
    ("text", "front", "body", "slip"),
    [
        ("---\na: b\n---\nWords\n", "\na: b\n", "\nWords\n", ""),
        ("\n \n---  \na: b\n--- \nWords\n", "\na: b\n", "\nWords\n", ""),
        ("—\na: b\n—\nWords\n", "\na: b\n", "\nWords\n", ""),
        ("–-\na: b\n-----\nWords\n", "\na: b\n", "\nWords\n", ""),
        ("---\na: b\n...\nWords\n", "\na: b\n", "\nWords\n", ""),
        ("---\na: - b\n- c\n---\nWords\n---\nMore\n", "\na: - b\n- c\n", "\nWords\n---\nMore\n", ""),
        ("a: b\n---\nWords\n", "a: b\n", "\nWords\n", "not-opened"),
        ("# a remark\n\na: b\n---\nWords\n", "# a remark\n\na: b\n", "\nWords\n", "not-opened"),
        ("---\na: b\n\n## Step\nWords\n", "\na: b\n\n", "## Step\nWords\n", "not-closed"),
        ("---\na: b\n\nWords with\n\n## Step\n", "\na: b\n", "\nWords with\n\n## Step\n", "not-closed"),
        ("---\na: b\n\nc:\n  d: e\n## Step\n", "\na: b\n\nc:\n  d: e\n", "## Step\n", "not-closed"),
        ("---\na: b\n## Step\n```step\ntime: 1 min\n```\n\n---\n", "\na: b\n", None, "not-closed"),
        ("---\na: b\n## a remark\nc: d\n---\nWords", "\na: b\n## a remark\nc: d\n", "\nWords", ""),
        ("Words only.\n\n---\n\nMore: words.\n", "", "Words only.\n\n---\n\nMore: words.\n", "no-facts"),
        ("---", "", "", "not-closed"),
        ("", "", "", "no-facts"),
    ],
)
def test_facts_and_words_are_told_apart(text: str, front: str, body: str | None, slip: str) -> None:
    parts = split(text)
    assert (parts.front, parts.slip) == (front, slip)
    assert body is None or parts.body == body
    assert text[parts.front_offset :].startswith(parts.front)
    assert text[parts.body_offset :] == parts.body


@pytest.mark.parametrize(
    ("text", "code", "line"),
    [
        ("title: x\n---\n\n## Step\n\nWords\n", "facts-not-opened", 1),
        ("---\ntitle: x\n\nIntro\n\n## Step\n\nWords\n", "facts-not-closed", 3),
        ("## Step\n\nWords\n", "no-facts", 1),
        ("---\nmakes: x\n---\n\n## Step\n\nWords\n", "no-title", 2),
    ],
)
def test_missing_lines_of_dashes_and_titles_are_told(text: str, code: str, line: int) -> None:
    reading = read_recipe(text, "r", "blue-box")
    (finding,) = reading.findings
    assert finding.code == code
    assert tell(finding, {"r": text}).line == line
    assert reading.recipe is not None
    assert reading.recipe.title.value == ("x" if "title" in text else "blue-box")
    assert [step.heading.value for step in reading.recipe.steps] == ["Step"]


@pytest.mark.parametrize("text", ["", " \n\t\n"])
def test_an_empty_text_is_no_recipe(text: str) -> None:
    reading = read_recipe(text, "r", "slug")
    assert reading.recipe is None
    assert [finding.code for finding in reading.findings] == ["file-empty"]
    assert told(reading.findings[0])


def test_findings_come_in_the_order_of_the_text() -> None:
    text = "---\ntitel: x\ntitle: y\npieces:\n  base:\n    size: 5 x 4\n    cout: 2\nlevl: easy\n---\n\n# Step\n"
    found = read_recipe(text, "r", "slug").findings
    places = [finding.place.start for finding in found if finding.place]
    assert len(places) == len(found) > 4
    assert places == sorted(places)
