"""Questions that take down the readings of a sample, as the notes a person would write."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import partial
from pathlib import Path

from foldwright.begin.recover.reading import LONE_PIECE, read_sample
from foldwright.cli.asking import Asking
from foldwright.cli.beginning import new_title
from foldwright.finding import Strength, Wrong

_FROM = re.compile(r"(?P<from>from (?:the )?(?:left|right|top|bottom))(?: edge)?\s*[:,]?\s*(?P<rest>.+)", re.IGNORECASE)
_MOST_PIECES = 12
_EXAMPLE = {"across": "5/8 | 2 7/8 | 5/8 in", "down": "1 3/4 | 3/4 | 1 3/4 in"}
"""What is suggested, and taken at the end of the input."""


def ask_for_sample(title: str, into: Path) -> str | Wrong:
    """The answers as a text of readings, for a recipe that is to lie in a new folder of `into`."""
    asking = Asking()
    lines: list[str] = []
    if not title:
        called = asking.ask("", "new.ask-name", "", partial(new_title, into=into))
        if isinstance(called, Wrong):
            return called
        lines.append(f"title: {called}")
    lines.append(f"card: {asking.ask('', 'new.ask-card', 'white card', _something)}")
    name = asking.ask("", "recover.ask-piece", LONE_PIECE, _something)
    for _ in range(_MOST_PIECES):
        for side in ("across", "down"):
            said = asking.ask("", f"recover.ask-{side}", _EXAMPLE[side], _readings_of(side), piece=name)
            lines.append(_line(str(name), side, str(said)))
        fold = asking.ask("", "recover.ask-fold", "", _anything, piece=name)
        lines += [f"{name} fold: {fold}"] if fold else []
        name = asking.ask("", "recover.ask-another", "", _anything)
        if not name:
            break
    return "\n".join(lines) + "\n"


def _something(said: str) -> str | Wrong:
    return said or Wrong.of("recover.say-something")


def _anything(said: str) -> str | Wrong:
    return said


def _readings_of(side: str) -> Callable[[str], str | Wrong]:
    other = "down" if side == "across" else "across"

    def understand(said: str) -> str | Wrong:
        read = read_sample(f"{_line('it', side, said)}\nit {other}: 4 in\n", "")
        wrong = any(finding.strength is Strength.FAULT for finding in read.findings)
        return Wrong.of("recover.answer-unreadable", said=said, example=_EXAMPLE[side]) if wrong else said

    return understand


def _line(piece: str, side: str, said: str) -> str:
    """`from the left: 5/8, 3 1/2` says how it was measured; anything else goes panel by panel."""
    match = _FROM.fullmatch(said)
    return f"{piece} {side}, {match['from']}: {match['rest']}" if match else f"{piece} {side}: {said}"
