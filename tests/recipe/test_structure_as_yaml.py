"""Where an ordinary YAML reader can read the facts at all, it finds the same words under the same words.

The reader is PyYAML's BaseLoader, which leaves every value text (YAML 1.1, yaml.org/spec/1.1); the writer of what is
read back is PyYAML's own. Words are compared with their runs of white space made one space.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.source import split
from foldwright.recipe.facts.structure import Node, read_structure

DEMOS = sorted((Path(__file__).parents[2] / "recipes").glob("*/recipe.md"))
COLON_INSIDE = re.compile(r"^(summary: [^\n:]*): ", re.MULTILINE)
"""A summary with a colon in the middle, at which a YAML reader gives up."""


def as_data(nodes: tuple[Node, ...]) -> dict[str, Any]:
    return {node.key.plain: below(node) for node in nodes if node.key}


def below(node: Node) -> Any:
    if node.items:
        return [below(item) for item in node.items]
    if node.entries:
        return as_data(node.entries)
    return node.value.plain if node.value else ""


def structure(front: str) -> dict[str, Any]:
    complaints = Complaints()
    data = as_data(read_structure(front, "r", 0, complaints))
    assert complaints.findings == []
    return data


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.parent.name)
def test_the_demo_recipes(path: Path) -> None:
    front = split(path.read_text(encoding="utf-8")).front
    if COLON_INSIDE.search(front):
        with pytest.raises(yaml.YAMLError):
            yaml.load(front, Loader=yaml.BaseLoader)
        front = COLON_INSIDE.sub(r"\1, ", front)
    assert structure(front) == yaml.load(front, Loader=yaml.BaseLoader)


@pytest.mark.parametrize(
    "text",
    [
        "a: b\nc:\n  d: e\n  f:\n    - g\n    - h\ni: j\n",
        "a:\n- b\n- c\nd: e\n",
        "a:\n    b: c\n    d:\n     e: f\n",
        "a: b\n  c\n  d\ne: f\n",
        "a:\n  b\n  c\nd: e\n",
        "a:\n  - b: c\n    d: e\n  - f: g\n",
        "a:\n  -   b: c\n      d: e\n",
        "# x\na: b  # y\n\n  # z\nc: d\n",
        "a:   b\nc :  d\n",
        "a: \"b: c\"\nd: 'it''s'\n\"e: f\": g\n",
        'a: "b \\\n  c"\nd: "e\n  f  # g\n\n  h"\ni: j\n',
        'a: "b\\u00e9\\x41\\tc \\"d\\""\n',
        "a: |\n  b: c\n  - d  # e\n    f\ng: h\n",
        "a:\n  b: >-\n    c\n    d\n\n    e\n  f: |2\n      g\n",
        "a: {b: c, d: [e, f g, {h: i}]}\nj: [[k], l]\n",
        "a: {\n  b: c,  # d\n  'e, f': \"g, h\"\n  }\ni: j\n",
        "a:\n  - {b: c}\n  - [d, e]\n  - 'f: g'\n  - \"h\"\n",
        "a: {b: {c: d}, e: []}\nf: 'g'  # h\n",
        "a:\n  [b, c]\nd:\n  'e: f'\n",
        "{a: b, c: {d: e}}\n",
    ],
)
def test_small_texts(text: str) -> None:
    assert structure(text) == plain(yaml.load(text, Loader=yaml.BaseLoader))


def plain(tree: Any) -> Any:
    """The same, white space made single spaces; nothing at all, however YAML says so, is an empty text."""
    if isinstance(tree, dict):
        return {" ".join(name.split()): plain(below) for name, below in tree.items()} or ""
    if isinstance(tree, list):
        return [plain(below) for below in tree] or ""
    return " ".join(tree.split())


WORDS = st.sampled_from(["b", "card stock", "4 1/8"])
NAMES = st.sampled_from(["c", "blue card", "d e"])


def entries(inner: st.SearchStrategy[Any]) -> st.SearchStrategy[dict[str, Any]]:
    return st.dictionaries(NAMES, inner, min_size=1)


def items(inner: st.SearchStrategy[Any]) -> st.SearchStrategy[list[Any]]:
    return st.lists(WORDS | entries(inner), min_size=1, max_size=3)


def depth(tree: Any) -> int:
    """How many levels a reader counts: a list's dash and what stands beside it are one each."""
    if isinstance(tree, list):
        return 1 + max(max(depth(item), 1) for item in tree)
    return 1 + max(map(depth, tree.values())) if isinstance(tree, dict) else 0


NESTED = entries(st.recursive(WORDS, lambda inner: entries(inner) | items(inner), max_leaves=8)).filter(
    lambda tree: depth(tree) <= 8
)
"""No deeper than the reader goes; what it says of deeper ones has a test of its own."""


def written(tree: Any, indent: int, width: int, under_word: bool) -> list[str]:
    """Lines of nested facts; dashes stand right under their word or as deep as other lines."""
    lines: list[str] = []
    if isinstance(tree, list):
        for item in tree:
            below = [item] if isinstance(item, str) else written(item, indent + 2, width, under_word)
            lines += [" " * indent + "- " + below[0].lstrip(), *below[1:]]
        return lines
    for name, value in tree.items():
        if isinstance(value, str):
            lines.append(f"{' ' * indent}{name}: {value}")
        else:
            deeper = 0 if under_word and isinstance(value, list) else width
            lines += [f"{' ' * indent}{name}:", *written(value, indent + deeper, width, under_word)]
    return lines


@given(NESTED, st.integers(1, 5), st.booleans())
def test_whatever_is_nested(tree: dict[str, Any], width: int, under_word: bool) -> None:
    text = "\n".join(written(tree, 0, width, under_word))
    assert structure(text) == yaml.load(text, Loader=yaml.BaseLoader) == tree


TYPED = st.text(st.sampled_from("ab1 :,#'\"\\*&!|>{}[]%@`-?=~<½é\U0001f382"), min_size=1, max_size=12).map(
    lambda text: " ".join(text.split()) or "x"
)
TYPED_LIST = st.lists(TYPED | st.dictionaries(TYPED, TYPED, min_size=1, max_size=2), min_size=1, max_size=3)
TYPED_NESTED = st.dictionaries(
    TYPED,
    st.recursive(TYPED | TYPED_LIST, lambda inner: st.dictionaries(TYPED, inner, min_size=1, max_size=3), max_leaves=8),
    min_size=1,
    max_size=4,
).filter(lambda tree: depth(tree) <= 8)


@given(TYPED_NESTED, st.sampled_from((True, False, None)), st.sampled_from("\"'"), st.integers(20, 80))
def test_whatever_another_program_writes_in_quotes(
    tree: dict[str, Any], flow: bool | None, quote: str, width: int
) -> None:
    text = yaml.safe_dump(
        tree, default_flow_style=flow, default_style=quote, width=width, allow_unicode=True, sort_keys=False
    )
    assert structure(text) == plain(yaml.load(text, Loader=yaml.BaseLoader)) == tree


@pytest.mark.parametrize(
    "text",
    [
        f"a: {{{'x' * 2000}: b}}\n",
        f"a: {{{chr(39).join('x' * 600)}: b}}\n",
        'a: {"x\n  y": b}\n',
        f"{'x' * 2000}: b\n",
        f"a: {'[' * 5000}{']' * 5000}\n",
        "a: {b: c: d}\n",
        "a: {b, [c: {d}\n",
        "a: {b}: c\n",
        "a: [b] c\n",
        "a: {,}\n",
    ],
)
def test_what_yaml_cannot_read_is_text(text: str) -> None:
    """Words longer than a thousand characters or a line, brackets without end, marks in the wrong places."""
    (node,) = read_structure(text, "r", 0, Complaints())
    assert (node.entries, node.items) == ((), ())
    assert node.value is not None
    assert node.value.text in text
