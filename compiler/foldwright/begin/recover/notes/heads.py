"""What a line is about: its piece, the panel of it, and the words before the numbers that say how it was measured."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.recover.notes.parts import WAYS
from foldwright.begin.recover.notes.tokens import BETWEEN, Token
from foldwright.recipe.facts.phrase import Phrase

_NUMBERED = frozenset({"number", "unread", "times", "about", "over", "under", "between", "marks", "within"})
_ARTICLES = frozenset({"a", "an", "the", "my"})
_JOINS = frozenset({"word", "panel", "number"})


class LineHead(Struct, frozen=True):
    """`piece` and `panel` are empty where the line does not name them; `words` say how it was measured; `body` is all
    that follows. `named` is where the piece is named.
    """

    piece: str
    panel: str
    words: tuple[Token, ...]
    body: tuple[Token, ...]
    colon: bool


def head_of(phrase: Phrase, tokens: Sequence[Token]) -> LineHead:
    """The head of a line: up to its first colon, or else up to its first number."""
    tokens = _with_articles(phrase, tokens)
    first = next((at for at, token in enumerate(tokens) if token.kind in _NUMBERED), len(tokens))
    colon = _colon(tokens, first)
    if colon is None:
        return _without_colon(phrase, tokens, first)
    head = tokens[:colon]
    groups = _groups(head)
    owned = next(
        (at for at, token in enumerate(head) if token.kind == "of" and at and head[at - 1].kind in _JOINS), None
    )
    if owned is not None and len(groups) > 1:
        # `floor of base across`
        groups = [groups[1], groups[0], *groups[2:]]
    piece = _said(phrase, groups[0]) if groups else ""
    if groups and all(token.kind == "panel" for token in groups[0]) and len(groups) == 1:
        piece, groups = "", [[], groups[0]]
    body = list(tokens[colon + 1 :])
    sided = any(token.kind in WAYS for token in head)
    adjacent = bool(body) and body[0].kind in _NUMBERED
    if (len(groups) > 1 or not sided) and groups and adjacent and _names_follow(body):
        # `base across - left: 5/8, floor: 2 7/8, right: 5/8`
        body = [*groups.pop(), *body]
        piece = _said(phrase, groups[0]) if groups else ""
    panel = " ".join(_panel(phrase, group) for group in groups[1:])
    words = tuple(token for token in head if token.kind not in _JOINS)
    return LineHead(piece, panel, words, tuple(body), True)


def _with_articles(phrase: Phrase, tokens: Sequence[Token]) -> list[Token]:
    """The tokens, an article that may belong to the name behind it a word: a piece may be called `a`."""
    done = list(tokens)
    for at, token in enumerate(tokens[:-1]):
        if token.kind == "filler" and phrase.text[token.start : token.end].casefold() in _ARTICLES:
            kind = tokens[at + 1].kind
            if kind == "word" or (kind in ("comma", *WAYS) and token.end - token.start == 1):
                done[at] = replace(token, kind="word")
        else:
            break
    return done


def _colon(tokens: Sequence[Token], first: int) -> int | None:
    """The colon that ends the head. A piece may have a number in its name: `base 2 across: 5/8 | 2 7/8 | 5/8`."""
    at = next((at for at, token in enumerate(tokens) if token.kind == "colon"), None)
    if at is None or at <= first:
        return at
    numbered = [token for token in tokens[:at] if token.kind in _NUMBERED]
    named = (
        len(numbered) == 1
        and numbered[0].kind == "number"
        and numbered[0].unit is None
        and not numbered[0].loose
        and first > 0
        and tokens[first - 1].kind == "word"
        and any(token.kind in WAYS for token in tokens[first + 1 : at])
    )
    return at if named else None


def _without_colon(phrase: Phrase, tokens: Sequence[Token], first: int) -> LineHead:
    """Words before the side are the piece; behind it, right before the number, they name the panel."""
    head = list(tokens[:first])
    groups = _groups(head)
    body = list(tokens[first:])
    last_way = max((at for at, token in enumerate(head) if token.kind in WAYS), default=-1)
    named = bool(groups) and head.index(groups[-1][0]) > last_way >= 0 and head[-1].kind in ("word", "panel")
    if named and (len(groups) > 1 or head[last_way].kind in ("across", "down", "length", "from")):
        body = [*groups.pop(), *body]
    elif last_way < 0 and len(groups) == 1 and _names_follow(tokens[first:]):
        # `flap 5/8, floor 2 7/8, flap 5/8 across`
        body = [*groups.pop(), *body]
    piece = _said(phrase, groups[0]) if groups else ""
    panel = " ".join(_panel(phrase, group) for group in groups[1:])
    while head and head[-1].kind in ("dash", "equals"):
        head.pop()
    words = tuple(token for token in head if token.kind not in _JOINS)
    return LineHead(piece, panel, words, tuple(body), False)


def _names_follow(body: Sequence[Token]) -> bool:
    """Whether another number has a name before it."""
    kinds = [token.kind for token in body]
    between = next((at for at, kind in enumerate(kinds) if kind in BETWEEN), len(kinds))
    following = [kind for kind in kinds[between:] if kind not in ("filler", "colon", "equals")]
    return any(one == "word" and other == "number" for one, other in pairwise(following))


def _groups(head: Sequence[Token]) -> list[list[Token]]:
    """Words that stand together. What stands in brackets names nothing, unless nothing else does (`across (lid)`)."""
    groups: list[list[Token]] = []
    aside: list[list[Token]] = []
    together = inside = False
    for token in head:
        if token.kind in ("open", "close"):
            inside, together = token.kind == "open", False
        elif token.kind in _JOINS:
            into = aside if inside else groups
            if together:
                into[-1].append(token)
            else:
                into.append([token])
            together = True
        elif token.kind != "and":
            together = False
    return groups or aside


def _said(phrase: Phrase, group: Sequence[Token]) -> str:
    return phrase.part(group[0].start, group[-1].end).plain if group else ""


def _panel(phrase: Phrase, group: Sequence[Token]) -> str:
    """A panel by its number or its name."""
    if len(group) == 1 and group[0].kind == "panel":
        return str(group[0].value)
    return _said(phrase, group)
