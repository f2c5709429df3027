"""`foldwright recover`: from the readings of a taken-apart sample to a recipe of the plainest blank behind them."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from foldwright.begin.draft.model import SHEETS, Draft
from foldwright.begin.recover.drafting import draft_of
from foldwright.begin.recover.model import Sample
from foldwright.begin.recover.reading import read_sample
from foldwright.begin.recover.recovering import Recovered, recover
from foldwright.cli.beginning import begin, drafted, drawings, say_thoughts, source_for, there_already, write_begun
from foldwright.cli.saying_recovered import say_nearest, say_recovered
from foldwright.cli.telling import Teller
from foldwright.measure.length import Length
from foldwright.measure.reading import read_length
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.limits import MOST_FACTS
from foldwright.recipe.facts.source import decode
from foldwright.surroundings import Folder, Refusal

_NOTES = "readings.txt"
"""What readings that were asked for are kept as, beside the recipe."""


def recover_sample(path: str, *, name: str, read_to: str, into: Path) -> int:
    """Recover the blanks behind a file of readings, or behind answers to questions; the exit status."""
    complaints = Teller("stderr")
    bound = read_length(read_to) if read_to else None
    if isinstance(bound, Unreadable):
        complaints.words("recover.read-to-odd", said=read_to)
        return 2
    if not path:
        return ask_and_recover(name, bound, into)
    found = _read(Path(path), complaints)
    return 2 if found is None else recover_text(found, path, name=name, bound=bound, into=into)


def ask_and_recover(name: str, bound: Length | None, into: Path) -> int:
    """Take the readings down from answers to questions; they are kept beside the recipe."""
    from foldwright.cli.asking_sample import ask_for_sample

    wrong = there_already(name, into) if name else None
    asked = wrong or ask_for_sample(name, into)
    if isinstance(asked, str):
        return recover_text(asked, _NOTES, name=name, bound=bound, into=into, keep=True)
    Teller("stderr").words(asked.message, **dict(asked.facts))
    return 2


def _read(path: Path, complaints: Teller) -> str | None:
    data = Folder(path.parent).read(path.name, MOST_FACTS)
    if isinstance(data, Refusal):
        complaints.words("recover.no-file", path=str(path), limit=MOST_FACTS // 1024)
        return None
    text, findings = decode(data, str(path))
    if text is None:
        complaints.findings(findings, {})
    return text


def recover_text(text: str, file: str, *, name: str, bound: Length | None, into: Path, keep: bool = False) -> int:
    """Recover what a text of readings says; with `keep` the text is put beside the recipe."""
    complaints = Teller("stderr")
    read = read_sample(text, file, bound)
    sources = {file: text}
    if read.findings:
        complaints.findings(read.findings, sources)
    if read.sample is None:
        return 1
    answer = recover(read.sample)
    if answer.findings:
        complaints.findings(answer.findings, sources)
    if answer.recovered is None:
        say_nearest(answer, complaints)
        return 1
    title = name or read.sample.fact("title") or Path(file).stem.replace("-", " ").replace("_", " ").capitalize()
    return _write(read.sample, answer.recovered, title, into, {_NOTES: text.encode()} if keep else {}, complaints)


def _write(
    sample: Sample,
    recovered: Recovered,
    title: str,
    into: Path,
    files: dict[str, bytes],
    complaints: Teller,
) -> int:
    sheets = (sample.fact("sheet"),) if sample.fact("sheet") else SHEETS[recovered.system]
    drafts = [partial(_draft, sample, recovered, title, sheet) for sheet in sheets]
    begun = begin([drafted(draft) for draft in drafts], source_for(title, into))
    _, assumed = draft_of(sample, recovered, title, sheets[0])
    teller = Teller()
    say_recovered(teller, recovered, (*sample.assumed, *assumed), begun.text)
    if begun.checked.wrong:
        complaints.words("recover.not-well")
        complaints.findings(begun.findings, {begun.source.name: begun.text})
        return 1
    say_thoughts(teller, begun)
    if not write_begun(begun, {**drawings(begun, recovered.system), **files}, complaints):
        return 2
    teller.words("new.wrote", path=begun.source.shown, folder=str(begun.source.folder))
    return 0


def _draft(sample: Sample, recovered: Recovered, title: str, sheet: str) -> Draft:
    return draft_of(sample, recovered, title, sheet)[0]
