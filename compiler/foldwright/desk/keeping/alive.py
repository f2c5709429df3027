"""Whether the process that left something behind still runs. Numbers are given out again, so its start is told too."""

from __future__ import annotations

import os
import re
from pathlib import Path

from msgspec import Struct

_START = 19
"""The 22nd field of `stat` (proc(5)), counted from the one behind the name, which may hold anything."""


class Process(Struct, frozen=True):
    """A process by its number and when it started, in the system's own words; empty where the system does not tell."""

    number: int
    start: str = ""

    @property
    def runs(self) -> bool:
        """Whether this very process runs, as far as we may know."""
        try:
            os.kill(self.number, 0)
        except (ProcessLookupError, OverflowError):
            return False
        except OSError:
            pass
        return self.number > 0 and self.start in ("", _start_of(self.number))


def this_process() -> Process:
    """The process we are."""
    return Process(os.getpid(), _start_of(os.getpid()))


def _start_of(number: int) -> str:
    try:
        told = Path(f"/proc/{number}/stat").read_text(encoding="ascii", errors="replace")
    except OSError:
        return ""
    return re.sub(r"\D", "", told.rpartition(")")[2].split()[_START])
