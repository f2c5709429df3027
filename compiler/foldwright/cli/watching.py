"""`foldwright build --watch`: stays, and builds again what changed whenever something is saved."""

from __future__ import annotations

import os
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from foldwright.cli.calls import BuildCall
from foldwright.cli.telling import WRONG_CALL, Teller
from foldwright.outputs.texts import RECIPE

_REST_MS, _MOST_MS = 100, 2000
"""A burst of saves is over when nothing was saved for so long, or when it lasts longer than any (reasoned guesses:
editors write a file in a few steps within some milliseconds)."""
_LOOKS_UP_MS = 1000
"""How long it waits before it looks once more, when it has begun to listen."""

type BuildOnce = Callable[[BuildCall, bool], int]
"""Builds what has changed; whether somebody is watching."""


def keep_up_to_date(call: BuildCall, build_once: BuildOnce) -> int:
    """Build, then again after every change until somebody presses Ctrl-C: that is how it is meant to end, and well.

    Interrupted while it builds for the first time, it ends as any build does. Whatever it was at later on, each folder
    is whole, and the next build takes it from there.
    """
    status = build_once(call, False)
    if status == WRONG_CALL:
        return status
    from watchfiles import watch

    Teller().words("build.watching", folders=", ".join(call.paths))
    changes = watch(
        *_places(call),
        watch_filter=_filter(Path(call.out)),
        debounce=_MOST_MS,
        step=_REST_MS,
        rust_timeout=_LOOKS_UP_MS,
        yield_on_timeout=True,
        ignore_permission_denied=True,
    )
    # It listens from the first round on: what was saved before that is found by looking once more.
    with suppress(KeyboardInterrupt):
        for number, found in enumerate(changes):
            if found or number == 0:
                build_once(call, True)
    return 0


def _places(call: BuildCall) -> list[str]:
    """The folders to watch: those of the recipes, those their studio lies in, and a look of one's own."""
    folders = [path if os.path.isdir(path) else os.path.dirname(path) or "." for path in call.paths]
    beside = [os.path.dirname(os.path.abspath(one)) for one in folders if os.path.lexists(os.path.join(one, RECIPE))]
    looks = [call.theme] if os.path.isdir(call.theme) else []
    return list(dict.fromkeys(map(os.path.abspath, (*folders, *beside, *looks))))


def _filter(out: Path) -> Callable[[object, str], bool]:
    """Whether a file that changed may matter: not what we write ourselves, nor what editors and others hide."""
    from watchfiles import DefaultFilter

    ours = f"{os.path.realpath(out)}{os.sep}"
    usual = DefaultFilter()

    def matters(change: object, path: str) -> bool:
        hidden = os.path.basename(path).startswith(".")
        return not hidden and usual(change, path) and not f"{os.path.realpath(path)}{os.sep}".startswith(ours)  # type: ignore[arg-type]

    return matters
