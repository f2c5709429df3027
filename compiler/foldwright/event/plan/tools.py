"""What has to be in the room: tables and who sits there, tools, and what sticks or colours and is shared, and how many.

What the tables share lies on each table that uses it; what a step shares (`share: 2 heat guns`) stands in the room for
all of them. The rules of thumb are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import reduce
from itertools import count as counting
from itertools import product

from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.facts.guests import Guest
from foldwright.event.facts.stock import ShelfLine
from foldwright.event.plan.beforehand import beforehand_of, needs_left
from foldwright.event.plan.jobs import supplies_in_bag
from foldwright.event.plan.model import Making, shares
from foldwright.event.plan.shopping import ShoppingLine, Why
from foldwright.event.plan.supplies import Shared, SupplyNeed, key_of
from foldwright.measure.amounts import Dimension
from foldwright.recipe.model import Recipe, Step, Tool, When
from foldwright.recipe.needs import needs_of, supply_kind
from foldwright.recipe.words import spoken_text
from foldwright.vocabulary import act_of, tool_of
from foldwright.vocabulary.names import plain_words
from foldwright.vocabulary.supplies import OFF_A_ROLL


class ClassTable(Struct, frozen=True):
    """One table: what it is called, which recipe is made there (by its number from nought), and by how many people.

    `guests` are the numbers, from nought, of those whose names are known. A table at which a list of guests has several
    recipes made stands here once for each of them, by the same name.
    """

    name: str
    recipe: int
    people: int
    guests: tuple[int, ...] = ()


def tables_of(kits: Sequence[int], per_table: int, guests: Sequence[Guest] = ()) -> tuple[ClassTable, ...]:
    """Tables that guests are said to sit at stay as they are; all others sit where their project has free places, then
    at as few tables more as seat them, projects apart, people spread evenly over those of a project, numbered from 1.
    """
    named = _as_listed(guests)
    taken = _numbers_taken(guests)
    names = (number for number in map(str, counting(1)) if number not in taken)
    return tuple(
        table
        for recipe, people in enumerate(kits)
        for table in _of_recipe(recipe, people, per_table, guests, named, names)
    )


type _Listed = dict[str, tuple[str, dict[int | None, list[int]]]]


def _as_listed(guests: Sequence[Guest]) -> _Listed:
    """The tables of the list by their names in small letters: as first written, and who makes what there."""
    found: _Listed = {}
    for number, guest in enumerate(guests):
        if guest.table:
            _, seated = found.setdefault(guest.table.casefold(), (guest.table, {}))
            seated.setdefault(guest.recipe, []).append(number)
    return found


def _numbers_taken(guests: Sequence[Guest]) -> frozenset[str]:
    """`4`, and that of `Table 4` or `Tisch 4`, which is the same table to whoever looks for it."""
    return frozenset(word for guest in guests for word in guest.table.split() if word.isdecimal())


def _of_recipe(
    recipe: int, people: int, per_table: int, guests: Sequence[Guest], named: _Listed, names: Iterator[str]
) -> Iterator[ClassTable]:
    waiting = [number for number, guest in enumerate(guests) if guest.recipe == recipe and not guest.table]
    listed = [(name, seated) for name, seated in named.values() if recipe in seated]
    # People without a name sit down after those with one.
    others = max(0, people - len(waiting) - sum(len(seated[recipe]) for _, seated in listed))
    for name, seated in listed:
        mixed = len(seated.keys() - {None}) > 1
        free = 0 if mixed else max(0, per_table - sum(map(len, seated.values())))
        joining, waiting = waiting[:free], waiting[free:]
        nameless = min(free - len(joining), others)
        others -= nameless
        here = (*seated[recipe], *joining)
        yield ClassTable(name, recipe, len(here) + nameless, here)
    rest = len(waiting) + others
    for some in shares(rest, -(-rest // per_table)):
        here, waiting = tuple(waiting[:some]), waiting[some:]
        yield ClassTable(next(names), recipe, some, here)


PEOPLE_A_TOOL = 2
"""One pair of scissors, one folder, one glue stick for two people."""
ONE_A_TABLE = frozenset(
    {"paper trimmer", "rotary cutter", "circle cutter", "hole punch", "eyelet setter", "die", "embossing folder"}
    | {"hot glue gun", "heat tool", "iron", "soldering iron", "stapler", "stamp", "stencil", "brayer", "tape dispenser"}
    | {"awl", "compass", "set square", "protractor", "scoring board", "scoring blade", "weight"}
)
"""Large, hot or rarely used: one a table."""
ONE_IN_THE_ROOM = frozenset(
    {"die-cutting machine", "cutting plotter", "laser cutter", "laminator", "printer", "airbrush"}
)
"""Machines, where no step says how many are shared."""
_FOR_TWO = frozenset({"glue stick"})
"""Of what sticks or colours, what is used as a tool is: all else is one a table."""


class Needed(Struct, frozen=True):
    """One thing that is shared: in which recipes (by number), how many on each table (in the order of the tables,
    nought where it is not used), how many in the room for all tables, and how many before class.

    A supply has the `colour` it is in, if one is said; `roll` says that it comes on rolls. `have` is how many are
    there, of what sticks or colours those that are bought for the kits too; `plenty` is enough, however many it takes.
    """

    name: str
    recipes: tuple[int, ...]
    at_table: tuple[int, ...]
    in_room: int = 0
    before: int = 0
    colour: str = ""
    roll: bool = False
    optional: bool = False
    have: int = 0
    plenty: bool = False
    own_names: Mapping[int, str] = {}
    """What each recipe itself calls a supply: in the shop two of one name go by their recipes too."""

    @property
    def in_class(self) -> int:
        return sum(self.at_table) + self.in_room

    @property
    def count(self) -> int:
        """How many there must be in all: what lay ready before class lies on a table in class."""
        return max(self.in_class, self.before)

    @property
    def lacking(self) -> int:
        return 0 if self.plenty else max(0, self.count - self.have)


def tools_needed(makings: Sequence[Making], tables: Sequence[ClassTable], helpers: int = 1) -> tuple[Needed, ...]:
    """Every tool of the recipes, each once, in the recipes' order: tools of one name are one tool.

    On the tables lies what the steps done there need; before class every helper has one of each.
    """
    found = []
    for number, making in enumerate(makings):
        recipe = making.recipe
        here = used_in_class(making)
        for tool in recipe.tools:
            one = Needed(tool.name.value, (number,), (0,) * len(tables), optional=tool.optional)
            if tool.name.value in here:
                one = _in_class(one, tool, recipe, tables)
            if tool.name.value in _used_before(making) or tool.name.value not in here:
                one = _before(one, tool, recipe, helpers)
            found.append(one)
        found += _unlisted(number, recipe, len(tables))
    return _united(found)


def _unlisted(number: int, recipe: Recipe, tables: int) -> Iterator[Needed]:
    """What steps share that no list names."""
    listed = [tool.name.value for tool in recipe.tools]
    supplies = [supply.name.value for supply in recipe.supplies]
    for when in When:
        for count, name in _said_shared(recipe, when):
            if not any(is_meant(name, tool) for tool in listed) and not any(_is_supply(name, one) for one in supplies):
                here = when is When.IN_CLASS
                yield Needed(name, (number,), (0,) * tables, count if here else 0, 0 if here else count)


def _said_shared(recipe: Recipe, when: When) -> list[tuple[int, str]]:
    return [step.share.value for step in recipe.steps if step.share and step.when is when]


def _is_supply(name: str, supply: str) -> bool:
    return set(plain_words(name)) <= set(plain_words(supply))


def consumables_needed(
    makings: Sequence[Making], tables: Sequence[ClassTable], shared: Sequence[Shared]
) -> tuple[Needed, ...]:
    """What sticks or colours and lies on the tables, as it comes: in no bag, and nothing is cut from it."""
    found = []
    for one in shared:
        needs = [need for need in one.needs if _lies_on_table(makings[need.recipe], need)]
        kind = supply_kind(one.supply)
        if not needs or kind is None or kind.food or kind.name == "water":
            continue
        recipes = tuple(sorted({need.recipe for need in needs}))
        people = PEOPLE_A_TOOL if kind.name in _FOR_TWO else 0
        shared_by = {need.recipe: _shared_supply(makings[need.recipe], need) for need in needs}
        at_table = tuple(
            _on(table, people) if table.recipe in recipes and not shared_by[table.recipe] else 0 for table in tables
        )
        own = {need.recipe: need.supply.name.value for need in needs}
        roll, in_room = kind.name in OFF_A_ROLL, max(shared_by.values())
        name, colour = one.supply.name.value, one.colour
        found.append(Needed(name, recipes, at_table, in_room, colour=colour, roll=roll, own_names=own))
    return tuple(found)


def _shared_supply(making: Making, need: SupplyNeed) -> int:
    """How many of a supply all the tables share, where a step says so."""
    said = _said_shared(making.recipe, When.IN_CLASS)
    return max((count for count, name in said if _is_supply(name, need.supply.name.value)), default=0)


def _lies_on_table(making: Making, need: SupplyNeed) -> bool:
    recipe, name = making.recipe, need.supply.name.value
    elsewhere = {*supplies_in_bag(recipe), *(piece.supply.value for piece in recipe.pieces if piece.supply)}
    return name in used_in_class(making) and name not in elsewhere


def with_owned(needed: Sequence[Needed], shelf: Mapping[str, ShelfLine]) -> tuple[Needed, ...]:
    """The tools, with how many of each the studio has; what may be either of two is shared out, its own name first."""
    names: dict[str, set[str]] = {}
    for name, line in shelf.items():
        names.setdefault(line.name.value, set()).add(name)
    lines = {line.name.value: line for line in shelf.values()}
    left = {own: line.counted or 0 for own, line in lines.items()}
    have, plenty = [0] * len(needed), [False] * len(needed)
    by_name = sorted(range(len(needed)), key=lambda number: needed[number].name.casefold())
    for own_name in (True, False):
        for number, own in product(by_name, sorted(left)):
            tool = needed[number]
            if (tool.name.casefold() in names[own]) is own_name and any(is_meant(one, tool.name) for one in names[own]):
                plenty[number] = plenty[number] or lines[own].plenty
                taken = min(left[own], max(0, tool.count - have[number]))
                left[own] -= taken
                have[number] += taken
    return tuple(replace(one, have=have[number], plenty=plenty[number]) for number, one in enumerate(needed))


def with_bought(needed: Sequence[Needed], shopping: Sequence[ShoppingLine]) -> tuple[Needed, ...]:
    """What sticks or colours, with how many are on the shelf or bought for the kits: a roll, a bottle, a pad is one."""
    lines = {(line.supply.name.value, line.colour): line for line in shopping}
    return tuple(
        replace(one, have=_things(line), plenty=line.why is Why.PLENTY)
        for one in needed
        for line in (lines[one.name, one.colour],)
    )


def _things(line: ShoppingLine) -> int:
    owned = line.owned
    bought = sum(
        one.count * (int(one.pack.amount.number) if one.pack.amount.dimension is Dimension.COUNT else 1)
        for one in line.bought
    )
    if owned is None:
        return bought
    spools = sum(said.value.count for said in owned.lengths)
    packs = int(owned.packs.value) if owned.packs else 0
    bottles = int(owned.amount is not None and owned.counted is None)
    return bought + spools + packs + (owned.counted or bottles)


def used_in_class(making: Making) -> frozenset[str]:
    """Names of the tools and supplies that are used at the tables; rather one more than one less.

    Left off is only what a step before class, or the cutting plan, is known to need and no step in class can.
    """
    recipe = making.recipe
    here, before = _steps(making)
    listed = {supply.name.value for supply in recipe.supplies} | {tool.name.value for tool in recipe.tools}
    if not here:
        return frozenset()
    if not all(step.doings and all(act_of(doing.act) for doing in step.doings) for step in here):
        return frozenset(listed)
    done = beforehand_of(recipe, making.understood.flat)
    needed = {name for step in here for name in needs_left(step, spoken_text(step.words), recipe, done)}
    said = {word for step in here for word in plain_words(f"{step.heading.value} {spoken_text(step.words)}")}
    elsewhere = {name for step in before for name in _needs(step, recipe)}
    # The cutting plan is worked with the trimmer, whether a step speaks of it or not.
    elsewhere |= {tool.name.value for tool in recipe.tools if done.pieces and _is_trimmer(tool)}
    elsewhere -= needed
    cut_from = {piece.supply.value for piece in recipe.pieces if piece.supply}
    # `The tape` may well be the strong tape; but `the card` is a piece by now.
    return frozenset(
        name
        for name in listed
        if name not in elsewhere or (name not in cut_from and plain_words(name)[-1:] and plain_words(name)[-1] in said)
    )


def _is_trimmer(tool: Tool) -> bool:
    kind = tool_of(tool.name.value)
    return kind is not None and kind.name == "paper trimmer"


def _steps(making: Making) -> tuple[list[Step], list[Step]]:
    """The steps done at the tables, and those done before class or by whoever carries out the cutting plan."""
    recipe = making.recipe
    cut = beforehand_of(recipe, making.understood.flat).steps
    here = [step for step in recipe.steps if step.when is When.IN_CLASS and step.number not in cut]
    return here, [step for step in recipe.steps if step not in here]


def _used_before(making: Making) -> frozenset[str]:
    recipe = making.recipe
    return frozenset(name for step in _steps(making)[1] for name in _needs(step, recipe))


def _needs(step: Step, recipe: Recipe) -> tuple[str, ...]:
    return needs_of(step, spoken_text(step.words), recipe)


# --- how many ---------------------------------------------------------------------------------------------------------


def _in_class(one: Needed, tool: Tool, recipe: Recipe, tables: Sequence[ClassTable]) -> Needed:
    shared = _shared(tool, recipe, When.IN_CLASS)
    kind = tool_of(tool.name.value)
    if shared or (kind and kind.name in ONE_IN_THE_ROOM):
        return replace(one, in_room=shared or 1)
    people = 0 if kind and kind.name in ONE_A_TABLE else PEOPLE_A_TOOL
    at_table = tuple(_on(table, people) if table.recipe in one.recipes else 0 for table in tables)
    return replace(one, at_table=at_table)


def _before(one: Needed, tool: Tool, recipe: Recipe, helpers: int) -> Needed:
    shared = _shared(tool, recipe, When.BEFORE_CLASS)
    kind = tool_of(tool.name.value)
    # The preparation reckons with one trimmer too, where nobody says more.
    count = shared or (1 if (kind and kind.name in ONE_IN_THE_ROOM) or _is_trimmer(tool) else helpers)
    return replace(one, before=count)


def _on(table: ClassTable, people: int) -> int:
    """One for so many people; for the whole table where that is nought."""
    return -(-table.people // people) if people else min(1, table.people)


def _shared(tool: Tool, recipe: Recipe, when: When) -> int:
    """How many of it are shared in the room, as a step says; nought where none does."""
    said = _said_shared(recipe, when)
    return max((count for count, name in said if is_meant(name, tool.name.value)), default=0)


def is_meant(name: str, tool: str) -> bool:
    """Whether a name means this tool: it says no other thing, in fewer words or in more, or is a name of its kind."""
    words, own = plain_words(name), plain_words(tool)
    kind = tool_of(name)
    if not words or words == own or (kind is not None and kind.name in _EACH_ITS_OWN):
        return bool(words) and words == own
    head = plain_words(_AFTER_HEAD.split(tool, maxsplit=1)[0]) or own
    if set(words) <= set(own) and words[-1] == head[-1]:
        return True
    spelled = kind is not None and words in {plain_words(one) for one in (kind.name, *kind.forms)}
    return kind is not None and kind is tool_of(tool) and (spelled or set(own) <= set(words))


_AFTER_HEAD = re.compile(r"\bwith\b|\bfor\b|\bto\b|[,;(]")
"""`Trimmer with scoring blade` is a trimmer."""
_EACH_ITS_OWN = frozenset({"die", "stamp", "stencil", "embossing folder", "hole punch"})
"""Kinds of which one cannot stand in for another: a heart is no star."""


def _united(found: Iterable[Needed]) -> tuple[Needed, ...]:
    """Those of one name in several recipes together: every table has its own, the room has the most."""
    together: dict[tuple[str, ...], list[Needed]] = {}
    for one in found:
        together.setdefault(key_of(one.name), []).append(one)
    return tuple(reduce(_both, alike) for alike in together.values())


def _both(one: Needed, other: Needed) -> Needed:
    return Needed(
        min(one.name, other.name),
        tuple(sorted({*one.recipes, *other.recipes})),
        tuple(here + there for here, there in zip(one.at_table, other.at_table, strict=True)),
        max(one.in_room, other.in_room),
        max(one.before, other.before),
        optional=one.optional and other.optional,
    )
