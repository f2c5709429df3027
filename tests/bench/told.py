"""How a figure is told beside its mark, and how two kinds of work are timed in turn."""

from __future__ import annotations

import subprocess
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median

TOP = Path(__file__).resolve().parents[2]


@dataclass(frozen=True, slots=True)
class Effort:
    starts: int
    pages: int
    many: int
    rounds: int
    cards: int
    kits: int
    library: int
    sent: int


FULL = Effort(starts=21, pages=60, many=300, rounds=3, cards=15, kits=200, library=1000, sent=1280)
QUICK = Effort(starts=2, pages=2, many=4, rounds=1, cards=1, kits=2, library=4, sent=128)


def told(found: str, what: str, mark: str, well: bool) -> None:
    print(f"{what:<22} {found} (mark {mark})  {verdict(well)}", flush=True)


def ratio_of(ours: float, theirs: float) -> str:
    return f"{theirs * 1000:.1f} ms: ratio {ours / theirs:.1f}"


def in_milliseconds(what: str, seconds: float, beside: str, mark: float) -> bool:
    well = seconds * 1000 <= mark
    print(f"{what:<22} {seconds * 1000:.1f} ms, {beside} (mark {mark:.0f} ms)  {verdict(well)}", flush=True)
    return well


def alternately(one: Callable[[], None], other: Callable[[], None], rounds: int) -> tuple[float, float]:
    """The median seconds of each, taken in turn so that a slow moment of the machine strikes both."""
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(rounds):
        for act, kept in zip((one, other), times, strict=True):
            started = time.perf_counter()
            act()
            kept.append(time.perf_counter() - started)
    return median(times[0]), median(times[1])


def run(command: Sequence[str]) -> None:
    done = subprocess.run(command, cwd=TOP, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False)
    if done.returncode:
        raise SystemExit(f"{' '.join(command)} ended with {done.returncode}:\n{done.stdout}")


def report(what: str, ours: str, theirs: str, ratio: float, mark: float, well: bool) -> None:
    print(f"{what:<22} {ours}, {theirs}: ratio {ratio:.2f} (mark {mark})  {verdict(well)}", flush=True)


def verdict(well: bool) -> str:
    return "reached" if well else "MISSED"
