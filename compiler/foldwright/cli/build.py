"""`foldwright build`: recipes to pages, many at once, each folder written whole; a folder of recipes to a library."""

from __future__ import annotations

from foldwright.cli.calls import BuildCall
from foldwright.cli.compiling import compilers, outcomes_of
from foldwright.cli.outcomes import Became, LibraryOutcome
from foldwright.cli.planning import planned
from foldwright.cli.telling import Teller
from foldwright.cli.telling_builds import Summary, tell_outcome, tell_summary
from foldwright.cli.together import bind, booklets_of, library_round
from foldwright.finding import Strength, Wrong


def build(call: BuildCall) -> int:
    """Build some recipes, each into a folder of its own; the exit status."""
    if call.watch:
        from foldwright.cli.watching import keep_up_to_date

        return keep_up_to_date(call, build_once)
    return build_once(call)


def build_once(call: BuildCall, watching: bool = False) -> int:
    """Bring the output up to date with the recipes as they stand; the exit status.

    Who is `watching` is told of nothing but what changed.
    """
    complaints = Teller("stderr")
    plan = planned(call)
    if isinstance(plan, tuple):
        return complaints.refuse(plan)
    booklets = booklets_of(call, plan.sources)
    if booklets and booklets.wrong:
        return complaints.refuse(())
    cluster = compilers(plan, complaints)
    if isinstance(cluster, Wrong):
        return complaints.refuse((cluster,))
    teller, alone = Teller(), len(plan.sources) == 1
    outcomes = []
    for outcome in outcomes_of(plan, watching, cluster):
        if not (watching and outcome.became is Became.UNCHANGED):
            tell_outcome(outcome, plan.out, teller, complaints, alone)
        outcomes.append(outcome)
    removed, laid = library_round(plan, outcomes, call.theme) if plan.library else ((), LibraryOutcome())
    teller.told(laid.news)
    for trouble in laid.troubles:
        complaints.wrong(trouble)
    bound = not booklets or bind(booklets, outcomes, plan.out, watching)
    tell_summary(Summary(plan.out, outcomes, removed, laid.told), watching)
    wrong = laid.troubles or not bound or any(one.strength > Strength.THOUGHT for one in laid.told)
    return 1 if wrong or any(outcome.wrong for outcome in outcomes) else 0
