"""What `foldwright check` lists besides findings: measures in the words, what was passed over there, and the pieces."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.bind.words import Explained
from foldwright.cli.report import MeasureEntry, PassedOverEntry, PieceEntry
from foldwright.cli.telling import INDENT, StyledLine, Teller, cells, seen
from foldwright.document.as_written import WrittenLengths
from foldwright.document.catalogue import catalogue
from foldwright.document.meant import tell_meant
from foldwright.document.understood import tell_sums, tell_understood
from foldwright.document.words import plain
from foldwright.finding import LineTable
from foldwright.measure.writing import write_exact
from foldwright.pipeline import Understood
from foldwright.recipe.words import Measure


def measures_of(understood: Understood, text: str) -> tuple[MeasureEntry, ...]:
    """Every measure of the recipe's words in the order of the text."""
    table = LineTable(text)
    explained = {one.place: one for one in understood.binding.explained}
    measures = sorted((tie.heard.measure for tie, _ in understood.binding.ties), key=lambda measure: measure.place)
    return tuple(_listed(measure, table, explained.get(measure.place)) for measure in measures)


def passed_over_of(understood: Understood, text: str) -> tuple[PassedOverEntry, ...]:
    """What was passed over in the recipe's words, in the order of the text."""
    table = LineTable(text)
    words = catalogue()
    return tuple(
        PassedOverEntry(*table.line_and_column(one.place.start), one.said, words.say(f"measured.passed.{one.why}"))
        for one in sorted(understood.recipe.not_measured, key=lambda one: one.place)
    )


def _listed(measure: Measure, table: LineTable, explained: Explained | None) -> MeasureEntry:
    line, column = table.line_and_column(measure.place.start)
    figures = [write_exact(length) for length in measure.lengths]
    one_unit = len({length.unit for length in measure.lengths}) == 1
    printed = [*(one.number if one_unit else one.plain for one in figures[:-1]), figures[-1].plain]
    understood = "".join(number + joiner for number, joiner in zip(printed, (*measure.joiners, ""), strict=False))
    exact = tuple(length.mm for length in measure.lengths)
    meant = tell_meant(explained, catalogue()) if explained else ""
    why = catalogue().say(f"measured.believed.{measure.why}")
    return MeasureEntry(line, column, measure.said, understood, exact, meant, why)


def tell_measures(teller: Teller, file: str, found: Sequence[MeasureEntry], passed: Sequence[PassedOverEntry]) -> None:
    """List them in columns: the line, the measure, what it was taken for; then what was passed over, and why."""
    teller.words("measures.heading" if found else "measures.none", file=file)
    teller.say(_columns([(one.line, _said(one), one.meant) for one in found]))
    if passed:
        teller.words("measures.passed_over")
        teller.say(_columns([(one.line, one.said, one.why) for one in passed]))
    if found:
        teller.words("measures.cancelled")
    teller.say([StyledLine("")])


def _said(measure: MeasureEntry) -> str:
    """The author's words, and how they were read where that does not go without saying."""
    if measure.said == measure.understood:
        return measure.said
    return catalogue().say("command.measures.said", said=measure.said, understood=measure.understood)


def _columns(rows: Sequence[tuple[int, str, str]]) -> list[StyledLine]:
    lines = [catalogue().say("command.measures.line", line=line) for line, _, _ in rows]
    wide = max(map(len, lines), default=0)
    middle = max((cells(seen(said)) for _, said, _ in rows), default=0)
    return [
        StyledLine(f"{INDENT}{line:>{wide}}  {seen(said)}{' ' * (middle - cells(seen(said)))}  {seen(meant)}".rstrip())
        for line, (_, said, meant) in zip(lines, rows, strict=True)
    ]


# --- pieces -----------------------------------------------------------------------------------------------------------


def pieces_of(understood: Understood) -> tuple[PieceEntry, ...]:
    """Every piece that could be laid flat, in order of mention."""
    flat, recipe, words = understood.flat, understood.recipe, catalogue()
    setter = WrittenLengths(flat.lengths, words, lambda system: understood.figures[system].printed)
    blanks = {blank.piece: blank for blank in flat.blanks}
    found = []
    for piece in recipe.pieces:
        blank = blanks.get(piece.name.value)
        if blank is None:
            continue
        said = tell_understood(piece, blank, flat, setter, words)
        parts = (said.work, said.rows, said.fit)
        work, rows, fit = (tuple(plain(runs, recipe.system) for runs in part) for part in parts)
        entry = PieceEntry(
            name=piece.name.value,
            count=piece.count.value if piece.count else 1,
            supply=piece.supply.value if piece.supply else "",
            optional=piece.optional,
            doubtful=bool(blank.doubtful),
            work=work,
            worked_out=(*rows[:1], *tell_sums(blank, flat.workings, words), *rows[1:]),
            fit=fit,
        )
        found.append(entry)
    return tuple(found)


def tell_pieces(teller: Teller, pieces: Sequence[PieceEntry], file: str) -> None:
    """List them; `file` names the recipe where there are several, else it is empty."""
    teller.words("pieces.heading-of" if file else "pieces.heading", file=file)
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
