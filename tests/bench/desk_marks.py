"""The marks of the desk: what typing costs from text to what is sent, and from the key to the screen in a browser."""

from __future__ import annotations

import gc
import resource
from pathlib import Path
from statistics import median

from bench import desks, keystrokes
from bench.told import FULL, Effort, told

WORD_MS_AT_MOST, LATE_MS_AT_MOST, WORST_MS_AT_MOST = 35.0, 60.0, 150.0
"""The middle one of words typed, 95 in 100 of them, and the slowest of all changes."""
GROWTH_MB_AT_MOST = 10.0
PAINTED_MS_AT_MOST, NONE_OVER_MS = 80.0, 250.0
PAPERS_S_AT_MOST, FIRST_KEY_S_AT_MOST = 1.5, 2.0


def typing(folder: Path, effort: Effort) -> bool:
    """Words and numbers by themselves: another number is another piece, which is laid, folded and drawn anew."""
    desk = keystrokes.Desk(folder)
    well = True
    for kind, change in keystrokes.KINDS.items():
        for number in range(3):
            desk.typed(change(number))
        times = sorted(desk.typed(change(number)) for number in range(3, 3 + 2 * effort.pages))
        anew = median(desk.anew(change(number)) for number in range(effort.rounds))
        late = times[int(0.95 * len(times))]
        reached = times[-1] * 1000 <= WORST_MS_AT_MOST and (
            kind in keystrokes.NUMBERS or (median(times) * 1000 <= WORD_MS_AT_MOST and late * 1000 <= LATE_MS_AT_MOST)
        )
        found = f"{median(times) * 1000:.0f}, 95 in 100 {late * 1000:.0f}, worst {times[-1] * 1000:.0f} ms"
        beside = f"anew {anew * 1000:.0f} ms: ratio {median(times) / anew:.2f}"
        told(f"{found}, {beside}", f"typing: {kind}", f"{WORST_MS_AT_MOST:.0f} ms", reached)
        well = well and reached
    return well


def typing_on(folder: Path, effort: Effort) -> bool:
    """What the process holds after many changes, beside what it held after a fifth of them."""
    desk, changes = keystrokes.Desk(folder), keystrokes.all_kinds()
    many = 5000 if effort is FULL else 50
    for _ in range(many // 5):
        desk.typed(next(changes))
    before = megabytes_held()
    for _ in range(many - many // 5):
        desk.typed(next(changes))
    grown = megabytes_held() - before
    well = grown <= GROWTH_MB_AT_MOST
    told(f"{grown:.1f} MB more, {before:.0f} MB before", f"{many} changes", f"{GROWTH_MB_AT_MOST:.0f} MB", well)
    return well


def megabytes_held() -> float:
    """The memory of this process that is in use now."""
    gc.collect()
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * resource.getpagesize() / 2**20


def painted(folder: Path, effort: Effort) -> bool:
    """Words typed into a step, each when the one before is on the screen; and papers once one pauses."""
    with desks.at_the_desk(folder / "painted") as (_opened, page):
        keys = desks.keys(
            page, "Fold and tape the lid the same", " once more and then again" * max(1, effort.pages // 10)
        )
        papers = median(desks.papers(page) for _ in range(min(effort.rounds, 3)))
    late, worst = keys.share(95), keys.milliseconds[-1]
    well = late <= PAINTED_MS_AT_MOST and worst <= NONE_OVER_MS
    found = f"{keys.share(50):.0f}, 95 in 100 {late:.0f}, worst {worst:.0f} ms"
    told(found, "key to tutorial", f"{PAINTED_MS_AT_MOST:.0f}, worst {NONE_OVER_MS:.0f} ms", well)
    told(f"{papers:.1f} s", "pause to all papers", f"{PAPERS_S_AT_MOST} s", papers <= PAPERS_S_AT_MOST)
    return well and papers <= PAPERS_S_AT_MOST


def opening(folder: Path, effort: Effort) -> bool:
    """From the command to a key that is taken."""
    seconds = median(desks.first_key(folder / f"opening-{number}") for number in range(effort.rounds))
    told(f"{seconds:.2f} s", "command to first key", f"{FIRST_KEY_S_AT_MOST} s", seconds <= FIRST_KEY_S_AT_MOST)
    return seconds <= FIRST_KEY_S_AT_MOST


def served(folder: Path, effort: Effort) -> bool:
    """What the server holds after thousands of changes, beside what it held after a fifth of them."""
    many = 5000 if effort is FULL else 50
    with desks.at_the_desk(folder / "served") as (opened, page):
        first, *_, last = desks.memory(opened, page, many)
    well = last - first <= GROWTH_MB_AT_MOST
    told(
        f"{last - first:.1f} MB more, {first:.0f} MB before",
        f"{many} changes served",
        f"{GROWTH_MB_AT_MOST:.0f} MB",
        well,
    )
    return well
