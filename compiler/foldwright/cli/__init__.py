"""The command line: thin. It finds the recipes, calls the pipeline, tells what was found, writes what was made."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence

INTERRUPTED = 130
NOBODY_READS = 141
"""What shells report of a program that ended by an interrupt, or as nobody read any more what it wrote: 128 and the
number of the signal (POSIX, 2.8.2; SIGINT is 2, SIGPIPE 13)."""


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
        # What is told by `Teller` goes on unheard, so that the status is the true one (`build recipes | head`). Here
        # ends what only shows something, such as a page of the guide: nobody knows whether it was read.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return NOBODY_READS
