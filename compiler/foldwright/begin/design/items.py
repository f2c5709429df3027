"""The parts of a sentence put together: each thing with its words and its size."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from foldwright.begin.design.counting import PIECES, is_count
from foldwright.begin.design.tokens import Kind, Token
from foldwright.finding import Wrong

_LEFT_OUT = frozenset("please thanks thank you in total altogether all wrapped inside it them or so down".split())
_SHAPES = frozenset("ball balls disc discs disk disks".split())
_WITH = frozenset({"with", "including", "incl"})
"""What may stand behind a size and says nothing more of it."""
_CROSS = Token(Kind.CROSS, "x")


class Item(Struct):
    """What was said of one thing: its words and its size, either of which may be missing."""

    words: list[Token]
    size: list[Token]

    @property
    def named(self) -> bool:
        return any(token.kind is Kind.WORD and not is_count(token.text.casefold()) for token in self.words)


def has_range(tokens: Sequence[Token]) -> bool:
    """`3-4 in`, `3 to 4 in`: no size."""
    kinds = zip(tokens, tokens[1:], tokens[2:], strict=False)
    return any(
        one.kind is other.kind is Kind.NUMBER and between.text.casefold() in ("-", "to", "or")
        for one, between, other in kinds
    )


def items_of(tokens: Sequence[Token]) -> list[Item] | Wrong:
    """Each thing: the words before its size, or where there are none, those behind it."""
    items: list[Item] = []
    waiting: list[list[Token]] = [[]]
    at = 0
    while at < len(tokens):
        if end := _size_end(tokens, at):
            _named_behind(items, waiting)
            said = [part for part in waiting if _says(part)]
            own = said.pop() if said else []
            if said and own and (_is_tally(own) or [token.kind for token in own] == [Kind.NUMBER]):
                # `fudge, 12 pieces, ...`
                own = [next(token for token in own if token.kind is Kind.NUMBER), *said.pop()]
            labelled = any(one.kind is Kind.SIDE for one in tokens[at:end]) and _kind_at(tokens, end) is not Kind.WORD
            if not own and items and items[-1].named and labelled:
                # `a 6 in candle, 7/8 in thick`: its size goes on behind its name.
                items[-1].size += [_CROSS, *tokens[at:end]]
                waiting, at = [[]], end
                continue
            items += [Item(part, []) for part in said]
            items.append(Item(own, list(tokens[at:end])))
            waiting, at = [[]], end
            continue
        if tokens[at].kind is Kind.PARTS:
            waiting.append([])
        else:
            waiting[-1].append(tokens[at])
        at += 1
    _named_behind(items, waiting)
    if items and items[-1].size and _says(waiting[0]) and not _is_tally(waiting[0]):
        return Wrong.of("design.words-left", said=" ".join(token.text for token in waiting[0]))
    said = [part for part in waiting if _says(part)]
    if said and items and _is_tally(said[0]):
        items[-1].words.insert(0, next(token for token in said.pop(0) if token.kind is Kind.NUMBER))
    if len(said) == 1 and items and not items[-1].named and not _counted(said[0]):
        items[-1].words += said.pop()
    return [*items, *(Item(part, []) for part in said)]


def _named_behind(items: Sequence[Item], waiting: list[list[Token]]) -> None:
    """`3 x 2 x 1 in bar of soap`: the words right behind a size that nothing was said before.

    `soap 60 mm ball`, `a jar 3 in high with its lid`: behind one that is named, its shape or what is measured with it.
    """
    words = [token.text.casefold() for token in waiting[0] if token.kind is Kind.WORD]
    if not items or not items[-1].size or not words:
        return
    if not items[-1].named:
        items[-1].words += waiting[0]
        waiting[0] = []
    elif words[0] in _WITH or set(words) <= _SHAPES:
        waiting[0] = []


def _is_tally(part: Sequence[Token]) -> bool:
    """`50 of them`, `20 pieces`, `x 4`: how many there are of what was said before."""
    words = {token.text.casefold() for token in part if token.kind is Kind.WORD}
    numbers = [token for token in part if token.kind is Kind.NUMBER]
    times = any(token.kind is Kind.CROSS for token in part)
    return len(numbers) == 1 and (times or bool(words & PIECES)) and words <= PIECES | _LEFT_OUT


def _says(part: Sequence[Token]) -> bool:
    """Whether words name something, and are no courtesies."""
    return any(
        token.kind is Kind.NUMBER or (token.kind is Kind.WORD and token.text.casefold() not in _LEFT_OUT)
        for token in part
    )


def _counted(part: Sequence[Token]) -> bool:
    return part[0].kind is Kind.NUMBER or is_count(part[0].text.casefold())


def _size_end(tokens: Sequence[Token], at: int) -> int:
    """Where the size ends that begins here; 0 where none does."""
    end = _measure_end(tokens, at)
    crossed = False
    while end:
        then = end + 1 if end < len(tokens) and tokens[end].kind in (Kind.PARTS, Kind.NOTHING) else end
        if _kind_at(tokens, end) is Kind.CROSS and (further := _measure_end(tokens, end + 1, True)):
            end, crossed = further, True
        elif _kind_at(tokens, end) is Kind.SIDE:
            end += 1
        elif not crossed and (further := _measure_end(tokens, then)) and _goes_on(tokens, at, then, further):
            end = further
        else:
            break
    return end


def _goes_on(tokens: Sequence[Token], begin: int, at: int, end: int) -> bool:
    """Whether another measure without a cross is of the same thing: sides are named, or all have units and no words."""
    run = tokens[begin:end]
    numbers = [token for token in run if token.kind is Kind.NUMBER]
    named = any(token.kind is Kind.SIDE for token in tokens[at : end + 1])
    before = any(token.kind is Kind.SIDE for token in tokens[begin:at])
    word_next = _kind_at(tokens, end) is Kind.WORD
    return len(numbers) <= 3 and (named or not word_next) and (named or before or all(one.unit for one in numbers))


def _kind_at(tokens: Sequence[Token], at: int) -> Kind | None:
    return tokens[at].kind if at < len(tokens) else None


def _measure_end(tokens: Sequence[Token], at: int, crossed: bool = False) -> int:
    """Where a measure ends that begins here: a number that is no count, with what is said of it; 0 where none does."""
    while _kind_at(tokens, at) is Kind.DOUBT:
        at += 1
    begin = at
    if _kind_at(tokens, at) is Kind.SIDE:
        at += 1
        while _kind_at(tokens, at) in (Kind.NOTHING, Kind.DOUBT):
            at += 1
    if _kind_at(tokens, at) is not Kind.NUMBER:
        return 0
    said = at > begin or tokens[at].unit is not None or crossed
    follows = _kind_at(tokens, at + 1)
    if follows is Kind.SIDE or (follows is Kind.CROSS and _measure_end(tokens, at + 2, True)):
        said = True
    return at + 1 if said else 0


def stands_apart(words: Sequence[Token], at: int) -> bool:
    """`caramels (6)`, `caramels x 6`, `caramels: 6 of them`: a count behind a name; not that of `2 or 3 in`."""
    if at + 1 < len(words) and words[at + 1].text.casefold() in PIECES:
        return True
    last = at + 1 == len(words) or words[at + 1].kind is not Kind.WORD
    return last and words[at - 1].kind in (Kind.CROSS, Kind.NOTHING)
