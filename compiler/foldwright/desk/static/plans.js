// The parts of a plan lead to their numbers, and numbers light their parts.
//
// `plansIn(place)` looks after the drawings in `place`, those that are put there later as well. A click on a part, or
// Enter or the space bar where it has the focus, sends `mark-chosen` with `detail.mark` and `detail.marks`; a part of
// several lengths gives one after the other. `light(...marks)` lights the parts of these marks and no others.

const marksOf = (part) => part.dataset.mark.split(" ").filter(Boolean);

export function plansIn(place) {
  let lit = new Set();
  let last = { part: null, at: 0 };

  const choose = (part) => {
    const marks = part ? marksOf(part) : [];
    if (!marks.length) return;
    const at = part === last.part ? (last.at + 1) % marks.length : 0;
    last = { part, at };
    place.dispatchEvent(new CustomEvent("mark-chosen", { bubbles: true, detail: { mark: marks[at], marks } }));
  };
  // A figure is a part of its own to the pointer; by keyboard one goes from part to part.
  const clicked = (event) => choose(event.target.closest?.("[data-mark]"));
  const pressed = (event) => {
    if (event.key !== "Enter" && event.key !== " ") return;
    const part = event.target.closest?.(".pick[data-mark]");
    if (!part) return;
    event.preventDefault();
    choose(part);
  };
  const show = () => {
    for (const part of place.querySelectorAll("[data-mark]")) {
      part.classList.toggle("lit", marksOf(part).some((mark) => lit.has(mark)));
    }
  };
  // New drawings of the same piece are lit as the old ones were.
  const watching = new MutationObserver(show);

  place.addEventListener("click", clicked);
  place.addEventListener("keydown", pressed);
  watching.observe(place, { childList: true, subtree: true });
  return {
    light(...marks) {
      lit = new Set(marks.flat());
      show();
    },
    dispose() {
      watching.disconnect();
      place.removeEventListener("click", clicked);
      place.removeEventListener("keydown", pressed);
    },
  };
}
