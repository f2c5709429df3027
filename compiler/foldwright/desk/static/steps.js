// Photographs and times, a row for each step: a picture is dropped or chosen, a clock is started and stopped.
import { announce, named, say } from "/static/words.js";

const clock = (seconds) => `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;

function ready(button) {
  button.ariaLabel = button.textContent = say("desk-script.timer-start");
  button.classList.remove("running");
}

export class Steps {
  #place; #line; #editor; #slug; #rows = new Map(); #running = null; #now = "";

  constructor(place, line, editor, slug) {
    this.#place = place;
    this.#line = line;
    this.#editor = editor;
    this.#slug = slug;
    this.#place.classList.add("steps");
    const how = document.createElement("p");
    how.className = "remark how";
    how.textContent = say("desk-script.steps-how");
    place.append(how);
    // A picture that misses its row must not take the whole page's place.
    for (const name of ["dragover", "drop"]) document.addEventListener(name, (event) => event.preventDefault());
  }

  show(steps) {
    const now = JSON.stringify(steps);
    if (now === this.#now) return;
    this.#now = now;
    const gone = new Set(this.#rows.keys());
    for (const step of steps) {
      gone.delete(step.number);
      const row = this.#rows.get(step.number) ?? this.#row(step.number);
      row.step = step;
      row.name.textContent = step.number ? `${step.number}. ${step.heading}` : say("desk-script.finished-thing");
      row.measured.textContent = step.measured;
      row.photo.textContent = step.photo;
      // Put in anew only where it is not there: what has the focus keeps it.
      if (row.whole.parentNode !== this.#place) this.#place.append(row.whole);
    }
    for (const number of gone) {
      this.#rows.get(number).whole.remove();
      this.#rows.delete(number);
    }
  }

  async photograph(file, at) {
    announce(say("desk-script.photo-coming"));
    let answer;
    try {
      const got = await fetch(`/recipe/${this.#slug}/photo?at=${at}`, { method: "POST", body: file });
      answer = await got.json();
    } catch {
      answer = { trouble: say("desk-script.photo-lost") };
    }
    if (answer.trouble) {
      this.#tell(answer.trouble);
      return;
    }
    this.#tell("");
    this.#editor.change(answer.changes, answer.select);
    announce(say("desk-script.photo-there", { name: answer.name }));
  }

  #tell(text) {
    let told = this.#place.querySelector(".trouble");
    if (!told) {
      told = document.createElement("p");
      told.className = "trouble";
      told.setAttribute("role", "alert");
      this.#place.prepend(told);
    }
    told.textContent = text;
    document.getElementById("photo-trouble").textContent = text;
    document.getElementById("photo-trouble").hidden = !text;
  }

  #row(number) {
    const whole = document.createElement("section");
    const name = document.createElement("h4");
    name.id = `step-name-${number}`;
    const photo = document.createElement("p");
    photo.className = "remark";
    const choose = document.createElement("label");
    choose.className = "button";
    const file = document.createElement("input");
    file.type = "file";
    file.accept = "image/*";
    file.className = "unseen";
    file.ariaLabel = say("desk-script.photo-choose");
    named(file, `step-photo-${number}`, name);
    choose.append(say("desk-script.photo-choose"), file);
    file.addEventListener("change", () => {
      if (file.files.length) this.photograph(file.files[0], this.#rows.get(number).step.at);
      file.value = "";
    });
    whole.addEventListener("dragover", () => whole.classList.add("over"));
    whole.addEventListener("dragleave", () => whole.classList.remove("over"));
    whole.addEventListener("drop", (event) => {
      whole.classList.remove("over");
      const dropped = event.dataTransfer?.files[0];
      if (dropped) this.photograph(dropped, this.#rows.get(number).step.at);
    });
    whole.append(name, photo, choose);
    const measured = document.createElement("p");
    measured.className = "remark";
    if (number) whole.append(this.#timer(number, name), measured);
    const row = { whole, name, photo, measured, step: null };
    this.#rows.set(number, row);
    return row;
  }

  #timer(number, name) {
    const button = document.createElement("button");
    button.type = "button";
    named(button, `step-timer-${number}`, name);
    ready(button);
    button.addEventListener("click", () => this.#press(number, button));
    return button;
  }

  // One clock at a time: starting another stops the first, and both times count.
  async #press(number, button) {
    const before = this.#running;
    this.#running = null;
    if (before) await this.#stop(before);
    if (before?.number === number) return;
    const began = Date.now();
    const running = { number, button, began };
    running.ticking = setInterval(() => { button.textContent = say("desk-script.timer-stop", { time: clock((Date.now() - began) / 1000) }); }, 500);
    button.textContent = say("desk-script.timer-stop", { time: clock(0) });
    // The name stands still while the time runs: a screen reader would say each second.
    button.ariaLabel = say("desk-script.timer-stop-it");
    button.classList.add("running");
    this.#running = running;
    announce(say("desk-script.timer-runs"));
  }

  async #stop({ number, button, began, ticking }) {
    clearInterval(ticking);
    ready(button);
    const seconds = Math.max(1, Math.round((Date.now() - began) / 1000));
    const answer = await this.#line.ask({ do: "time", at: number, seconds });
    if (!answer?.changes?.length) return;
    const held = document.activeElement;
    this.#editor.change(answer.changes);
    held.focus();
    announce(say("desk-script.timed", { time: clock(seconds) }));
  }
}
