// The tutorial beside the text, in a frame of its own in which nothing can run. What has changed is put in, part by
// part (see render/web/parts.py); who reads stays at the line and at the control where they were.
//
// The frame has to be of this origin, with sandbox="allow-same-origin" and a policy without scripts: then its document
// can be written from here, and what stands in a recipe stays text whatever it is.

const STATEFUL = "details, input";
const STAYS = new Set(["fixed", "sticky"]);
const FOCUSABLE = "a[href], input, summary, [tabindex]";

export class Tutorial {
  #iframe;
  #stylesAt;
  #parts = new Map();
  #system = "";
  #settled = null;
  #waiting = [];

  constructor(iframe, stylesAt = "look/") {
    this.#iframe = iframe;
    this.#stylesAt = stylesAt;
    // Until the frame is loaded it has another document, and what is put into that is lost.
    iframe.addEventListener("load", () => this.#settle());
    if (this.#document?.readyState === "complete" && this.#document.URL !== "about:blank") this.#settle();
  }

  #settle() {
    const document = this.#document;
    if (this.#settled === document) return;
    this.#settled = document;
    // Links within the page lead there; any other would lead the frame away from it.
    document.addEventListener("click", (event) => {
      const link = event.target.closest?.("a[href]");
      if (link && !link.getAttribute("href").startsWith("#")) event.preventDefault();
    });
    // We keep the place ourselves; two who do it move it twice.
    document.documentElement.style.overflowAnchor = "none";
    for (const patch of this.#waiting.splice(0)) this.show(patch);
  }

  get #document() {
    return this.#iframe.contentDocument;
  }

  // What has changed, at first all of it; head and frame are null where they have not.
  show(patch) {
    if (!this.#settled) {
      this.#waiting.push(patch);
      return;
    }
    const { head, frame, parts } = patch;
    const place = this.#place();
    const focus = this.#focus();
    for (const { key, html } of parts) this.#put(key, html);
    if (frame !== null) this.#build(frame);
    if (head !== null) this.#dress(head);
    this.#choose();
    this.#refocus(focus);
    this.#return(place);
  }

  // Which unit system is shown: "imperial" or "metric".
  units(system) {
    this.#system = system;
    if (!this.#settled) return;
    const place = this.#place();
    this.#choose();
    this.#return(place);
  }

  // Brings a part to the top of the view: "step-3", "piece-1".
  reveal(key) {
    this.#parts.get(key)?.scrollIntoView({ block: "start" });
  }

  #put(key, html) {
    const fresh = this.#parsed(html).firstElementChild;
    const before = this.#parts.get(key);
    this.#parts.set(key, fresh);
    if (before === undefined) return;
    carry(before, fresh);
    before.replaceWith(fresh);
  }

  #build(frame) {
    const body = this.#document.body;
    const content = this.#parsed(frame);
    const states = stateOf(body);
    const named = new Set();
    for (const mark of content.querySelectorAll("template[data-part]")) {
      const part = this.#parts.get(mark.dataset.part);
      named.add(mark.dataset.part);
      if (part) mark.replaceWith(part);
    }
    for (const key of [...this.#parts.keys()]) if (!named.has(key)) this.#parts.delete(key);
    body.replaceChildren(content);
    giveState(body, states);
  }

  #dress({ language, title, style }) {
    const document = this.#document;
    document.documentElement.lang = language;
    document.title = title;
    const old = document.head.querySelector('link[rel="stylesheet"]');
    const address = this.#stylesAt + style;
    if (old?.getAttribute("href") === address) return;
    const link = document.createElement("link");
    link.rel = "stylesheet";
    link.href = address;
    // The old look stays until the new one is there.
    link.addEventListener("load", () => old?.remove());
    document.head.append(link);
  }

  #choose() {
    const choice = this.#system && this.#document.getElementById(this.#system);
    if (choice) choice.checked = true;
  }

  #parsed(html) {
    const template = this.#document.createElement("template");
    template.innerHTML = html;
    return template.content;
  }

  // The first part that is seen and goes with the page, and how far below the upper edge it begins.
  #place() {
    for (const [key, element] of this.#parts) {
      const { top, bottom } = element.getBoundingClientRect();
      if (bottom > 0 && !STAYS.has(getComputedStyle(element).position)) return { key, top };
    }
    return null;
  }

  #return(place) {
    const element = place && this.#parts.get(place.key);
    if (!element || this.#iframe.contentWindow.scrollY === 0) return;
    const moved = element.getBoundingClientRect().top - place.top;
    if (moved) this.#iframe.contentWindow.scrollBy({ top: moved, behavior: "instant" });
  }

  // The control that has the focus, as its part and its number in it: in a part put in anew it is another element.
  #focus() {
    const active = this.#document.activeElement;
    if (!active || active === this.#document.body) return null;
    for (const [key, element] of this.#parts) {
      if (element.contains(active)) return { active, key, at: [...element.querySelectorAll(FOCUSABLE)].indexOf(active) };
    }
    return { active, key: "", at: -1 };
  }

  #refocus(focus) {
    if (!focus || this.#document.activeElement === focus.active) return;
    const again = focus.active.isConnected
      ? focus.active
      : this.#parts.get(focus.key)?.querySelectorAll(FOCUSABLE)[focus.at];
    again?.focus({ preventScroll: true });
  }
}

// What a reader has opened and ticked.
function stateOf(root) {
  return [...root.querySelectorAll(STATEFUL)].map((one) => (one.localName === "details" ? one.open : one.checked));
}

function giveState(root, states) {
  const all = root.querySelectorAll(STATEFUL);
  if (all.length !== states.length) return;
  all.forEach((one, at) => {
    one[one.localName === "details" ? "open" : "checked"] = states[at];
  });
}

function carry(from, to) {
  giveState(to, stateOf(from));
}
