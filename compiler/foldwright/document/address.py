"""The address of a page as people read it."""

from __future__ import annotations


def as_read(address: str) -> str:
    """As it is read and typed: `harbourstreet.example/birdhouse`."""
    return address.removeprefix("https://").removeprefix("http://").rstrip("/")
