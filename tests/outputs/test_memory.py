"""What is remembered: found again by equality, as much of it as is said and no more."""

from __future__ import annotations

from collections.abc import Callable

from foldwright.memory import Memory


def counted(made: list[str], what: str) -> Callable[[], str]:
    def make() -> str:
        made.append(what)
        return what

    return make


def test_what_is_made_of_equal_things_is_made_once() -> None:
    memory, made = Memory[str](), list[str]()
    for sizes in ({"across": 3}, {"across": 3}, {"across": 4}, {"across": 3}):
        assert memory.of("base", sizes, counted(made, str(sizes))) == str(sizes)
    assert made == ["{'across': 3}", "{'across': 4}"]


def test_the_last_two_of_a_name_and_so_many_names_are_remembered() -> None:
    memory, made = Memory[str](2), list[str]()
    for name, sizes in [("base", 1), ("base", 2), ("base", 3), ("base", 2), ("base", 1)]:
        memory.of(name, sizes, counted(made, f"{name} {sizes}"))
    assert made == ["base 1", "base 2", "base 3", "base 1"]
    for name in ("lid", "base", "mat", "base", "lid"):
        memory.of(name, 1, counted(made, f"{name} 1"))
    assert made[4:] == ["lid 1", "mat 1", "lid 1"]


def test_whoever_makes_several_at_once_may_ask_which_are_known() -> None:
    memory = Memory[str]()
    assert memory.known("base", 1) is None
    memory.of("base", 1, lambda: "one")
    assert memory.known("base", 1) == "one"
    assert memory.known("base", 2) is None
    assert memory.known("lid", 1) is None
