"""Acts, tools, kinds of supply, levels, hazards, allergens: open lists that every later room shares."""

from foldwright.vocabulary.acts import ACTS, Act, Phase, act_of, leading_act, length_acts
from foldwright.vocabulary.allergens import ALLERGENS, allergens_in
from foldwright.vocabulary.hazards import HAZARDS, Signal
from foldwright.vocabulary.levels import LEVELS, level_of
from foldwright.vocabulary.supplies import SUPPLY_KINDS, SupplyKind, kind_of
from foldwright.vocabulary.tools import TOOLS, ToolKind, tool_of, tools_in

__all__ = [
    "ACTS",
    "ALLERGENS",
    "HAZARDS",
    "LEVELS",
    "SUPPLY_KINDS",
    "TOOLS",
    "Act",
    "Phase",
    "Signal",
    "SupplyKind",
    "ToolKind",
    "act_of",
    "allergens_in",
    "kind_of",
    "leading_act",
    "length_acts",
    "level_of",
    "tool_of",
    "tools_in",
]
