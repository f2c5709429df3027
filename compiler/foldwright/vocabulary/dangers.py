"""What a text speaks of that can hurt: tools, supplies and acts by name, wherever in a sentence they stand.

The longest name wins, so that `bone folder` is no folder and `LED tea light` no candle; a name that the author has
given to a piece of paper is that piece. What is said not to be needed is no danger: "no hot glue needed", "instead of
a candle". Nor is the picture of a thing: `balloon stamp`, `paper candle`.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from functools import lru_cache

from msgspec import Struct

from foldwright.vocabulary.acts import ACTS, act_of
from foldwright.vocabulary.hazards import HAZARDS
from foldwright.vocabulary.names import KnownNames, singular
from foldwright.vocabulary.supplies import SUPPLY_KINDS
from foldwright.vocabulary.tools import TOOLS

type Run = tuple[str, ...]

_TOKEN = re.compile(r"[^\W_]+(?:['’][^\W_]+)?|[.,;:!?()]")
_HARMLESS = "hot air balloon, spray of, spray bottle, water spray, glitter card, glitter paper, pin wheel"
"""What is called like something that hurts, and does not."""
_OTHER_NAMES: dict[str, tuple[str, ...]] = {
    "molten glue": ("hot-glue",),
    "melted glue": ("hot-glue",),
    "hot wax": ("heat",),
    "wire end": ("sharp-ends",),
    "pointed end": ("sharp-ends",),
    **dict.fromkeys(_HARMLESS.split(", "), ()),
}
_PICTURED = frozenset(
    """card cardstock paper shape shaped stamp sticker template die stencil print picture motif pattern outline design
    drawing cutout""".split()
)
"""A thing's name before one of these is the name of its picture."""
_OF_PAPER = frozenset("paper card cardstock felt printed drawn stamped painted pretend".split())
"""So it is after one of these."""
_SKIPPED = frozenset("a an the any your of for more use using need".split())
"""Between what denies and what is denied."""
_USES = frozenset("use need take try reach add want get".split())
_NOT = frozenset("not never don't doesn't needn't won't isn't aren't cannot can't".split())
_SPARED = frozenset("needed necessary required wanted called".split())
_STOPS = frozenset(".;:!?()")
_OR = frozenset(("or", "nor"))


def _names() -> Iterator[tuple[str, tuple[str, ...]]]:
    for tool in TOOLS:
        yield from ((name, tool.hazards) for name in (tool.name, *tool.forms))
    for act in ACTS:
        if act.hazards:
            yield from ((name, act.hazards) for name in (act.name, *act.forms))
    for kind in SUPPLY_KINDS:
        small = ("small-parts",) if kind.small and not kind.adhesive else ()
        hazards = () if kind.food else (*kind.hazards, *small)
        # To thread and to trim is done with ribbon, and is no ribbon.
        yield from ((name, hazards) for name in (kind.name, *kind.forms) if " " in name or act_of(name) is None)
    yield from _OTHER_NAMES.items()


def _run(name: str) -> Run:
    return tuple(singular(word.replace("’", "'")) for word in _TOKEN.findall(name.casefold()))


@lru_cache(maxsize=1)
def _known() -> KnownNames[tuple[str, ...]]:
    """Hazards by the words of a name: those of every thing with that name."""
    known: dict[Run, tuple[str, ...]] = {}
    for name, hazards in _names():
        run = _run(name)
        known[run] = tuple(dict.fromkeys((*known.get(run, ()), *hazards)))
    return KnownNames(known, max(map(len, known)))


class _DangerNamed(Struct, frozen=True):
    """A name in a text: its first token, the one after its last, and what it brings."""

    start: int
    end: int
    hazards: tuple[str, ...]


@lru_cache(maxsize=1024)
def dangers_in(text: str, own_names: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Codes of the hazards that a text brings, in order. `own_names` are the author's, for things that hurt nobody."""
    # `don't` keeps its own form: singular takes the s off a word, no more.
    tokens = _run(text)
    found = list(_found(tokens, frozenset(map(_run, own_names))))
    denied = _denied(tokens, found)
    return tuple(
        dict.fromkeys(
            code
            for one in found
            if one not in denied
            for code in one.hazards
            if not (HAZARDS[code].made and _is_picture(tokens, one))
        )
    )


def _found(tokens: Run, own: Collection[Run]) -> Iterator[_DangerNamed]:
    known = _known()
    longest = max(known.longest, max(map(len, own), default=0))
    hurting_nobody: dict[Run, tuple[str, ...]] = dict.fromkeys(own, ())
    at = 0
    for hazards, run in KnownNames({**known.by_words, **hurting_nobody}, longest).runs_in(tokens):
        if hazards is not None:
            yield _DangerNamed(at, at + len(run), hazards)
        at += len(run)


def _is_picture(tokens: Run, one: _DangerNamed) -> bool:
    before = tokens[one.start - 1] if one.start else ""
    after = tokens[one.end] if one.end < len(tokens) else ""
    return after in _PICTURED or before in _OF_PAPER


def _denied(tokens: Run, found: Iterable[_DangerNamed]) -> set[_DangerNamed]:
    """Names that stand after `no`, `without`, `instead of`, `never use`, or before `is not needed`.

    Of a row ("no knife, iron or hot glue") all are denied, if `or` joins it.
    """
    by_start = {one.start: one for one in found}
    denied: set[_DangerNamed] = set()
    for one in by_start.values():
        if _denies(tokens, one.start) or _spares(tokens, one.end):
            denied.add(one)
            denied |= _rest_of_row(tokens, one.end, by_start)
    return denied


def _denies(tokens: Run, start: int) -> bool:
    """Whether what stands before a name denies it, with at most a word of praise or blame between."""
    at = start
    while at and tokens[at - 1] not in _STOPS and tokens[at - 1] != ",":
        at -= 1
        word = tokens[at]
        before = tokens[at - 1] if at else ""
        if word in ("no", "without", "avoid"):
            return True
        if word == "of" and before in ("instead", "place"):
            return True
        if word == "than" and before == "rather":
            return True
        if word in _USES and before in _NOT:
            return True
        if word in _SKIPPED:
            continue
        if at < start - 1 or word.endswith("ing") or word in _NOT:
            return False
    return False


def _spares(tokens: Run, end: int) -> bool:
    """`... is not needed`, `... isn't necessary`."""
    after = tokens[end : end + 3]
    return (after[:2] in (("is", "not"), ("are", "not")) and after[2:] and after[2] in _SPARED) or (
        len(after) > 1 and after[0] in ("isn't", "aren't") and after[1] in _SPARED
    )


def _rest_of_row(tokens: Run, end: int, by_start: dict[int, _DangerNamed]) -> set[_DangerNamed]:
    row: set[_DangerNamed] = set()
    joined = False
    at = end
    while at < len(tokens) and (tokens[at] == "," or tokens[at] in _OR):
        joined = joined or tokens[at] in _OR
        at += 1
        while at < len(tokens) and (tokens[at] in _SKIPPED or tokens[at] in _OR):
            joined = joined or tokens[at] in _OR
            at += 1
        one = by_start.get(at)
        if one is None:
            break
        row.add(one)
        at = one.end
    return row if joined else set()
