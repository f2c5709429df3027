"""Quotes, braces and brackets as YAML has them: where one that opens here ends, and which words stand inside it.

A decimal comma parts nothing, nor does a comma in round brackets; a remark begins with `#` after two spaces. What is
not well formed is no flow: it stays the author's text.
"""

from __future__ import annotations

import re

from msgspec import Struct

from foldwright.recipe.facts.limits import DEEPEST, LONGEST_WORD

_DOUBLE = (
    r'"(?:[^"\\]|\\(?:[0abtnvfre "/\\N_LP\n]|x[0-9a-fA-F]{2}|u(?![dD][89a-fA-F])[0-9a-fA-F]{4}'
    r'|U00(?:0[1-9a-fA-F]|10)[0-9a-fA-F]{4}))*+"'
)
QUOTED = re.compile(rf"{_DOUBLE}|'(?:[^']|'')*+'")
"""A whole quoted string, with the escapes of YAML 1.1 (5.7) and no others."""
_TOKEN = re.compile(
    rf"""(?P<blank>\s++|(?:(?<=\s\s)|(?<=[\n\t]))\#[^\n]*)
    |(?P<open>[\[{{])|(?P<close>[\]}}])|(?P<comma>,)|(?P<colon>:(?=[\s,\[\]{{}}]))
    |(?P<quoted>{_DOUBLE}|'(?:[^']|'')*+')(?=\s*+[,:\]}}])
    |(?P<plain>(?:\([^()\n]*\)|(?<=[0-9]),(?=[0-9])|(?<=\S)[ ]?\[[^\[\]{{}}\n]*\]|:(?![\s,\[\]{{}}])|(?<!\s\s)\#
        |[^\s,:\#\[\]{{}}]|[^\S\n](?![,\]}}]))++)""",
    re.VERBOSE,
)
_CLOSING = {"{": "}", "[": "]"}
_LETTERS = {"open": "o", "close": "c", "comma": ",", "colon": ":", "quoted": "p", "plain": "p"}
_NOT_FLOW = re.compile(r"[pc][po]|[o,:c]:|[o,],|:p:")
"""Neighbours that YAML has not: two values without a comma, a colon without a word, an empty place."""


class Token(Struct, frozen=True):
    """`kind` is one of open, close, quoted, plain, comma, colon; of what opens, `end` is where it closes again."""

    kind: str
    start: int
    end: int


def flow_from(text: str, start: int) -> list[Token] | None:
    """The tokens of the braces or brackets that open at `start`, to their end; None where there is no such thing."""
    tokens: list[Token] = []
    opened: list[int] = []
    letters, at = "", start
    while token := _TOKEN.match(text, at):
        at = token.end()
        kind = token.lastgroup or ""
        if kind == "blank":
            continue
        letters += _LETTERS[kind]
        if _NOT_FLOW.search(letters, max(len(letters) - 3, 0)):
            return None
        if kind == "colon" and not _is_word(text[tokens[-1].start : tokens[-1].end]):
            return None
        if kind == "open":
            opened.append(len(tokens))
        tokens.append(Token(kind, token.start(), at))
        if kind == "close":
            opening = tokens[opened[-1]]
            if _CLOSING[text[opening.start]] != token[0]:
                return None
            tokens[opened.pop()] = Token("open", opening.start, at)
        if not opened:
            return tokens
        if len(opened) > DEEPEST:
            return None
    return None


def _is_word(text: str) -> bool:
    """Whether it can stand before a colon."""
    return len(text) <= LONGEST_WORD and "\n" not in text
