"""The pieces of a recipe as they were understood, told in its own units."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.cli.report import PieceEntry
from foldwright.cli.telling import INDENT, StyledLine, Teller, seen
from foldwright.document.as_written import WrittenLengths
from foldwright.document.catalogue import catalogue
from foldwright.document.understood import tell_sums, tell_understood
from foldwright.document.words import plain
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import System
from foldwright.measure.printed import Printed
from foldwright.pipeline import Understood
from foldwright.recipe.model import Piece


def pieces_of(understood: Understood) -> tuple[PieceEntry, ...]:
    """Every piece that could be laid flat, in order of mention."""
    flat, recipe, words = understood.flat, understood.recipe, catalogue()

    def figures(system: System) -> dict[LengthId, Printed]:
        return understood.figures[system].printed

    setter = WrittenLengths(flat.lengths, words, figures)
    blanks = {blank.piece: blank for blank in flat.blanks}
    found = []
    for piece in recipe.pieces:
        blank = blanks.get(piece.name.value)
        if blank is None:
            continue
        said = tell_understood(piece, blank, flat, setter, words)
        lines = [[plain(runs, recipe.system) for runs in part] for part in (said.work, said.rows, said.fit)]
        rows = (*lines[1][:1], *tell_sums(blank, flat.workings, words), *lines[1][1:])
        found.append(_entry(piece, bool(blank.doubtful), lines[0], rows, lines[2]))
    return tuple(found)


def _entry(piece: Piece, doubtful: bool, work: Sequence[str], rows: Sequence[str], fit: Sequence[str]) -> PieceEntry:
    return PieceEntry(
        name=piece.name.value,
        count=piece.count.value if piece.count else 1,
        supply=piece.supply.value if piece.supply else "",
        optional=piece.optional,
        doubtful=doubtful,
        work=tuple(work),
        worked_out=tuple(rows),
        fit=tuple(fit),
    )


def tell_pieces(teller: Teller, pieces: Sequence[PieceEntry], file: str) -> None:
    """List them; `file` names the recipe where there are several, else it is empty."""
    words = catalogue()
    heading = words.say("command.pieces.heading-of", file=file) if file else words.say("command.pieces.heading")
    teller.text(heading)
    for piece in pieces:
        teller.say([StyledLine(f"{INDENT}{seen(_heading(piece))}", "bold")])
        for line in (*piece.worked_out, *piece.work, *piece.fit):
            teller.say(StyledLine(one) for one in teller.wrapped(seen(line), INDENT * 2))
    teller.say([StyledLine("")])


def _heading(piece: PieceEntry) -> str:
    words = catalogue()
    parts = [words.say("command.pieces.from", piece=piece.name, supply=piece.supply) if piece.supply else piece.name]
    parts += [words.say(f"command.pieces.{name}") for name in ("optional", "doubtful") if getattr(piece, name)]
    return words.say("list.comma").join(parts)
