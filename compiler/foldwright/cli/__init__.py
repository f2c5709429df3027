"""The command line: thin. It finds the recipes, calls the pipeline, tells what was found, writes what was made."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence

INTERRUPTED = 130
"""What shells report of a program that ended by an interrupt: 128 and the number of the signal."""


def main(words: Sequence[str] | None = None) -> int:
    """Run a command; the exit status: 0 well, 1 the recipe is wrong, 2 the call is wrong."""
    # Until the command knows how much there is to do, looking for garbage only slows the start.
    gc.disable()
    from foldwright.cli.app import run

    try:
        return run(sys.argv[1:] if words is None else words)
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # Whoever read what we say has had enough (`foldwright check recipes | head`): that is no trouble.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
