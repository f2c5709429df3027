"""`foldwright convert`: single measures, A x B, and rows that add up, in the other units, closed as on a sheet."""

from __future__ import annotations

from collections.abc import Iterable

from foldwright.cli.calls import ConvertCall
from foldwright.cli.telling import WRONG_CALL, Teller
from foldwright.document.catalogue import catalogue
from foldwright.figures.conversion import Converted
from foldwright.figures.conversion import convert as converted
from foldwright.measure.conversion import read_measures
from foldwright.measure.length import Shape, system_named
from foldwright.measure.printed import Printed
from foldwright.measure.reading import read_length
from foldwright.measure.unreadable import Unreadable

_JOINERS = {Shape.LIST: " + ", Shape.RANGE: " to "}


def convert(call: ConvertCall) -> int:
    """Print each measure in the other system (or in the one that is named); the exit status."""
    teller, complaints = Teller(), Teller("stderr")
    system = system_named(call.to)
    if call.to and system is None:
        complaints.words("wrong.to-unknown", name=call.to)
        return WRONG_CALL
    mark = read_length(call.reads) if call.reads else None
    if isinstance(mark, Unreadable):
        complaints.words("wrong.reads-unreadable", text=call.reads)
        return WRONG_CALL
    status = 0
    for said in call.measures:
        asked = read_measures(said)
        if isinstance(asked, Unreadable):
            _complain(complaints, said, asked)
            status = WRONG_CALL
            continue
        for one in asked:
            if one.total and one.total != (adds_to := sum(one.lengths[1:], start=one.lengths[0])):
                complaints.words("wrong.sum-differs", text=one.said, sum=adds_to, total=one.total)
                status = status or 1
                continue
            _answer(teller, converted(one, system, mark))
    return status


def _answer(teller: Teller, answer: Converted) -> None:
    row = answer.asked.shape is Shape.LIST
    key = "convert." + ("same" if answer.exact else "near") + ("-sum" if row else "")
    facts = {"said": " ".join(answer.asked.said.split()), "sum": answer.total[1].plain if answer.total else ""}
    printed = joined((pair[1] for pair in answer.pairs), _JOINERS.get(answer.asked.shape, " x "))
    teller.words(key, printed=printed, **facts)
    for note in answer.notes:
        teller.text("  " + catalogue().say(f"command.convert-note.{note.code}", **dict(note.facts)))


def joined(printed: Iterable[Printed], joiner: str) -> str:
    """Numbers with one unit at the end when they share it."""
    figures = tuple(printed)
    if len({figure.unit for figure in figures}) > 1:
        return joiner.join(figure.plain for figure in figures)
    return joiner.join(figure.number for figure in figures) + f" {figures[-1].unit.symbol}"


def _complain(teller: Teller, said: str, why: Unreadable) -> None:
    teller.words("wrong.measure-unreadable", text=said)
    for part in ("says", "remedy"):
        teller.text("  " + catalogue().say(f"{why.code}.{part}", **{"said": said, **dict(why.facts)}))
