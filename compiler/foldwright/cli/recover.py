"""`foldwright recover`: from the readings of a taken-apart sample to a recipe of the plainest blank behind them."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from foldwright.begin.draft.model import Draft
from foldwright.begin.draft.writing import write_pieces
from foldwright.begin.recover.notes.marks import read_bounds, read_habit
from foldwright.begin.recover.notes.reading import LONE_PIECE, read_sample
from foldwright.begin.recover.recovering import Recovery, recover
from foldwright.begin.recover.telling import ToldList, draft_of_sample, tell_length, tell_panels, tell_recovered
from foldwright.cli.beginning import AnswerError, ask, begin_in, new_title, tell_wrong, write_begun
from foldwright.cli.calls import RecoverCall
from foldwright.cli.telling import INDENT, StyledLine, Teller
from foldwright.document.catalogue import catalogue
from foldwright.finding import Strength, Wrong
from foldwright.measure.length import Length
from foldwright.recipe.facts.limits import MOST_FACTS
from foldwright.recipe.facts.source import decode
from foldwright.surroundings import Folder, Refusal

_NOTES = "readings.txt"
"""What readings that were asked for are kept as, beside the recipe."""
_MOST_PIECES = 12
_EXAMPLE = {"across": "5/8 | 2 7/8 | 5/8 in", "down": "1 3/4 | 3/4 | 1 3/4 in"}
"""What is suggested, and taken at the end of the input."""


def recover_sample(call: RecoverCall) -> int:
    """Recover the blanks behind a file of readings, or behind answers to questions; the exit status."""
    path, into = Path(call.sample), Path(call.into)
    bound = next(read_bounds(call.read_to, are_marks=True), None)
    if call.read_to and bound is None:
        return tell_wrong(Wrong.of("recover.read-to-odd", said=call.read_to))
    if not call.sample:
        return ask_and_recover(call.name, bound, into)
    data = Folder(path.parent).read(path.name, MOST_FACTS)
    if isinstance(data, Refusal):
        return tell_wrong(Wrong.of("recover.no-file", path=call.sample, limit=MOST_FACTS // 1024))
    text, findings = decode(data, call.sample)
    if text is None:
        Teller("stderr").findings(findings, {})
        return 2
    return _recover(text, call.sample, call.name, bound, into)


def ask_and_recover(name: str, bound: Length | None, into: Path) -> int:
    """Take the readings down from answers to questions; they are kept beside the recipe. The exit status."""
    try:
        text = _ask_for_sample(name, into)
    except AnswerError as stopped:
        return tell_wrong(stopped.wrong)
    return _recover(text, _NOTES, name, bound, into, keep=True)


def _recover(text: str, file: str, name: str, bound: Length | None, into: Path, keep: bool = False) -> int:
    """Recover what a text of readings says; with `keep` the text is put beside the recipe."""
    complaints = Teller("stderr")
    read = read_sample(text, file, bound)
    complaints.findings(read.findings, {file: text})
    if read.sample is None:
        return 1
    answer = recover(read.sample)
    complaints.findings(answer.findings, {file: text})
    if answer.recovered is None:
        _tell_nearest(answer, complaints)
        return 1
    title = name or read.sample.fact("title") or Path(file).stem.replace("-", " ").replace("_", " ").capitalize()
    draft, assumed = draft_of_sample(read.sample, answer.recovered, title)
    system = answer.recovered.system
    Teller().words("recover.answer", system=catalogue().say(f"command.recover.in.{system.value}"))
    _tell_lists(draft, tell_recovered(answer.recovered, assumed, catalogue()))
    beside = {_NOTES: text.encode()} if keep else {}
    return write_begun(*begin_in(draft, into), not_well="recover.not-well", draw=system, beside=beside)


def _tell_lists(draft: Draft, lists: tuple[ToldList, ...]) -> None:
    teller = Teller()
    teller.say([*(StyledLine(f"{INDENT}{line}") for line in write_pieces(draft)), StyledLine("")])
    for one in lists:
        teller.text(one.heading)
        teller.say(StyledLine(line) for said in one.lines for line in teller.wrapped(said, INDENT))
        teller.say([StyledLine("")])


def _tell_nearest(answer: Recovery, complaints: Teller) -> None:
    """What would do if some of the readings might be off by more."""
    if answer.nearest is None or answer.read_to is None:
        return
    sides = tuple(f"{piece} {side}" for piece, side in answer.sides)
    complaints.words("recover.nearest", sides=sides, read_to=tell_length(answer.read_to))
    for line in tell_panels(answer.nearest, catalogue()):
        complaints.text(INDENT + line)
    complaints.words("recover.nearest-how", sides=sides, read_to=tell_length(answer.read_to))


# --- questions ------------------------------------------------------------------------------------------------------


def _ask_for_sample(title: str, into: Path) -> str:
    """The answers as the notes a person would write, for a recipe that is to lie in a new folder of `into`."""
    called = ask(title, "new.ask-name", "", partial(new_title, into=into))
    lines = [f"title: {called}", f"card: {ask('', 'new.ask-card', 'white card', str)}"]
    name = ask("", "recover.ask-piece", LONE_PIECE, str)
    for _ in range(_MOST_PIECES):
        for side in ("across", "down"):
            said = ask("", f"recover.ask-{side}", _EXAMPLE[side], partial(_readings, side=side), piece=name)
            # `from the left: 5/8, 3 1/2` says how it was measured.
            lines.append(f"{name} {side}{',' if said.lower().startswith('from ') else ':'} {said}")
        fold = ask("", "recover.ask-fold", "", str, piece=name)
        lines += [f"{name} fold: {fold}"] if fold else []
        name = ask("", "recover.ask-another", "", str)
        if not name:
            break
    habit = ask("", "recover.ask-made-in", "", _habit)
    lines += [f"made in: {habit}"] if habit else []
    return "\n".join(lines) + "\n"


def _readings(said: str, side: str) -> str | Wrong:
    other = "down" if side == "across" else "across"
    read = read_sample(f"it {side}: {said}\nit {other}: 4 in\n", "")
    wrong = any(finding.strength is Strength.FAULT for finding in read.findings)
    return Wrong.of("recover.answer-unreadable", said=said, example=_EXAMPLE[side]) if wrong else said


def _habit(said: str) -> str | Wrong:
    return said if not said or read_habit(said) else Wrong.of("recover.made-in-odd", said=said)
