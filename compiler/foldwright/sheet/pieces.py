"""Pieces as a sheet says them: size, panels, the list of cuts and scores, the flat plan and its words."""

from __future__ import annotations

from collections.abc import Iterator

from foldwright.geometry.blank import Blank, Opening, Strip
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.plan_scene import flat_scene
from foldwright.measure.length import Length, System
from foldwright.measure.writing import typographic
from foldwright.recipe.model import Piece
from foldwright.sheet.catalogue import Catalogue
from foldwright.sheet.measures import Measures
from foldwright.sheet.model import PanelLine, Picture, PieceLine, Quantity
from foldwright.sheet.wording import joined, sentence
from foldwright.sheet.words import Both, Runs, plain

type Exact = dict[LengthId, Length]


def piece_line(piece: Piece, blank: Blank | None, exact: Exact, measures: Measures, words: Catalogue) -> PieceLine:
    """A piece without a blank (nothing could be laid out) keeps its name and count."""
    name = piece.name.value
    count = piece.count.value if piece.count else 1
    size = [LengthId(name, side, "size") for side in ("across", "down")]
    sized = blank is not None and all(map(measures.has, size))
    across, down = (_quantity(side, exact, measures) if sized else None for side in size)
    work = tuple(_work(blank, count, measures, words)) if blank and sized else ()
    return PieceLine(
        name=name,
        count=count,
        supply=piece.supply.value if piece.supply else "",
        across=across,
        down=down,
        size=measures.cross(*size) if sized else None,
        panels_across=_panels(blank.across, exact, measures) if blank else (),
        panels_down=_panels(blank.down, exact, measures) if blank else (),
        work=work,
        picture=_picture(blank, work, measures, words) if blank and sized else None,
        optional=piece.optional,
        note=measures.text(piece.note.value) if piece.note else (),
    )


def _quantity(name: LengthId, exact: Exact, measures: Measures) -> Quantity:
    return Quantity(exact[name], measures.single(name))


def _panels(strips: tuple[Strip, ...], exact: Exact, measures: Measures) -> tuple[PanelLine, ...]:
    if len(strips) < 2:
        return ()
    return tuple(
        PanelLine(strip.name, _quantity(strip.length, exact, measures))
        for strip in strips
        if measures.has(strip.length) and strip.length in exact
    )


# --- the list of cuts and scores --------------------------------------------------------------------------------------


def _work(blank: Blank, count: int, measures: Measures, words: Catalogue) -> Iterator[Runs]:
    across, down = (LengthId(blank.piece, side, "size") for side in ("across", "down"))
    if blank.round:
        yield sentence(words, "page.work.circle", count=count, size=measures.single(across))
    else:
        yield sentence(words, "page.work.cut", count=count, size=measures.cross(across, down))
    for side in ("down", "across"):
        scores = _scores(blank, side)
        if scores and all(map(measures.has, scores)):
            yield sentence(words, f"page.work.score-{side}", count=len(scores), places=measures.listed(scores))
    if blank.corners_removed:
        yield sentence(words, "page.work.corners")
    if blank.flap_cuts:
        yield from _flaps(blank, measures, words)
        if blank.flap_trim and measures.has(blank.flap_trim):
            yield sentence(words, "page.work.flap-trim", length=measures.single(blank.flap_trim))
    for opening in blank.openings:
        if all(map(measures.has, opening.sizes)) and opening.sizes:
            yield _opening(opening, measures, words)
    if blank.drawn:
        yield sentence(words, "page.work.drawn")


def _scores(blank: Blank, side: str) -> list[LengthId]:
    """The scores of one direction, by their distance from the left or top edge."""
    strips = blank.across if side == "across" else blank.down
    return [LengthId(blank.piece, side, f"score {number}") for number in range(1, len(strips))]


def _flaps(blank: Blank, measures: Measures, words: Catalogue) -> Iterator[Runs]:
    """The cuts that free the corner flaps run in from the edges of one direction, along the scores of the other."""
    first = blank.flap_cuts[0]
    from_sides = first.start[1] == first.end[1]
    strips, along = (blank.across, _scores(blank, "down")) if from_sides else (blank.down, _scores(blank, "across"))
    ends = [strip.length for strip in (strips[0], strips[-1])]
    if not all(map(measures.has, [*ends, *along])):
        return
    equal = measures.printed(ends[0]) == measures.printed(ends[1])
    yield sentence(
        words,
        f"page.work.flaps-{'sides' if from_sides else 'ends'}",
        count=len(blank.flap_cuts),
        length=measures.single(ends[0]) if equal else measures.listed(ends),
        places=measures.listed(along),
    )


def _opening(opening: Opening, measures: Measures, words: Catalogue) -> Runs:
    size = measures.single(opening.sizes[0]) if len(opening.sizes) == 1 else measures.cross(*opening.sizes)
    places = [
        sentence(
            words,
            f"page.work.hole-{offset.of}",
            length=measures.single(offset.length),
            edge=words.say(f"page.edge.{offset.edge}"),
        )
        for offset in opening.offsets
        if measures.has(offset.length)
    ]
    where = joined([(), *places], words.say("list.comma")) if places else ()
    inside = sentence(words, "page.work.hole-in", panel=opening.panel) if opening.panel else ()
    return sentence(words, f"page.work.{opening.shape}", size=size, where=(*inside, *where))


# --- the picture ------------------------------------------------------------------------------------------------------


def _picture(blank: Blank, work: tuple[Runs, ...], measures: Measures, words: Catalogue) -> Picture:
    scene = flat_scene(blank)
    shown = [length for length in scene.lengths if measures.has(length)]
    printed = [(name, measures.printed(name)) for name in shown]
    return Picture(
        name=blank.piece,
        scene=scene,
        labels=Both(
            {name: typographic(both.imperial) for name, both in printed},
            {name: typographic(both.metric) for name, both in printed},
        ),
        title=words.say("page.picture.title", piece=blank.piece),
        words=words.below("page.plan"),
        describes=Both(_described(blank, work, System.IMPERIAL, words), _described(blank, work, System.METRIC, words)),
    )


def _described(blank: Blank, work: tuple[Runs, ...], system: System, words: Catalogue) -> str:
    """What the plan shows, for who cannot see it: its panels by name, then its cuts and scores."""
    rows = (("across", blank.across), ("down", blank.down))
    names = [_row(side, strips, words) for side, strips in rows if len(strips) > 1]
    lines = [plain(line, system) for line in work]
    return " ".join([words.say("page.picture.opening", piece=blank.piece), *names, *lines])


def _row(side: str, strips: tuple[Strip, ...], words: Catalogue) -> str:
    """`From left to right: left end, floor and right end.`"""
    if not any(strip.name for strip in strips):
        return words.say(f"page.picture.{side}-unnamed", count=len(strips))
    names = [strip.name or words.say("page.picture.unnamed", number=number) for number, strip in enumerate(strips, 1)]
    return words.say(f"page.picture.{side}", panels=tuple(names))
