// The table: sheets lie on it as pictures of themselves, and one is picked up to read.
import { say } from "/static/words.js";

export class Sheets {
  #table; #line;

  constructor(table, line) {
    this.#table = table;
    this.#line = line;
    for (const sheet of table.children) {
      const picked = () => sheet.classList.contains("picked");
      sheet.querySelector(".take-up").addEventListener("click", () => this.#take(sheet, picked() ? "" : sheet.dataset.sheet));
      sheet.querySelector(".view").addEventListener("click", () => {
        if (!picked()) this.#take(sheet, sheet.dataset.sheet);
      });
    }
    this.pick(table.dataset.picked);
  }

  // Where there is little room, the sheet that is taken up may lie out of sight.
  #take(sheet, kind) {
    this.pick(kind);
    sheet.scrollIntoView({ block: "nearest" });
  }

  pick(kind) {
    for (const sheet of this.#table.children) {
      const picked = sheet.dataset.sheet === kind;
      sheet.classList.toggle("picked", picked);
      sheet.querySelector(".take-up").setAttribute("aria-pressed", String(picked));
      const frame = sheet.querySelector("iframe");
      if (frame) frame.inert = !picked;
      const view = sheet.querySelector(".view");
      view.toggleAttribute("inert", !picked);
      // So that the keyboard can scroll it; a frame does that by itself.
      view.tabIndex = picked && !frame ? 0 : -1;
    }
    this.#table.dataset.picked = kind;
    this.#table.dispatchEvent(new CustomEvent("picked", { detail: kind }));
    this.#line.send({ do: "pick", what: kind });
  }

  setting(kind) {
    const sheet = this.#sheet(kind);
    if (sheet.classList.contains("stale") || !sheet.querySelector(".view img")) this.#told(sheet, [say("desk-script.setting")]);
  }

  // A sheet on paper, as pictures of its pages. A picture takes the place of the last one when it is there, not before.
  show(message) {
    const sheet = this.#sheet(message.sheet);
    const view = sheet.querySelector(".view");
    sheet.classList.toggle("stale", message.stale);
    this.#told(sheet, message.stale ? [say("desk-script.stale"), ...message.told] : message.told);
    const now = [...view.querySelectorAll("img")];
    message.pages.forEach((page, number) => {
      const image = now[number] ?? view.appendChild(document.createElement("img"));
      if (image.getAttribute("src") === page.src) return;
      image.width = page.width;
      image.height = page.height;
      image.src = page.src;
      image.alt = say("desk-script.page", { sheet: this.#name(sheet), page: number + 1, pages: message.pages.length });
    });
    for (const image of now.slice(message.pages.length)) image.remove();
    this.doings(message.sheet, message.pdfs.map((href) => [say("desk-script.open-pdf"), href]));
  }

  // Nothing of it was ever set, and cannot be as the text stands.
  noneYet(kind) { this.#told(this.#sheet(kind), [say("desk-script.none-yet")]); }

  stale(kind, stale) {
    const sheet = this.#sheet(kind);
    sheet.classList.toggle("stale", stale);
    this.#told(sheet, stale ? [say("desk-script.stale")] : []);
  }

  // What can be done with a sheet: addresses to open or to download.
  doings(kind, links) {
    const row = this.#sheet(kind).querySelector(".doings");
    const known = [...row.querySelectorAll("a")];
    links.forEach(([text, href], number) => {
      const link = known[number] ?? row.appendChild(document.createElement("a"));
      link.className = "button";
      link.target = "_blank";
      link.rel = "noopener";
      link.textContent = text;
      link.href = href;
    });
    for (const link of known.slice(links.length)) link.remove();
  }

  #sheet(kind) { return this.#table.querySelector(`#sheet-${kind}`); }
  #name(sheet) { return sheet.querySelector(".take-up").textContent; }

  #told(sheet, lines) {
    const told = sheet.querySelector(".told");
    told.hidden = !lines.length;
    const text = lines.join(" ");
    if (told.textContent !== text) told.textContent = text;
  }
}
