"""Run a command and tell what it took: `python -m bench.measured_run COMMAND...` prints seconds, seconds of processors,
and the megabytes of the largest of its processes. A process of its own, since such figures add up over all children."""

from __future__ import annotations

import resource
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Taken:
    """`megabytes` is the most that the largest of all its processes held at once."""

    seconds: float
    processor: float
    megabytes: float


def taken_by(command: Sequence[str]) -> Taken:
    """What a command took, its own children counted in."""
    tests = Path(__file__).resolve().parents[1]
    words = [sys.executable, "-m", "bench.measured_run", *command]
    done = subprocess.run(words, cwd=tests, capture_output=True, text=True, check=False)
    if done.returncode:
        raise SystemExit(f"{' '.join(command)} ended with {done.returncode}:\n{done.stdout}{done.stderr}")
    return Taken(*map(float, done.stdout.splitlines()[-1].split()))


def main(command: Sequence[str]) -> int:
    started = time.perf_counter()
    done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False)
    seconds = time.perf_counter() - started
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode:
        print(done.stdout)
    print(seconds, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)
    return done.returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
