// The pieces: their plans, in which every part leads to its number, and one of them in space to turn and fold.
import { takeUp } from "/static/folded.js";
import { plansIn } from "/static/plans.js";
import { named, say, under } from "/static/words.js";

export class Pieces extends EventTarget {
  #place; #line; #plans; #boxes = new Map(); #made = 0; #up = null;

  constructor(place, line) {
    super();
    this.#place = place;
    this.#line = line;
    place.classList.add("plans");
    this.#plans = plansIn(place);
    place.addEventListener("mark-chosen", ({ detail }) => this.dispatchEvent(new CustomEvent("chosen", { detail: detail.mark })));
  }

  light(marks) { this.#plans.light(marks); }

  show(plans) {
    const gone = new Set(this.#boxes.keys());
    let at = 0;
    for (const { piece, title, svg, fit } of plans) {
      gone.delete(piece);
      const box = this.#boxes.get(piece) ?? this.#box(piece);
      if (box.svg !== svg) {
        const held = box.drawing.contains(document.activeElement) ? document.activeElement.dataset.mark : null;
        box.drawing.innerHTML = svg;
        if (held) [...box.drawing.querySelectorAll("[tabindex]")].find((part) => part.dataset.mark === held)?.focus();
        box.svg = svg;
      }
      box.name.textContent = title;
      box.fit.replaceChildren(...fit.map((said) => {
        const line = document.createElement("li");
        line.textContent = said;
        return line;
      }));
      box.fit.hidden = !fit.length;
      if (this.#place.children[at] !== box.whole) this.#place.insertBefore(box.whole, this.#place.children[at] ?? null);
      at += 1;
    }
    for (const piece of gone) {
      this.#boxes.get(piece).whole.remove();
      this.#boxes.delete(piece);
    }
    if (this.#up) this.#again();
  }

  #box(piece) {
    const whole = document.createElement("section");
    whole.className = "plan";
    const name = document.createElement("h4");
    const number = this.#made++;
    name.id = `piece-name-${number}`;
    const drawing = document.createElement("div");
    drawing.className = "drawing on-paper";
    const fit = document.createElement("ul");
    fit.className = "fit";
    const fold = document.createElement("button");
    fold.type = "button";
    fold.textContent = say("desk-script.fold-it");
    fold.setAttribute("aria-expanded", "false");
    named(fold, `piece-fold-${number}`, name);
    const space = document.createElement("div");
    space.className = "space";
    fold.addEventListener("click", () => this.#toggle(piece));
    whole.append(name, drawing, fit, fold, space);
    const box = { whole, name, drawing, fit, fold, space, svg: "" };
    this.#boxes.set(piece, box);
    return box;
  }

  async #toggle(piece) {
    const down = this.#up;
    this.#up = null;
    if (down) {
      down.view.dispose();
      down.box.fold.setAttribute("aria-expanded", "false");
      down.box.fold.textContent = say("desk-script.fold-it");
    }
    if (down?.piece === piece) return;
    const box = this.#boxes.get(piece);
    const answer = await this.#line.ask({ do: "frames", what: piece });
    if (!answer?.frames || this.#up) return;
    const view = await takeUp(box.space, answer.frames, under("desk-fold"), answer.picture);
    this.#up = { piece, box, view };
    box.fold.setAttribute("aria-expanded", "true");
    box.fold.textContent = say("desk-script.lay-flat");
    box.space.scrollIntoView({ block: "nearest" });
  }

  async #again() {
    const up = this.#up;
    const answer = await this.#line.ask({ do: "frames", what: up.piece });
    if (answer?.frames && this.#up === up) up.view.show(answer.frames);
  }
}
