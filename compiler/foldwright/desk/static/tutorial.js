// provisional: replaced by the module that puts in parts
export class Tutorial {
  #parts = new Map();
  constructor(frame) { this.frame = frame; }
  show(message) {
    const doc = this.frame.contentDocument;
    if (message.head) {
      doc.documentElement.lang = message.head.language;
      const style = doc.createElement("style");
      style.textContent = message.head.style;
      doc.head.replaceChildren(style);
    }
    const made = (html) => { const box = doc.createElement("template"); box.innerHTML = html; return box.content.firstElementChild; };
    for (const { key, html } of message.parts) {
      const next = made(html);
      this.#parts.get(key)?.replaceWith(next);
      this.#parts.set(key, next);
    }
    if (message.frame !== null) {
      doc.body.innerHTML = message.frame;
      for (const mark of doc.body.querySelectorAll("template[data-part]")) mark.replaceWith(this.#parts.get(mark.dataset.part));
    }
  }
  units(system) { const one = this.frame.contentDocument?.getElementById(system); if (one) one.checked = true; }
}
