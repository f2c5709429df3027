"""How fast it is, as ratios within one run, so that the machine drops out. Medians throughout.

1. `check` of one recipe in a fresh process, beside a bare `import pint, yaml, markdown_it` in a fresh process.
2. One recipe of ten steps from its text to its page, warm, in milliseconds; and with the pictures of its steps.
3. Pages a second: recipes of ten steps built to pages on every core, beside MkDocs on as many pages of ten headings.
4. A finished card, from the sheet to the PDF, beside one plain layout of the same words.
5. All cards of one recipe, both systems on letter and A4, in a fresh process, in seconds.
6. Writing a card's PDF with fonts cut down by HarfBuzz, beside the same by fontTools.
7. Folding and checking a net of forty panels, warm, in milliseconds, beside shapely cutting up the same blank.
8. All pictures of a recipe of ten steps, warm, in milliseconds, beside the same again, unchanged.
9. Proposals of every form for what goes inside, checked, in a fresh process, in seconds of the processor.
10. Of random kits for a hundred with up to four kinds of piece: how many are cut in a second from sheets within
    one of the bound.
11. The same with five to eight kinds: within one sheet or 2 % in five seconds.
12. How many of these need more sheets than plain strips or rectpack's guillotine packers.
13. Twenty to forty kinds, as ten recipes have: how far from the bound at most, in sheets; in ten seconds each.
14. Lengths off spools: how many jobs are proven, and what the longest first would cost beside.
15. Ten thousand kits: how far from the bound at most, in per cent; in five seconds and 300 MB.
16. The whole folder of an event for a hundred, in a fresh process, in seconds, beside a bare import of the libraries
    that takes; 17. a thousand; 18. ten thousand.
19. Texts of one thing again and again: how many times as long eight times as much takes, at most.
20. Page, templates and files of the pieces of one recipe that folds, in a fresh process with the fonts kept, beside a
    bare import of the libraries that takes.
21. A key pressed in a recipe of twenty steps with pictures and photographs: from the text to what of its page is sent
    to the browser, in milliseconds, for words and for numbers, beside the same with nothing remembered.
22. Memory that 5,000 such changes take, in MB, after the first thousand.
23. The same in a browser: from a key to the tutorial on the screen, and from a pause to all papers. 24. From the
    command to the first key. 25. Memory of the desk that serves 5,000 changes.
26. A blank recovered from a sample, warm, in milliseconds of processor time: of ordinary ones, and of the largest.
27. The demo library with all its papers, in seconds of one processor, beside as many bare layouts of its words.
28. A made-up library of a thousand to pages on every core, with and without the pictures of steps, beside MkDocs on as
    many pages of the same words. 29. A hundred of it by two processes, beside one.
30. How time and the memory of a process grow from 250 recipes to a thousand.
31. The thousand built again: unchanged, and with a word changed in one, beside that recipe alone.
32. How much of their time 64 workers of a cluster are at work, whose tasks sleep as long as recipes take.
33. The thousand built again with all outputs, which are fifty thousand files. 34. How time and memory grow from a
    thousand recipes to ten thousand. These two take hours, and are measured only where their numbers are named.

Exit status 1 when a number misses its mark. `--quick` does less of everything, to see that the measuring works;
numbers choose what is measured (`bench 10 14`; 10 to 12 are one run).
"""

from __future__ import annotations

import resource
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from functools import partial
from itertools import count
from pathlib import Path
from statistics import median
from unittest import mock

from bench import cards, desk_marks, folding, kits, libraries, long_texts, made_up, recoveries
from bench.told import FULL, QUICK, TOP, Effort, alternately, in_milliseconds, ratio_of, report, run, told, verdict
from foldwright.geometry.pictures import story
from foldwright.outputs.table import OUTPUTS
from workbench.unremembered import nothing_remembered

CHECK_AT_MOST = 1.3
PAGE_MS_AT_MOST = 10.0
PAGES_RATIO_AT_LEAST = 1.0
CARD_AT_MOST = 4.0
ALL_CARDS_S_AT_MOST = 2.5
FOLDING_MS_AT_MOST = 20.0
PICTURES_MS_AT_MOST = 60.0
DESIGN_S_AT_MOST = 1.0
KITS_PER_CENT_AT_LEAST = 95.0
GAP_PER_CENT_AT_MOST = 1.0
MEGABYTES_AT_MOST = 300
GROWTH_AT_MOST = 24.0
BUILD_S_AT_MOST = 2.0
EVENT_S_AT_MOST = {100: 3.0, 1000: 8.0, 10_000: 10.0}
MANY_KINDS_S_AT_MOST = 10
ASKED_FOR = {33, 34}
"""What takes hours, and is measured only where it is named."""
RECOVER_MS_AT_MOST, RECOVER_MOST_MS_AT_MOST = 10.0, 1000.0


def main(words: Sequence[str]) -> int:
    effort = QUICK if "--quick" in words else FULL
    # What pip does for the packages beside us: neither side spends its time on turning modules into bytecode.
    run([sys.executable, "-m", "compileall", "-q", str(TOP / "compiler" / "foldwright")])
    chosen = {int(word) for word in words if word.isdecimal()}
    with tempfile.TemporaryDirectory(prefix="foldwright-bench-") as name:
        rows = works(Path(name), effort)
        asked = [work for numbers, work in rows if chosen & set(numbers) or not (chosen or ASKED_FOR & set(numbers))]
        well = [all(work()) for work in asked]
    return 0 if all(well) else 1


def works(folder: Path, effort: Effort) -> list[tuple[Sequence[int], Callable[[], list[bool]]]]:
    """What is measured, by the numbers above."""
    alone: dict[int, Callable[[], bool]] = {
        1: lambda: check_cold(folder, effort),
        2: lambda: page_warm(effort),
        3: lambda: many_pages(folder, effort),
        4: lambda: one_card(effort),
        5: lambda: all_cards_cold(folder, effort),
        6: lambda: writing(effort),
        7: lambda: folding_forty(effort),
        8: lambda: all_pictures(effort),
        9: lambda: designing(folder, effort),
        13: lambda: many_kinds(effort),
        14: lambda: spool_jobs(effort),
        15: lambda: ten_thousand(effort),
        **{16 + place: partial(whole_event, folder, effort, count) for place, count in enumerate(EVENT_S_AT_MOST)},
        19: growing,
        20: lambda: build_cold(folder, effort),
        21: lambda: desk_marks.typing(folder, effort),
        22: lambda: desk_marks.typing_on(folder, effort),
        23: lambda: desk_marks.painted(folder, effort),
        24: lambda: desk_marks.opening(folder, effort),
        25: lambda: desk_marks.served(folder, effort),
        26: lambda: recovering(effort),
        27: lambda: libraries.full_build(folder, effort),
        29: lambda: libraries.two_processes(folder, effort),
        32: lambda: many_hands(effort),
    }
    several: dict[int, Callable[[], list[bool]]] = {
        28: lambda: libraries.pages(folder, effort),
        30: lambda: libraries.growth(folder, effort.library // 4, effort.library),
        31: lambda: libraries.again(folder, effort, "tutorial,pieces,sheet"),
        33: lambda: libraries.again(folder, effort, ",".join(name for name, one in OUTPUTS.items() if one.usual)),
        34: lambda: libraries.growth(folder, effort.library, effort.library * 10),
    }
    one_by_one = [((number,), lambda work=work: [work()]) for number, work in alone.items()]
    by_two_and_three = [((number,), work) for number, work in several.items()]
    kits_cut = range(10, 13), lambda: cutting_kits(effort)
    return sorted([*one_by_one, *by_two_and_three, kits_cut], key=lambda one: one[0][0])


def check_cold(folder: Path, effort: Effort) -> bool:
    made_up.write_recipes(folder / "one", 1)
    check = [sys.executable, "-m", "foldwright", "check", str(folder / "one" / "practice-001")]
    bare = [sys.executable, "-c", "import pint, yaml, markdown_it"]
    ours, theirs = alternately(lambda: run(check), lambda: run(bare), effort.starts)
    ratio = ours / theirs
    well = ratio <= CHECK_AT_MOST
    report("check, cold", f"{ours * 1000:.0f} ms", f"bare import {theirs * 1000:.0f} ms", ratio, CHECK_AT_MOST, well)
    return well


def build_cold(folder: Path, effort: Effort) -> bool:
    out = ["--out", str(folder / "built"), "--only", "tutorial,template,pieces"]
    build = [sys.executable, "-m", "foldwright", "build", str(cards.RECIPE), *out]
    bare = [sys.executable, "-c", "import yaml, markdown_it, shapely, jinja2, babel, weasyprint"]
    # Once for the fonts that are kept.
    run(build)
    ours, theirs = alternately(lambda: run(build), lambda: run(bare), effort.starts)
    beside = f"bare import {theirs:.2f} s: ratio {ours / theirs:.2f}"
    well = ours <= BUILD_S_AT_MOST
    print(f"{'build, cold':<22} {ours:.2f} s, {beside} (mark {BUILD_S_AT_MOST} s)  {verdict(well)}", flush=True)
    return well


def page_warm(effort: Effort) -> bool:
    """The mark is for the page without the pictures of its steps, which have a mark of their own."""
    for number in range(5):
        page_of(made_up.recipe(number))
    whole, plain = [], []
    for number in range(5, 5 + effort.pages):
        text = made_up.recipe(number)
        with nothing_remembered():
            whole.append(seconds_for(text))
            with mock.patch.object(story, "step_pictures", return_value=()):
                plain.append(seconds_for(text))
    return in_milliseconds("text to page, warm", median(plain), with_pictures(median(whole)), PAGE_MS_AT_MOST)


def seconds_for(text: str) -> float:
    started = time.perf_counter()
    page_of(text)
    return time.perf_counter() - started


def with_pictures(seconds: float) -> str:
    return f"with the pictures of its steps {seconds * 1000:.1f} ms"


def page_of(text: str) -> bytes:
    """From a recipe's text to its page, in this process; everything but the disk."""
    from foldwright.measure.length import System
    from foldwright.outputs.compiling import compile_recipe
    from foldwright.outputs.model import BuildWish
    from foldwright.outputs.texts import texts_of
    from foldwright.surroundings import Folder

    wish = BuildWish(("tutorial",), tuple(System))
    made = compile_recipe(texts_of("practice", text), wish, Folder(Path(__file__).parent))
    assert not made.faulty
    return made.files["tutorial.html"]


def many_pages(folder: Path, effort: Effort) -> bool:
    recipes, pages = folder / "recipes", folder / "pages"
    made_up.write_recipes(recipes, effort.many)
    made_up.write_pages(pages, effort.many)
    folders = (folder / f"out-{number}" for number in count())
    build = [sys.executable, "-m", "foldwright", "build", str(recipes), "--only", "tutorial"]
    mkdocs = [sys.executable, "-m", "mkdocs", "build", "--quiet", "--config-file", str(pages / "mkdocs.yml")]

    def ours() -> None:
        # A new folder each time, for both: making files where others have just been deleted is slower on some disks.
        out = next(folders)
        run([*build, "--out", str(out)])
        assert len(list(out.glob("*/tutorial.html"))) == effort.many

    def theirs() -> None:
        site = next(folders)
        run([*mkdocs, "--site-dir", str(site)])
        assert len(list(site.glob("practice-*/index.html"))) == effort.many

    our_time, their_time = alternately(ours, theirs, effort.rounds)
    ratio = their_time / our_time
    well = ratio >= PAGES_RATIO_AT_LEAST
    report(
        f"{effort.many} pages",
        f"{effort.many / our_time:.0f} pages/s",
        f"MkDocs {effort.many / their_time:.0f} pages/s",
        ratio,
        PAGES_RATIO_AT_LEAST,
        well,
    )
    return well


def one_card(effort: Effort) -> bool:
    card, galley = cards.card_and_galley(effort.cards)
    ratio = card / galley
    well = ratio <= CARD_AT_MOST
    ours, theirs = f"{card * 1000:.0f} ms", f"one plain layout {galley * 1000:.0f} ms"
    report("a card, warm", ours, theirs, ratio, CARD_AT_MOST, well)
    return well


def all_cards_cold(folder: Path, effort: Effort) -> bool:
    build = [sys.executable, "-m", "foldwright", "build", str(cards.RECIPE), "--only", "card", "--paper", "letter,A4"]
    times = []
    for number in range(effort.cards):
        out = folder / f"cards-{number}"
        started = time.perf_counter()
        run([*build, "--out", str(out)])
        times.append(time.perf_counter() - started)
        assert len(list(out.glob("*/card-*.pdf"))) == 4
    seconds = median(times)
    well = seconds <= ALL_CARDS_S_AT_MOST
    print(f"{'four cards, cold':<22} {seconds:.2f} s (mark {ALL_CARDS_S_AT_MOST} s)  {verdict(well)}", flush=True)
    return well


def writing(effort: Effort) -> bool:
    """No mark of ours: it shows that the quicker way is the one in use."""
    ours, theirs = cards.with_and_without_harfbuzz(effort.cards)
    well = ours < theirs
    report("writing a PDF", f"{ours * 1000:.0f} ms", f"by fontTools {theirs * 1000:.0f} ms", ours / theirs, 1.0, well)
    return well


def folding_forty(effort: Effort) -> bool:
    ours, bare = folding.net_and_subdivision(effort.pages)
    return in_milliseconds(
        "folding 40 panels", ours, f"cutting the blank up {ratio_of(ours, bare)}", FOLDING_MS_AT_MOST
    )


def all_pictures(effort: Effort) -> bool:
    ours, kept = folding.pictures_new_and_kept(effort.pages)
    return in_milliseconds("all pictures, new", ours, f"unchanged {ratio_of(ours, kept)}", PICTURES_MS_AT_MOST)


def designing(folder: Path, effort: Effort) -> bool:
    """Proposals of every form for three small books, as somebody types it: a process of its own."""
    call = [sys.executable, "-m", "foldwright", "design", "3 books of 2 1/2 x 3 1/2 x 1/16 in"]
    times = []
    for _ in range(effort.cards):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        run([*call, "--into", str(folder)])
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        times.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    seconds = median(times)
    well = seconds <= DESIGN_S_AT_MOST
    print(f"{'design, all forms':<22} {seconds:.2f} s (mark {DESIGN_S_AT_MOST} s)  {verdict(well)}", flush=True)
    return well


def recovering(effort: Effort) -> bool:
    recoveries.ordinary(1)
    ours, most = median(recoveries.ordinary(effort.cards)), recoveries.largest()
    small = in_milliseconds("recover a sample", ours, "median", RECOVER_MS_AT_MOST)
    return in_milliseconds("the largest sample", most, "once", RECOVER_MOST_MS_AT_MOST) and small


def cutting_kits(effort: Effort) -> list[bool]:
    """Few kinds, then many, then both beside other ways of cutting."""
    few = [kits.cut(case) for case in kits.cases(effort.kits, 1, 4)]
    many = [kits.cut(case) for case in kits.cases(max(1, effort.kits // 4), 5, 8)]
    good = sum(one.seconds <= 1 and one.ours - one.bound <= 1 for one in few) / len(few) * 100
    fair = sum(one.seconds <= 5 and one.ours - one.bound <= max(1, one.bound / 50) for one in many) / len(many) * 100
    worse = sum(one.ours > one.others for one in (*few, *many))
    proven = f"{sum(one.proven for one in few)} of {len(few)} proven"
    told(
        f"{good:.1f} % in 1 s, {proven}",
        "kits, 1 to 4 kinds",
        f"{KITS_PER_CENT_AT_LEAST} %",
        good >= KITS_PER_CENT_AT_LEAST,
    )
    proven = f"{sum(one.proven for one in many)} of {len(many)} proven"
    told(
        f"{fair:.1f} % in 5 s, {proven}",
        "kits, 5 to 8 kinds",
        f"{KITS_PER_CENT_AT_LEAST} %",
        fair >= KITS_PER_CENT_AT_LEAST,
    )
    told(f"{worse} of {len(few) + len(many)}", "worse than others", "0", worse == 0)
    return [good >= KITS_PER_CENT_AT_LEAST, fair >= KITS_PER_CENT_AT_LEAST, worse == 0]


def many_kinds(effort: Effort) -> bool:
    """As many kinds as ten recipes have."""
    found = [kits.cut(case) for case in kits.cases(max(1, effort.kits // 50), 20, 40, kits=10)]
    gap, slowest = max(one.ours - one.bound for one in found), max(one.seconds for one in found)
    fewer = sum(one.others for one in found) / sum(one.ours for one in found)
    well = gap <= 1 and slowest <= MANY_KINDS_S_AT_MOST
    told(f"{gap} above the bound, {slowest:.1f} s, others {fewer:.2f} x", "20 to 40 kinds", "1, 10 s", well)
    return well


def spool_jobs(effort: Effort) -> bool:
    """Lengths off spools: how many are proven, and what the longest first would cost beside ours."""
    found = [kits.spool_job(number) for number in range(max(2, effort.kits // 9))]
    proven = sum(one.proven for one in found)
    beside = sum(one.plainly for one in found) / sum(one.paid for one in found)
    well = proven == len(found)
    told(f"{proven} of {len(found)} proven, longest first {beside:.3f} x", "lengths off spools", "all", well)
    return well


def ten_thousand(effort: Effort) -> bool:
    """Many of each piece; the memory is that of this whole process, so an upper bound."""
    found = [kits.cut(case, beside=False) for case in kits.cases(max(1, effort.kits // 20), 3, 8, kits=10_000)]
    gap = max((one.ours - one.bound) / one.bound for one in found) * 100
    slowest = max(one.seconds for one in found)
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    well = gap <= GAP_PER_CENT_AT_MOST and slowest <= 5 and memory <= MEGABYTES_AT_MOST
    told(f"{gap:.2f} %, {slowest:.1f} s, {memory:.0f} MB", "10,000 kits", "1 %, 5 s, 300 MB", well)
    return well


def whole_event(folder: Path, effort: Effort, kits_made: int) -> bool:
    call = [sys.executable, "-m", "foldwright", "kit", str(TOP / "recipes" / "birdhouse"), "--for", str(kits_made)]
    bare = [sys.executable, "-c", "import yaml, markdown_it, shapely, jinja2, babel, weasyprint, packingsolver"]
    seconds, beside = alternately(
        lambda: run([*call, "--helpers", "4", "--out", str(folder / "event")]),
        lambda: run(bare),
        max(1, effort.cards // 5),
    )
    most = EVENT_S_AT_MOST[kits_made]
    found = f"{seconds:.2f} s, bare import {beside:.2f} s: ratio {seconds / beside:.2f}"
    told(found, f"event for {kits_made}, cold", f"{most} s", seconds <= most)
    return seconds <= most


def many_hands(effort: Effort) -> bool:
    """In a quick run tasks take a twentieth of their time, and the scheduler has twenty times as much to do."""
    from bench import many_workers

    shorter = 1.0 if effort.sent >= FULL.sent else 0.05
    share, mark = many_workers.share_of_time_at_work(effort.sent, shorter), many_workers.BUSY_AT_LEAST
    well = share >= mark
    told(f"{share:.3f} of their time, {effort.sent} recipes", "64 workers", f"{mark}", well)
    return well


def growing() -> bool:
    """In proportion it would be 8, and 64 if it grew with the square."""
    from foldwright.measure.prose import find_measures
    from foldwright.recipe.prose.inline import WordNotes
    from foldwright.recipe.prose.markdown import read_words
    from foldwright.vocabulary import length_acts

    acts = length_acts()
    measures = long_texts.growth_in_time(lambda text: find_measures(text, acts), long_texts.MEASURES)
    marks = long_texts.growth_in_time(lambda text: read_words(text, 0, WordNotes("")), long_texts.UNENDED)
    most = max(measures, marks)
    told(f"{most:.1f} x", "eight times the text", f"{GROWTH_AT_MOST:.0f} x", most <= GROWTH_AT_MOST)
    return most <= GROWTH_AT_MOST


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
