"""Prose as sentences of plain words, and the pieces they speak of: by name, by a word of their own, by their supply."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from msgspec import Struct

from foldwright.recipe.model import Recipe
from foldwright.recipe.words import Block, Break, Code, Inline, Measure, Text, flat_runs, lines_of
from foldwright.vocabulary import act_of, kind_of
from foldwright.vocabulary.names import singular

MARK = "\ufffc"
"""Stands for a measure (the object replacement character of Unicode, which no author types)."""

_END = frozenset(".!?…")
_WORD = re.compile(MARK + r"""|[^\W_]+(?:['’\-][^\W_]+)*|[,;:()–—]|[.!?…](?=["”’)\]]*(?:\s|$))""")


class Sentence(Struct, frozen=True):
    """`words` in small letters, punctuation among them; `measures` are the measures of the `MARK`s in order."""

    words: tuple[str, ...]
    measures: tuple[Measure, ...]

    def places(self) -> Iterator[tuple[int, Measure]]:
        """Where each measure stands among the words."""
        measures = iter(self.measures)
        return ((at, next(measures)) for at, word in enumerate(self.words) if word == MARK)


def sentences(blocks: Iterable[Block]) -> Iterator[Sentence]:
    """The sentences of some blocks in order; code and the text of preformatted blocks say nothing."""
    for line in lines_of(blocks):
        yield from _of_line(line)


def hold_a_measure(blocks: Iterable[Block]) -> bool:
    """Whether there is anything to bind at all; most stretches of words have no measure."""
    return any(isinstance(run, Measure) for line in lines_of(blocks) for run in flat_runs(line))


def _of_line(line: Iterable[Inline]) -> Iterator[Sentence]:
    pieces: list[str] = []
    measures: list[Measure] = []
    for run in flat_runs(line):
        match run:
            case Text():
                pieces.append(run.text)
            case Measure():
                pieces.append(f" {MARK} ")
                measures.append(run)
            case Break():
                pieces.append(" ")
            case Code():
                pieces.append(" ; ")
    start = used = 0
    tokens = _WORD.findall("".join(pieces).casefold())
    for end in [*(at for at, token in enumerate(tokens) if token in _END), len(tokens)]:
        words = tuple(tokens[start:end])
        start = end + 1
        if words:
            count = words.count(MARK)
            yield Sentence(words, tuple(measures[used : used + count]))
            used += count


def words_of(text: str) -> tuple[str, ...]:
    """A text's words in small letters, and its commas, colons, brackets and dashes."""
    return tuple(token for token in _WORD.findall(text.casefold()) if token not in _END)


_PAPER_WORDS = frozenset(
    "card cardstock paper sheet blank piece square rectangle strip board band oblong panel length it them this one two "
    "three four each all both side stack pile".split()
)
"""Nouns that may stand for any piece that is being cut."""
_BREAKS = frozenset({",", ";", ":", "(", ")", "–", "—", "and", "then", "but", "or"})
_ARTICLES = frozenset({"the", "a", "an", "both", "each", "every", "your", "its"})


class Mention(Struct, frozen=True):
    """Pieces spoken of at `start` up to, not including, `end` among a sentence's words."""

    start: int
    end: int
    pieces: tuple[str, ...]
    by_supply: bool


class PieceNames(Struct, frozen=True):
    """Every run of words that means one or more pieces; `nouns` are words that may stand for a piece being cut."""

    by_words: dict[tuple[str, ...], tuple[tuple[str, ...], bool]]
    longest: int
    first_words: frozenset[str]
    nouns: frozenset[str]
    other_supplies: frozenset[str]
    """Last words of supplies that no piece is cut from: a measure of those is no measure of a piece."""

    def mentions(self, words: tuple[str, ...]) -> list[Mention]:
        """Every piece spoken of, longest names first, in the order of the words."""
        plain = tuple(map(singular, words))
        if self.first_words.isdisjoint(plain):
            return []
        found: list[Mention] = []
        taken = 0
        for at, word in enumerate(plain):
            if at >= taken and word in self.first_words and (mention := self._at(plain, at)):
                found.append(mention)
                taken = mention.end
        return found

    def _at(self, plain: tuple[str, ...], at: int) -> Mention | None:
        for size in range(min(self.longest, len(plain) - at), 0, -1):
            hit = self.by_words.get(plain[at : at + size])
            if hit is not None:
                return Mention(at, at + size, *hit)
        return None


def piece_names(recipe: Recipe) -> PieceNames:
    """Collect the names once per recipe. Own names come before last words, last words before supplies."""
    by_words: dict[tuple[str, ...], tuple[tuple[str, ...], bool]] = {}
    keys = {piece.name.value: _key(piece.name.value) for piece in recipe.pieces}
    panels = (panel.name for piece in recipe.pieces for panel in (*piece.across, *piece.down) if panel.name)
    panel_words = {word for name in panels for word in _key(name)}
    for name, key in keys.items():
        by_words.setdefault(key, ((name,), False))
    for name, word in _unshared(keys, panel_words):
        by_words.setdefault((word,), ((name,), False))
    supplies = {supply.name.value: _key(supply.name.value) for supply in recipe.supplies}
    cut_from = {name: pieces for name in supplies if (pieces := _cut_from(recipe, name))}
    for name, pieces in cut_from.items():
        by_words.setdefault(supplies[name], (pieces, True))
    for name, word in _first_words({name: supplies[name] for name in cut_from}, panel_words):
        by_words.setdefault((word,), (cut_from[name], True))
    by_words.pop(("",), None)
    nouns = _PAPER_WORDS.union((key[-1] for key in keys.values()), (supplies[name][-1] for name in cut_from))
    others = {key[-1] for name, key in supplies.items() if name not in cut_from}
    longest, firsts = max(map(len, by_words), default=0), frozenset(key[0] for key in by_words)
    return PieceNames(by_words, longest, firsts, nouns, frozenset(others - nouns))


@lru_cache(maxsize=2048)
def _key(name: str) -> tuple[str, ...]:
    return tuple(singular(word) for word in words_of(name)) or ("",)


def _cut_from(recipe: Recipe, supply: str) -> tuple[str, ...]:
    return tuple(piece.name.value for piece in recipe.pieces if piece.supply and piece.supply.value == supply)


def _unshared(keys: dict[str, tuple[str, ...]], taken: set[str]) -> Iterable[tuple[str, str]]:
    """The last word of a longer name, where no other piece, no panel and no act has that word."""
    every = [word for key in keys.values() for word in key]
    for name, key in keys.items():
        word = key[-1]
        if len(key) > 1 and every.count(word) == 1 and word not in taken and word not in _PAPER_WORDS:
            yield name, word


def _first_words(keys: dict[str, tuple[str, ...]], taken: set[str]) -> Iterable[tuple[str, str]]:
    """The first word of a supply's name, where it tells it from the others: `navy` of `navy card`."""
    firsts = [key[0] for key in keys.values()]
    for name, key in keys.items():
        if len(key) > 1 and firsts.count(key[0]) == 1 and key[0] not in taken:
            yield name, key[0]


def pieces_meant(words: tuple[str, ...], at: int, mentions: list[Mention]) -> tuple[str, ...]:
    """The pieces the measure at `at` belongs to: those of its own stretch of the sentence, else the nearest before it.

    A stretch ends at a comma, an `and`, a `then`; `the base and the lid` is one mention of two pieces.
    """
    if not mentions:
        return ()
    groups = _grouped(words, mentions)
    start, end = _stretch(words, at, groups)
    inside = [group for group in groups if start <= group[0] < end]
    before = [group for group in groups if group[0] < start]
    named = [mention for _, _, group in inside or before[-1:] or groups[:1] for mention in group]
    own = [mention for mention in named if not mention.by_supply] or named
    return tuple(dict.fromkeys(piece for mention in own for piece in mention.pieces))


type _Group = tuple[int, int, list[Mention]]


def _grouped(words: tuple[str, ...], mentions: list[Mention]) -> list[_Group]:
    """Mentions joined by nothing but commas, `and` and articles, as one."""
    groups: list[_Group] = []
    for mention in mentions:
        if groups:
            start, end, group = groups[-1]
            between = words[end : mention.start]
            if between and all(word in ("and", ",", "or", "&") or word in _ARTICLES for word in between):
                groups[-1] = (start, mention.end, [*group, mention])
                continue
        groups.append((mention.start, mention.end, [mention]))
    return groups


def _stretch(words: tuple[str, ...], at: int, groups: list[_Group]) -> tuple[int, int]:
    covered = {index for start, end, _ in groups for index in range(start, end)}
    breaks = [index for index, word in enumerate(words) if word in _BREAKS and index not in covered]
    start = max((index + 1 for index in breaks if index < at), default=0)
    end = min((index for index in breaks if index > at), default=len(words))
    if start == at:
        # `Cut one piece, 4 x 6 in, for the base`: a measure that opens its stretch looks back over the comma.
        start = max(0, start - 1)
        while start > 0 and words[start - 1] not in _BREAKS and words[start - 1] != MARK:
            start -= 1
    return start, end


def is_of_another_thing(names: PieceNames, words: tuple[str, ...], at: int) -> bool:
    """`36 in of twine`, `a 5 in ribbon`: the measure of a supply that no piece is cut from."""
    after = words[at + 1 : at + 6]
    if after and (after[0] in ("of", "length") or act_of(after[0]) is None):
        for word in after:
            if word == MARK or word in _BREAKS or word in ("to", "in", "on", "from", "for"):
                break
            if _foreign(names, singular(word)):
                return True
    return _foreign(names, singular(words[at - 1] if at else ""))


def _foreign(names: PieceNames, word: str) -> bool:
    if word in names.nouns or word in names.other_supplies:
        return word not in names.nouns
    kind = kind_of(word) if word.isalpha() else None
    return kind is not None and not kind.sheet and kind.name not in ("sticker", "tag", "photo", "box", "other")
