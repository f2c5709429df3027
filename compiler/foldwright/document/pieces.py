"""Pieces as a document says them: size, panels, what was understood of them, the flat plan and its words."""

from __future__ import annotations

from foldwright.document.catalogue import Catalogue
from foldwright.document.measures import Measures
from foldwright.document.model import PanelLine, Picture, PieceLine, Quantity
from foldwright.document.papers import Papers
from foldwright.document.quote_marks import curled
from foldwright.document.understood import PieceInWords, tell_understood
from foldwright.document.wording import joined, sentence
from foldwright.document.words import Both, MeasureInWords, Runs, plain
from foldwright.geometry.flat.blank import Blank, Strip
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.plan import flat_scene
from foldwright.geometry.pieces import Flat
from foldwright.measure.length import Length, System
from foldwright.recipe.model import Piece, Recipe
from foldwright.recipe.words import Text

type Exact = dict[LengthId, Length]

_NOTHING = PieceInWords((), (), (), (), ())


def piece_lines(
    recipe: Recipe, flat: Flat, papers: Papers, measures: Measures, words: Catalogue
) -> tuple[PieceLine, ...]:
    """Every piece of a recipe, in its order."""
    blanks = {blank.piece: blank for blank in flat.blanks}
    return tuple([_line(piece, blanks.get(piece.name.value), flat, papers, measures, words) for piece in recipe.pieces])


def _line(
    piece: Piece, blank: Blank | None, flat: Flat, papers: Papers, measures: Measures, words: Catalogue
) -> PieceLine:
    """A piece without a blank (nothing could be laid out) keeps its name and count."""
    name, exact = piece.name.value, flat.lengths.by_id
    count = piece.count.value if piece.count else 1
    size = [LengthId(name, side, "size") for side in ("across", "down")]
    sized = blank is not None and all(map(measures.has, size))
    across, down = (_quantity(side, exact, measures) if sized else None for side in size)
    said = tell_understood(piece, blank, flat, measures, words) if blank and sized else _NOTHING
    panels_across = _panels(blank.across, exact, measures) if blank else ()
    panels_down = _panels(blank.down, exact, measures) if blank else ()
    return PieceLine(
        name=name,
        count=count,
        supply=piece.supply.value if piece.supply else "",
        across=across,
        down=down,
        size=measures.cross(*size) if sized else None,
        panels_across=panels_across,
        panels_down=panels_down,
        panels=tuple(_told("across", panels_across, words) + _told("down", panels_down, words)),
        work=said.work,
        work_kinds=said.work_kinds,
        rows=said.rows,
        fit=said.fit,
        lies=said.lies,
        picture=_picture(blank, said.work, papers, measures, words) if blank and sized else None,
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


def _told(side: str, panels: tuple[PanelLine, ...], words: Catalogue) -> list[Runs]:
    """`From left to right: left end 3/4 in, floor 3 1/2 in, right end 3/4 in.`"""
    if not panels:
        return []
    printed = [panel.length.printed for panel in panels]
    if len(set(printed)) == 1 and not any(panel.name for panel in panels):
        return [sentence(words, f"page.picture.{side}-alike", len(panels), length=printed[0])]
    named = [(Text(f"{curled(panel.name)} "),) if panel.name else () for panel in panels]
    each: list[Runs] = [(*name, MeasureInWords(one)) for name, one in zip(named, printed, strict=True)]
    return [sentence(words, f"page.picture.{side}", None, panels=joined(each, words.say("list.comma")))]


def _picture(blank: Blank, work: tuple[Runs, ...], papers: Papers, measures: Measures, words: Catalogue) -> Picture:
    scene = papers.painted_flat(flat_scene(blank), blank.piece)
    return Picture(
        name=blank.piece,
        scene=scene,
        labels=measures.labels(scene.lengths),
        title=(Text(words.say("page.picture.title", piece=curled(blank.piece))),),
        words=words.below("page.plan"),
        describes=Both(_described(blank, work, System.IMPERIAL, words), _described(blank, work, System.METRIC, words)),
    )


def _described(blank: Blank, work: tuple[Runs, ...], system: System, words: Catalogue) -> str:
    """What the plan shows, for who cannot see it: its panels by name, then its cuts and scores."""
    rows = (("across", blank.across), ("down", blank.down))
    names = [_row(side, strips, words) for side, strips in rows if len(strips) > 1]
    lines = [plain(line, system) for line in work]
    return " ".join([words.say("page.picture.opening", piece=curled(blank.piece)), *names, *lines])


def _row(side: str, strips: tuple[Strip, ...], words: Catalogue) -> str:
    """`From left to right: left end, floor and right end.`"""
    if not any(strip.name for strip in strips):
        return words.say(f"page.picture.{side}-unnamed", count=len(strips))
    names = [strip.name or words.say("page.picture.unnamed", number=number) for number, strip in enumerate(strips, 1)]
    return words.say(f"page.picture.{side}", panels=tuple(names))
