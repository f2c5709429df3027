"""What a build says: of each recipe what changed, at the end how many did not, and whose good pages were kept."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import datetime
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from foldwright.cli.outcomes import Became, Outcome
from foldwright.cli.records import DRAFT, Record
from foldwright.cli.telling import INDENT, Teller
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import Told
from foldwright.finding import Strength
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import STUDIO
from foldwright.recipe.facts.addresses import PAGE

_PICTURES = (".png", ".jpg", ".webp")
_COUNTED = (Became.MADE, Became.UNCHANGED, Became.KEPT, Became.NOTHING)


class Summary(Struct, frozen=True):
    """What became of a whole build."""

    out: Path
    outcomes: Sequence[Outcome]
    removed: Sequence[str] = ()
    told: Sequence[Told] = ()
    """Of the recipes together."""


def tell_outcome(outcome: Outcome, out: Path, teller: Teller, complaints: Teller, alone: bool) -> None:
    """Tell what became of one recipe; of one that did not change, only what is wrong with it, unless it is alone."""
    if outcome.became is Became.UNCHANGED:
        stronger = [one for one in outcome.told if one.strength > Strength.THOUGHT]
        teller.told(shown(stronger, outcome.source))
        if alone:
            teller.words("build.unchanged", folder=str(out / outcome.source.slug))
    else:
        teller.told(shown(outcome.told, outcome.source))
    if outcome.trouble is not None:
        complaints.wrong(outcome.trouble)
    if outcome.became is Became.NOTHING:
        complaints.words("build.nothing", recipe=outcome.source.shown)
    if outcome.became is Became.MADE:
        _tell_made(outcome, out, teller)
    if outcome.record and outcome.record.state == "draft" and any(name == PAGE for name, _ in outcome.record.files):
        teller.words("build.draft", path=str(out / outcome.source.slug / PAGE))
    if outcome.record and outcome.record.state == "kept":
        facts = {"folder": str(out / outcome.source.slug), "when": made_at(outcome.record), "draft": DRAFT}
        teller.words("build.kept" if DRAFT in outcome.record.beside else "build.kept-alone", **facts)


def _tell_made(outcome: Outcome, out: Path, teller: Teller) -> None:
    folder = str(out / outcome.source.slug)
    if not outcome.written:
        teller.words("build.same", folder=folder)
    elif outcome.stays:
        teller.words("build.wrote-some", folder=folder, names=_names(outcome.written), count=outcome.stays)
    else:
        teller.words("build.wrote", folder=folder, names=_names(outcome.written))
    if outcome.gone:
        teller.words("build.gone", folder=folder, names=_names(outcome.gone))
    for note in outcome.notes:
        teller.text(INDENT + note)


def shown(told: Iterable[Told], source: Source) -> list[Told]:
    """Findings under the names of files as the caller typed them."""
    if not (told := list(told)):
        return []
    names = {source.name: source.shown}
    if source.studio:
        names[STUDIO] = os.path.relpath(source.studio)
    return [replace(one, file=names.get(one.file, one.file)) for one in told]


def made_at(record: Record) -> str:
    """When the newest of a recipe's good files was written, by the clock of this place."""
    newest = max((mark.time for part in record.parts.values() for mark in part.files.values()), default=0)
    return datetime.fromtimestamp(newest / 1e9).astimezone().strftime("%Y-%m-%d %H:%M")


def _names(written: Sequence[str]) -> str:
    """The files by name; pictures, which may be dozens, by their number: those of the fragment, and all in folders."""
    pictures = [name for name in written if name.endswith(_PICTURES) or "/" in name]
    names = [name for name in written if name not in pictures]
    counted = [catalogue().say("command.build.pictures", count=len(pictures))] if pictures else []
    return ", ".join([*names, *counted])


def tell_summary(summary: Summary, watching: bool = False) -> None:
    """The last lines: how many were made, did not change, were removed or kept, and all that was found.

    Who is `watching` gets one line with the time, and none where nothing changed.
    """
    teller = Teller()
    for slug in summary.removed:
        teller.words("build.removed", folder=str(summary.out / slug))
    counts = Counter(_became(outcome) for outcome in summary.outcomes)
    words = catalogue()
    parts = [words.say(f"command.build.counted.{one.value}", count=counts[one]) for one in _COUNTED if counts[one]]
    if summary.removed:
        parts.append(words.say("command.build.counted.removed", count=len(summary.removed)))
    if watching:
        if summary.removed or any(outcome.became is not Became.UNCHANGED for outcome in summary.outcomes):
            facts = {"time": datetime.now().astimezone().strftime("%H:%M:%S")}
            teller.words("build.round", counted=words.say("list.comma").join(parts), **facts)
        return
    if len(summary.outcomes) > 1 or summary.removed:
        teller.words("build.summary", counted=words.say("list.comma").join(parts))
    strengths = [one.strength for outcome in summary.outcomes for one in outcome.told]
    strengths += [one.strength for one in summary.told]
    teller.total(strengths, len({outcome.source.path for outcome in summary.outcomes}))


def _became(outcome: Outcome) -> Became:
    """What it counts as: pages that are kept for an error are not called unchanged."""
    kept = outcome.record and outcome.record.state == "kept"
    return Became.KEPT if kept else outcome.became
