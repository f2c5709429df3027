"""What commands that begin a recipe ask, and what they end with: its new folder. Nothing is ever written over."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from pathlib import Path

from foldwright.begin.draft.begun import Begun, begin, drawings
from foldwright.begin.draft.model import Draft
from foldwright.cli.telling import Teller
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.measure.length import System
from foldwright.outputs.new_folders import folder_for, studio_beside, write_new_folder
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import RECIPE
from foldwright.recipe.facts.unprintable import UNPRINTABLE, printable


def new_title(said: str, into: Path) -> str | Wrong:
    """The name of a recipe that is not there yet."""
    if not said:
        return Wrong.of("new.no-name")
    folder = folder_for(said, into).folder
    return Wrong.of("new.there-already", path=str(folder)) if folder.exists() else said


def begin_in(draft: Draft, into: Path) -> tuple[Begun, Source]:
    """The draft tried out for a new folder in `into`, with the studio that lies there."""
    source = folder_for(draft.title, into)
    return begin(draft, source.name, source.slug, studio_beside(into)), source


def write_begun(
    begun: Begun,
    source: Source,
    *,
    not_well: str,
    draw: System | None = None,
    beside: Mapping[str, bytes] | None = None,
) -> int:
    """Write the recipe's folder, with drawings in a system and other files beside it; the exit status.

    A recipe with anything wrong in it is not written; `not_well` is what is said of it.
    """
    teller, complaints = Teller(), Teller("stderr")
    texts = {begun.file: begun.text}
    if begun.checked.wrong:
        complaints.words(not_well)
        complaints.findings(begun.checked.findings, texts)
        return 1
    if begun.hushed:
        teller.findings(begun.hushed, texts)
        teller.words("new.hushed")
    teller.findings(begun.checked.findings, texts)
    files = {RECIPE: begun.text.encode(), **(drawings(begun, draw) if draw else {}), **(beside or {})}
    if wrong := write_new_folder(source.folder, files):
        if wrong.message == "new.there-already":
            return tell_wrong(wrong)
        complaints.wrong(wrong)
        return 1
    teller.words("new.wrote", path=source.shown, folder=str(source.folder))
    return 0


# --- questions on the terminal ----------------------------------------------------------------------------------------


class AnswerError(Exception):
    """An answer of the call will not do, or the input ended before there was one that does."""

    def __init__(self, wrong: Wrong) -> None:
        super().__init__(wrong.message)
        self.wrong = wrong


def tell_wrong(wrong: Wrong) -> int:
    """Say what is wrong with a call or an answer; the exit status."""
    Teller("stderr").words(wrong.message, **dict(wrong.facts))
    return 2


def ask[Answer](
    given: str, question: str, suggested: str, read: Callable[[str], Answer | Wrong], **facts: object
) -> Answer:
    """The answer as `read`; asked for again when it will not do. At the end of the input what is suggested is taken.

    `given` is an answer of the call, which is not asked for again. Raises `AnswerError`.
    """
    words = catalogue().say(f"command.{question}", **facts)
    while not given.strip():
        print(f"{words} [{suggested}] " if suggested else f"{words} ", end="", flush=True, file=sys.stderr)
        line = sys.stdin.readline()
        if not sys.stdin.isatty():
            print(file=sys.stderr)
        if UNPRINTABLE.search(line):
            Teller("stderr").words("wrong.unprintable", said=printable(line).strip())
            continue
        answer = read(" ".join(line.split()) or suggested)
        if not isinstance(answer, Wrong):
            return answer
        if not line:
            raise AnswerError(answer)
        tell_wrong(answer)
    answer = read(" ".join(given.split()))
    if isinstance(answer, Wrong):
        raise AnswerError(answer)
    return answer
