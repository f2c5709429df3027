"""The lengths of one piece, sorted by what they are: what a measure in the words may mean."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import Enum
from fractions import Fraction

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length


class SpanKind(Enum):
    """What a length of a piece is the length of."""

    SIZE = "size"
    PANEL = "panel"
    SCORE = "score"
    """A score's distance from the left or top edge."""
    SCORE_BACK = "score back"
    """A score's distance from the right or bottom edge."""
    HOLE = "hole"
    """How wide or high a hole is."""
    HOLE_PLACE = "hole place"
    """How far a hole is from an edge."""
    BORDER = "border"
    OTHER = "other"


_ON_A_SIDE = {kind.value: kind for kind in (SpanKind.SIZE, SpanKind.PANEL, SpanKind.SCORE, SpanKind.SCORE_BACK)}


class PieceLength(Struct, frozen=True):
    """One length of a piece. `number` and `side` as in the LengthId."""

    id: LengthId
    length: Length
    kind: SpanKind
    side: str
    number: int
    ratio: tuple[int, int]
    """The length in millimetres as a ratio in lowest terms, which compares faster than a Fraction."""

    @property
    def mm(self) -> Fraction:
        return self.length.mm


class PieceSpans(Struct, frozen=True):
    """All lengths of one piece in order of mention. `doubtful` when the blank itself does not add up."""

    piece: str
    blank: Blank | None
    all: tuple[PieceLength, ...]
    doubtful: bool

    def of(self, *kinds: SpanKind, side: str = "") -> list[PieceLength]:
        """The spans of these kinds, in the order of the kinds; of one side only when one is given."""
        return [span for kind in kinds for span in self.all if span.kind is kind and side in ("", span.side)]

    def size(self, side: str) -> PieceLength | None:
        return next((span for span in self.all if span.kind is SpanKind.SIZE and span.side == side), None)

    def equal_to(self, mm: Fraction, kinds: Sequence[SpanKind], side: str = "") -> PieceLength | None:
        """The first span of exactly this length, trying the kinds in turn."""
        ratio = mm.as_integer_ratio()
        alike = [span for span in self.all if span.ratio == ratio and side in ("", span.side)]
        return next((span for kind in kinds for span in alike if span.kind is kind), None)

    @property
    def short_side(self) -> str:
        """The side (`across` or `down`) that is the shorter one; empty for a square or when a size is missing."""
        across, down = self.size("across"), self.size("down")
        if across is None or down is None or across.mm == down.mm:
            return ""
        return "across" if across.mm < down.mm else "down"


def other_side(side: str) -> str:
    """`down` for `across` and the other way round; "" for what is neither."""
    return {"across": "down", "down": "across"}.get(side, "")


def spans_by_piece(by_id: Mapping[LengthId, Length], blanks: Sequence[Blank]) -> dict[str, PieceSpans]:
    """Sort the lengths of a recipe by piece."""
    spans: dict[str, list[PieceLength]] = {}
    for name, length in by_id.items():
        span = PieceLength(name, length, _kind_of(name), name.side, name.number, length.mm.as_integer_ratio())
        spans.setdefault(name.piece, []).append(span)
    blank_of = {blank.piece: blank for blank in blanks}
    doubtful = {blank.piece for blank in blanks if blank.doubtful}
    return {
        piece: PieceSpans(piece, blank_of.get(piece), tuple(found), piece in doubtful) for piece, found in spans.items()
    }


def _kind_of(name: LengthId) -> SpanKind:
    if name.side == "hole":
        return SpanKind.HOLE_PLACE if name.of else SpanKind.HOLE
    if name.side in ("border", "overhang", "turn-in", "room"):
        return SpanKind.BORDER
    return _ON_A_SIDE.get(name.place, SpanKind.OTHER) if name.side in ("across", "down") else SpanKind.OTHER
