"""Planning an event: for how many, when, with whose help and what is there already."""

from __future__ import annotations

from starlette.routing import BaseRoute

from foldwright.desk.desk import Desk


def routes(_desk: Desk) -> list[BaseRoute]:
    """The addresses of planning."""
    return []
