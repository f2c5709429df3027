// What is found in the text: a list in the program's own words, each with its place, its remedy and its mends.
import { announce, say } from "/static/words.js";

const PAUSE = 800;

export class Problems {
  #list; #heading; #told = null; #now = ""; #marked = ""; #editor; #timer = 0; #typed = 0; #found = []; #waiting = 0;

  constructor(list, heading, editor) {
    this.#list = list;
    this.#heading = heading;
    this.#editor = editor;
    editor.addEventListener("typed", () => { this.#typed = editor.focused ? Date.now() : 0; });
  }

  // Marked at once where it stands. The list waits until one pauses: half a word is no mistake, and a list that comes and
  // goes moves the text under one's hands.
  show(found) {
    const marked = JSON.stringify(found);
    if (marked !== this.#marked) this.#editor.problems(found);
    this.#marked = marked;
    this.#found = found;
    clearTimeout(this.#waiting);
    const wait = this.#typed + PAUSE - Date.now();
    if (wait > 0) this.#waiting = setTimeout(() => this.show(this.#found), wait);
    else this.#lay(found);
  }

  #lay(found) {
    const now = JSON.stringify(found);
    if (now === this.#now) return;
    this.#now = now;
    const held = this.#held();
    this.#list.replaceChildren(...found.map((one, number) => this.#entry(one, number)));
    this.#heading.textContent = count(found);
    this.#take(held);
    // Said once somebody pauses, and only when something has changed; what a mend says of itself is heard out first.
    clearTimeout(this.#timer);
    const tell = () => {
      const told = count(found);
      if (this.#told !== null && told !== this.#told) announce(told);
      this.#told = told;
    };
    if (this.#typed) tell();
    else this.#timer = setTimeout(tell, 900);
  }

  // Where the focus is in the list, by what it is on, so that a new list can give it back.
  #held() {
    const item = document.activeElement?.closest?.("#problems li");
    if (!item) return null;
    const button = [...item.querySelectorAll("button")].indexOf(document.activeElement);
    return { key: item.dataset.key, number: Number(item.dataset.number), button };
  }

  #take(held) {
    if (!held) return;
    const items = [...this.#list.children];
    const item = items.find((one) => one.dataset.key === held.key) ?? items[Math.min(held.number, items.length - 1)];
    const buttons = item ? [...item.querySelectorAll("button")] : [];
    const button = item?.dataset.key === held.key ? buttons[held.button] : buttons[0];
    if (button) button.focus();
    else this.#editor.focus();
  }

  #entry(one, number) {
    const item = document.createElement("li");
    item.dataset.key = `${one.code} ${one.says}`;
    item.dataset.number = number;
    const sign = document.createElement("span");
    sign.className = `sign sign-${one.strength}`;
    sign.setAttribute("aria-hidden", "true");
    const words = document.createElement("div");
    const head = document.createElement("p");
    const strength = document.createElement("b");
    strength.textContent = say(`desk-script.strength-${one.strength}`);
    head.append(strength, " ");
    if (one.line) {
      const place = document.createElement("button");
      place.type = "button";
      place.className = "place plain";
      place.textContent = say("desk-script.line", { line: one.line });
      place.addEventListener("click", () => { this.#editor.select(one.start, one.end); this.#editor.focus(); });
      head.append(place, " ");
    } else if (one.where) {
      head.append(`${one.where}: `);
    }
    head.append(one.says);
    words.append(head);
    for (const text of [one.understood, one.remedy]) {
      if (!text) continue;
      const line = document.createElement("p");
      line.className = "remark";
      line.textContent = text;
      words.append(line);
    }
    if (one.mends.length) words.append(this.#mends(one));
    item.append(sign, words);
    return item;
  }

  #mends(one) {
    const row = document.createElement("p");
    row.className = "mends";
    for (const mend of one.mends) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = mend.label;
      button.addEventListener("click", () => {
        // The list may be behind the text, and so its places: then it is brought up to date, and nothing is done.
        if (this.#marked !== this.#now) {
          this.#lay(this.#found);
          return;
        }
        this.#editor.change(mend.changes);
        this.#typed = 0;
        announce(say("desk-script.mended"));
      });
      row.append(button);
    }
    return row;
  }
}

function count(found) {
  const parts = ["fault", "misfit", "thought"].flatMap((strength) => {
    const many = found.filter((one) => one.strength === strength).length;
    if (!many) return [];
    return [say(`desk-script.count-${strength}-${many === 1 ? "one" : "other"}`, { count: many })];
  });
  return parts.length ? parts.join(", ") : say("desk-script.all-well");
}
