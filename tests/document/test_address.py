"""Addresses as people read them."""

from __future__ import annotations

from foldwright.document.address import as_read


def test_people_read_it_without_its_scheme() -> None:
    assert as_read("https://harbourstreet.example/birdhouse/") == "harbourstreet.example/birdhouse"
