"""Which way round the card lies while it is scored: what fence and turn say of the side a number lies along."""

from __future__ import annotations

import re

from msgspec import Struct
from msgspec.structs import replace

from foldwright.bind.named import MARK
from foldwright.bind.spans import PieceSpans, SpanKind, other_side

_TELLING = frozenset({"fence", "turn", "turning", "rotate", "rotating", "way", "parallel", "quarter"})
_FENCE = re.compile(
    rf"(?:^|(?<= ))(?P<edge>long|short|{MARK})(?:er|est)? (?:edge|side|end) (?:of the [\w-]+ )?"
    r"(?:is |lies |lying |held |pressed |flat |snug |tight |square )*"
    r"(?:against|along|at|on|to|touching) (?:the |your )?(?:\w+ )?fence\b"
)
_ACROSS = re.compile(r"\bacross the (?P<way>long|short)(?:er|est)? (?:way|side|edge|direction)\b")
_PARALLEL = re.compile(r"\bparallel (?:to|with) (?:the |a |its )?(?P<way>long|short)(?:er|est)? (?:sides?|edges?)\b")
_TURN = re.compile(r"\b(?:turn|rotate)(?:ing)?\b(?P<how>[^,;:()]*?)(?= and\b| then\b| ?[,;:()]|$)")
_NO_QUARTER = frozenset(
    "over round around back back-to-front end end-for-end upside face about inside out half up down times".split()
)
_OPPOSITE = {"long": "short", "short": "long", "across": "down", "down": "across"}


class Direction(Struct, frozen=True):
    """`along` is the side numbers are measured along: `long`, `short`, `across`, `down` or empty when not said.

    `sure` when the words say so themselves; `turned` when a plain `turn the card` came after it.
    """

    along: str = ""
    sure: bool = False
    turned: bool = False


class Telling(Struct, frozen=True):
    """Something a sentence says at word `at`: an edge against the fence, or a turn of the card."""

    at: int
    along: str = ""
    turn: bool = False
    plainly: bool = False
    """A turn of which it is not said that it is a quarter."""

    def after(self, before: Direction) -> Direction:
        if self.turn:
            return replace(before, along=_OPPOSITE.get(before.along, ""), turned=self.plainly)
        return Direction(self.along, sure=True)


def tellings(words: tuple[str, ...]) -> list[Telling]:
    """What a sentence says of the direction, in order. An edge named by a measure tells `mark`."""
    if _TELLING.isdisjoint(words):
        return []
    text = " ".join(words)
    found = [
        Telling(_word_at(text, match.start()), "mark" if match["edge"] == MARK else match["edge"])
        for match in _FENCE.finditer(text)
    ]
    # A line that runs the short way is measured along the long side.
    for pattern in (_ACROSS, _PARALLEL):
        found += [Telling(0, _OPPOSITE[match["way"]]) for match in pattern.finditer(text)]
    for match in _TURN.finditer(text):
        how = match["how"].split()
        quarter = not {"quarter", "sideways"}.isdisjoint(how)
        if quarter or _NO_QUARTER.isdisjoint(how):
            found.append(Telling(_word_at(text, match.start()), turn=True, plainly=not quarter))
    return sorted(found, key=lambda telling: telling.at)


def _word_at(text: str, offset: int) -> int:
    return text.count(" ", 0, offset)


def side_along(along: str, spans: PieceSpans) -> str:
    """`across` or `down` for a piece, or empty: a square has no short side."""
    if along in ("across", "down"):
        return along
    return {"short": spans.short_side, "long": other_side(spans.short_side)}.get(along, "")


def side_with_scores_at(spans: PieceSpans, ratios: frozenset[tuple[int, int]]) -> str:
    """The one side on which all these numbers are scores, or empty: so a first row of scores tells the side."""
    fitting = [
        side
        for side in ("across", "down")
        if ratios <= {span.ratio for span in spans.of(SpanKind.SCORE, SpanKind.SCORE_BACK, side=side)}
    ]
    return fitting[0] if len(fitting) == 1 else ""
