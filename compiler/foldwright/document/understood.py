"""What was understood of a piece, told in sentences: its cuts and scores, how its blank adds up, what it fits.

How a length is set is left to the caller, so that a page says it in both unit systems and `check` as it was written.
Nothing here is slow to load.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.document.typeset import LengthSetter
from foldwright.document.wording import joined, sentence
from foldwright.document.words import Both, Runs, SetMeasure
from foldwright.geometry.flat.blank import Blank, Opening
from foldwright.geometry.flat.inside import Working
from foldwright.geometry.pieces import Flat
from foldwright.geometry.together.mating import Gap
from foldwright.geometry.understood import BlankFact, MarkedPoint, fit_of, rows_of, work_on
from foldwright.measure.length import Length, Unit
from foldwright.measure.writing import write_exact
from foldwright.recipe.model import Piece, RelativeSize

_FINEST = 64
"""The finest mark of an inch ruler (common practice, no source)."""

_KINDS = {
    "scores": "score",
    "marks": "score",
    "marks-across": "score",
    "marks-down": "score",
    "slant": "score",
    "curves": "score",
    "drawn": "score",
    "flap-cuts": "slit",
    "flaps-trimmed": "slit",
    "corners-away": "slit",
    "hole": "hole",
    "handles": "hole",
    "tie-holes": "hole",
    "slit": "hole",
    "half-moon": "hole",
    "slots": "hole",
}
"""What kind of work a fact is; all others are cuts."""

_SLOTS = {
    "marks": ("one", "other"),
    "board": ("across", "down"),
    "handles": ("size", "down", "side"),
    "tie-holes": ("size", "down"),
    "sector": ("radius", "chord"),
    "sector-half": ("radius",),
    "sector-cut-off": ("radius", "inner", "chord"),
    "flap-along": ("glue",),
    "lap": ("glue",),
    "rosette": ("diameter",),
    "rolls-tube": ("diameter", "long"),
    "rolls-cone": ("diameter", "high"),
}
"""What the lengths of a fact are called in its sentence."""

type _Setter = LengthSetter[str] | LengthSetter[Both[SetMeasure]]


class PieceInWords(Struct, frozen=True):
    """`work` is cut, scored and pierced, `rows` show how the blank adds up, `fit` how it goes with others.

    `work_kinds` say of each line of the work whether it is a cut, score, slit or hole; `lies` is what of `fit` whoever
    lays the piece in its place has to know.
    """

    work: tuple[Runs, ...]
    work_kinds: tuple[str, ...]
    rows: tuple[Runs, ...]
    fit: tuple[Runs, ...]
    lies: tuple[Runs, ...]


def tell_understood(piece: Piece, blank: Blank, flat: Flat, setter: _Setter, words: Catalogue) -> PieceInWords:
    """Everything that was understood of a piece, a sentence each."""
    tell = _PieceTeller(setter, words)
    work = tuple(tell.work(blank, flat))
    fits = fit_of(blank, flat)
    return PieceInWords(
        tuple(line for _, line in work),
        tuple(kind for kind, _ in work),
        tuple(tell.rows(piece, blank, flat)),
        (*tell.fit(blank, fits, flat), *tell.chances(blank, flat), *tell.held(blank, flat)),
        tuple(tell.fit(blank, [fact for fact in fits if not fact.gaps], flat)),
    )


def tell_sums(blank: Blank, workings: Sequence[Working], words: Catalogue) -> tuple[str, ...]:
    """The sum behind every panel that was worked out, its parts in the units they were written in."""
    return tuple(_sum(blank, working, words) for working in workings if working.length.piece == blank.piece)


def _sum(blank: Blank, working: Working, words: Catalogue) -> str:
    strips = blank.across if working.length.side == "across" else blank.down
    number = working.length.number
    lengths = [_plain(Length(term.mm, term.length.unit)) for term in working.terms]
    terms = [
        words.say(f"piece.sum.{term.code}", length=length) for term, length in zip(working.terms, lengths, strict=True)
    ]
    whole = words.say("piece.sum.plus").join(terms)
    units = {length.unit for length in lengths}
    if len(units) == 1:
        whole += words.say("piece.sum.total", length=Length(working.total.mm, units.pop()))
    if any(term.code == "half-floor" for term in working.terms):
        return words.say("piece.sum.walls", sum=whole)
    if working.length.side == "made":
        return words.say("piece.sum.made", side=working.length.place, sum=whole)
    panel = strips[number - 1].name or words.say("piece.sum.unnamed", number=number)
    return words.say(f"piece.sum.{working.length.side}", panel=panel[:1].upper() + panel[1:], sum=whole)


def _plain(length: Length) -> Length:
    """In millimetres where it is on no ruler in its own unit, as what was measured from a folded form often is."""
    return Length(length.mm, Unit.MILLIMETRE) if write_exact(length).denominator > _FINEST else length


def _half_degrees(angle: float) -> str:
    """As near as a protractor shows."""
    return f"{round(2 * angle) / 2:g}"


def _centred(opening: Opening) -> str:
    """What nobody said of its place and is taken to be the middle; along its edge for a notch."""
    edges = {offset.edge for offset in opening.offsets}
    if opening.at:
        return ""
    if opening.edge:
        return "" if edges else "centred"
    across, down = edges.isdisjoint({"left", "right"}), edges.isdisjoint({"top", "bottom"})
    if across and down:
        return "centred"
    return "centred-across" if across else "centred-down" if down else ""


class _PieceTeller:
    """The sentences of one piece."""

    def __init__(self, setter: _Setter, words: Catalogue) -> None:
        self._set = setter
        self._words = words
        self._comma = words.say("list.comma")

    def work(self, blank: Blank, flat: Flat) -> Iterator[tuple[str, Runs]]:
        """Each line with its kind."""
        for fact in work_on(blank, flat):
            if all(map(self._set.has, (*fact.lengths, *fact.along))):
                yield _KINDS.get(fact.code, "cut"), self._worked(fact)

    def _worked(self, fact: BlankFact) -> Runs:
        match fact.code:
            case "cut":
                return self._say("work.cut", fact.count, size=self._set.cross(*fact.lengths))
            case "circle":
                return self._say("work.circle", fact.count, size=self._set.single(fact.lengths[0]))
            case "scores":
                if fact.along and self._set.alike(fact.along):
                    each, last = self._set.single(fact.along[0]), self._set.single(fact.lengths[-1])
                    return self._say(f"work.scores-every-{fact.edges[0]}", fact.count, each=each, last=last)
                return self._say(f"work.scores-{fact.edges[0]}", places=self._set.listed(fact.lengths))
            case "flap-cuts":
                return self._flap_cuts(fact)
            case "flaps-trimmed":
                return self._say("work.flaps-trimmed", length=self._set.single(fact.lengths[0]))
            case "hole" if fact.opening:
                return self._hole(fact, fact.opening)
            case _ if fact.code in _SLOTS:
                facts: dict[str, str | Both[SetMeasure]] = {"angle": _half_degrees(fact.degrees)}
                facts |= zip(_SLOTS[fact.code], map(self._set.single, fact.lengths), strict=True)
                return self._say(f"work.{fact.code}", None, **facts)
            case "marks-across" | "marks-down":
                return self._say(f"work.{fact.code}", fact.count, places=self._set.listed(fact.lengths))
            case "slots":
                what = fact.names[0] if fact.names else self._words.say("piece.work.card")
                return self._say("work.slots", fact.count, what=what, size=self._set.cross(*fact.lengths))
            case _ if fact.points:
                names = ("start", "end") if len(fact.points) == 2 else ("start", "middle", "end")
                return self._say(
                    f"work.{fact.code}", None, **dict(zip(names, map(self._point, fact.points), strict=True))
                )
            case _:
                return self._say(f"work.{fact.code}", fact.count)

    def _point(self, point: MarkedPoint) -> Runs:
        """So far across and so far down; nought on an edge."""
        ways = [self._set.single(length) if length else self._words.say("piece.work.nought") for length in point]
        return self._say("work.point", across=ways[0], down=ways[1])

    def _flap_cuts(self, fact: BlankFact) -> Runs:
        alike = self._set.alike(fact.lengths)
        return self._say(
            "work.flap-cuts",
            fact.count,
            length=self._set.single(fact.lengths[0]) if alike else self._set.listed(fact.lengths),
            edges=self._words.listed([self._words.say(f"piece.edges.{edge}") for edge in fact.edges]),
            places=self._set.listed(fact.along),
            joined=self._words.listed(list(fact.names)),
        )

    def _hole(self, fact: BlankFact, first: Opening) -> Runs:
        rim = first.edge
        sizes = fact.lengths[:-1] if first.apart else fact.lengths
        size = self._set.single(sizes[0]) if len(sizes) == 1 else self._set.cross(*sizes)
        on: Runs = self._say("hole.on", panel=first.panel) if first.panel else ()
        if fact.count > 1 and not first.apart:
            on = self._say("hole.on-every-panel", fact.count)
        if rim:
            on = (*self._say("hole.in-edge", edge=self._words.say(f"piece.edge.{rim}")), *on)
        centred = _centred(first)
        places = [self._say(f"hole.{centred}")] if centred else []
        places += [self._say("hole.at", place=first.at)] if first.at and not first.offsets else []
        for offset in first.offsets:
            if offset.place:
                length = self._set.single(offset.length)
                places.append(self._say(f"hole.beside-{offset.length.place}", length=length, place=offset.place))
                continue
            name = self._words.say(f"piece.edge.{offset.edge}")
            places.append(self._say(f"hole.{offset.of}", length=self._set.single(offset.length), edge=name))
        places += [self._say(f"hole.mirrored-{side}") for side in fact.edges]
        if first.apart:
            length = self._set.single(first.apart)
            places.append(self._say(f"hole.repeated-{first.apart.place}", fact.count, length=length))
        work = first.shape.replace(" ", "-") + ("-deep" if rim and len(sizes) > 1 else "")
        return self._say(f"work.{work}", size=size, where=(*on, *joined([(), *places], self._comma)))

    def rows(self, piece: Piece, blank: Blank, flat: Flat) -> Iterator[Runs]:
        rows = [fact for fact in rows_of(blank, flat) if all(map(self._set.has, fact.lengths))]
        if not rows:
            return
        if piece.inside:
            yield self._say("row.inside", size=self._set.alone(*piece.inside.value.lengths))
        elif piece.inside_relative:
            yield self._from_another(piece.inside_relative.value)
        for fact in rows:
            yield self._say(f"row.{fact.edges[0]}", sum=self._set.added(fact.lengths))
        card = flat.cards.get(blank.piece)
        if card is None:
            yield self._say("row.thickness-none")
        else:
            yield self._say(f"row.thickness-{card.source}", thickness=self._set.thickness(card.length))

    def _from_another(self, relative: RelativeSize) -> Runs:
        by = relative.by
        sides: Runs = self._say("row.every-side") if relative.every_side else ()
        if relative.depth:
            sides = (*sides, *self._say("row.deep", deep=self._set.alone(relative.depth)))
        key = "row.inside-other" if by.mm > 0 else "row.inside-other-less"
        return self._say(key, other=relative.other, room=self._set.alone(Length(abs(by.mm), by.unit)), sides=sides)

    def fit(self, blank: Blank, facts: Iterable[BlankFact], flat: Flat) -> Iterator[Runs]:
        for fact in facts:
            if fact.gaps:
                yield from self._room(fact)
            elif fact.code in ("round", "round-flap") and all(map(self._set.has, fact.lengths)):
                length, girth = fact.lengths
                room = self._set.room(length, girth, 1)
                yield self._say(f"fit.{fact.code}", other=fact.names[0], girth=self._set.single(girth), room=room)
            elif fact.code == "stacked":
                card = flat.cards.get(blank.piece)
                thick = self._say("fit.stack-thick", thickness=self._set.thickness(card.length)) if card else ()
                yield self._say("fit.stacked", fact.count, thick=thick)
            elif fact.code in ("slides", "slides-along"):
                lengths = {"travel": self._set.single(fact.lengths[0])} if fact.lengths else {}
                yield self._say(f"fit.{fact.code}", None, under=fact.names[0], **lengths)
            elif fact.code.startswith("woven") and all(map(self._set.has, fact.lengths)):
                yield self._woven(fact)
            elif all(map(self._set.has, fact.lengths)):
                places = joined(list(self._borders(fact)), self._comma)
                yield self._say(f"fit.{fact.code}", under=fact.names[0], places=places)

    def _woven(self, fact: BlankFact) -> Runs:
        facts: dict[str, str | Both[SetMeasure]] = {"others": str(fact.others), "other": "".join(fact.names)}
        if fact.lengths:
            facts["wide"] = self._set.single(fact.lengths[0])
        if fact.code == "woven":
            facts["mat"] = self._set.cross(*fact.lengths[1:])
        return self._say(f"fit.{fact.code}", fact.count, **facts)

    def chances(self, blank: Blank, flat: Flat) -> Iterator[Runs]:
        """Of a hundred made by hand, how many go together; told of the piece that goes over or in."""
        for one in flat.chances:
            if blank.piece != (one.outer if one.how == "over" else one.inner):
                continue
            facts: dict[str, str | Both[SetMeasure]] = {"outer": one.outer, "inner": one.inner, "share": str(one.share)}
            if one.more is None:
                yield self._say(f"fit.always-{one.how}", None, **facts)
            else:
                more = self._set.alone(one.more)
                yield self._say(f"fit.often-{one.how}", None, **facts, more=more)

    def held(self, blank: Blank, flat: Flat) -> Iterator[Runs]:
        """What lies in it, and the room left."""
        for one in flat.held:
            if one.piece == blank.piece:
                across, down, high = (self._set.alone(length) for length in one.left)
                # A pocket is as deep as what lies in it.
                key = "fit.holds-flat" if blank.form in ("envelope", "pocket") else "fit.holds"
                key = f"{key}-about" if one.estimated else key
                things = self._words.listed([f"{count} × {name}" for name, count in one.things])
                yield self._say(key, None, things=things, across=across, down=down, high=high)

    def _borders(self, fact: BlankFact) -> Iterator[Runs]:
        if fact.edges == ("across", "down") and self._set.alike(fact.lengths):
            yield self._say("fit.at-all", length=self._set.single(fact.lengths[0]))
            return
        for edge, length in zip(fact.edges, fact.lengths, strict=True):
            yield self._say(f"fit.at-{edge}", length=self._set.single(length))

    def _room(self, fact: BlankFact) -> Iterator[Runs]:
        """Nothing where nothing is left: that is told among what is the matter."""
        parts = 2 if fact.code == "over" else 1
        if any(gap.between_scores.mm <= 0 for gap in fact.gaps):
            return
        outer, inner = fact.names
        rooms = [self._set.room(gap.outer, gap.inner, parts) for gap in fact.gaps]
        card = self._with_card(fact.gaps, parts)
        if rooms[0] == rooms[1]:
            yield self._say(f"fit.{fact.code}-even", outer=outer, inner=inner, room=rooms[0], card=card)
        else:
            yield self._say(f"fit.{fact.code}", outer=outer, inner=inner, across=rooms[0], down=rooms[1], card=card)

    def _with_card(self, gaps: Sequence[Gap], parts: int) -> Runs:
        """What the card's own thickness leaves of the room, where it is tightest."""
        known = [(gap.with_card.mm, gap) for gap in gaps if gap.with_card is not None]
        if len(known) < len(gaps):
            return ()
        left, tightest = min(known, key=lambda one: one[0])
        room = self._set.room_at_least(tightest.outer, tightest.inner, parts, tightest.between_scores.mm - left)
        if room is None:
            return self._say("fit.card-tight") if left > 0 else ()
        return self._say("fit.card-about" if tightest.estimated else "fit.card", room=room)

    def _say(self, key: str, count: int | None = None, **facts: str | Both[SetMeasure] | Runs) -> Runs:
        return sentence(self._words, f"piece.{key}", count, **facts)
