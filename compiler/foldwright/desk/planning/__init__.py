"""An event being planned: what was typed, the plan that follows it, and its papers."""
