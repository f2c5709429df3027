"""The solver of linear and whole-number programs, saying nothing, in one thread, the same each time."""

from __future__ import annotations

from typing import Any


def quiet_highs() -> Any:
    """A solver of its own. Imports highspy, which is slow to load.

    HiGHS greets on standard output as soon as its callbacks are set up, before anybody can tell it not to; nobody here
    uses them. Its threads are those of the process, so that all who use it must ask for the same number.
    """
    import highspy

    class Quiet(highspy.Highs):
        def enableCallbacks(self) -> None:  # noqa: N802
            pass

    solver: Any = Quiet()  # type: ignore[no-untyped-call]
    for option, value in (("output_flag", False), ("threads", 1), ("random_seed", 0)):
        solver.setOptionValue(option, value)
    return solver
