// The text of the recipe: the editor, what is marked in it, and what it offers while one writes.
import * as CM from "/editor/index.js";

import { say } from "/static/words.js";

const fromElsewhere = CM.Annotation.define();
const setProblems = CM.StateEffect.define();
const setLit = CM.StateEffect.define();

// Marks that move with the text: under what is wrong, and behind the numbers of what is pointed at in a drawing.
function marks(effect, made, fades = false) {
  return CM.StateField.define({
    create: () => CM.Decoration.none,
    update(now, transaction) {
      // What is typed over is no longer what was lit.
      if (fades) now = now.update({ filter: (from, to) => !transaction.changes.touchesRange(from, to) });
      now = now.map(transaction.changes);
      for (const one of transaction.effects) if (one.is(effect)) now = made(one.value, transaction.state);
      return now;
    },
    provide: (field) => CM.EditorView.decorations.from(field),
  });
}

const within = (length, at) => Math.max(0, Math.min(at, length));

const problemMarks = marks(setProblems, (problems, state) => {
  const size = state.doc.length;
  const found = problems
    .filter((one) => one.end > one.start && one.start < size)
    .map((one) => CM.Decoration.mark({ class: `is-${one.strength}` }).range(one.start, within(size, one.end)));
  return CM.Decoration.set(found, true);
});

const litMarks = marks(setLit, (ranges, state) => {
  const size = state.doc.length;
  const found = ranges
    .filter(([start, end]) => end > start && start < size)
    .map(([start, end]) => CM.Decoration.mark({ class: "is-lit" }).range(start, within(size, end)));
  return CM.Decoration.set(found, true);
}, true);

const problemList = CM.StateField.define({
  create: () => [],
  update(now, transaction) {
    for (const one of transaction.effects) if (one.is(setProblems)) return one.value;
    if (!transaction.docChanged) return now;
    return now.map((one) => ({ ...one, start: transaction.changes.mapPos(one.start), end: transaction.changes.mapPos(one.end) }));
  },
});

class Sign extends CM.GutterMarker {
  constructor(strength) { super(); this.strength = strength; }
  eq(other) { return other.strength === this.strength; }
  toDOM() {
    const sign = document.createElement("span");
    sign.className = `sign sign-${this.strength}`;
    sign.title = say(`desk-script.strength-${this.strength}`);
    return sign;
  }
}
const ORDER = ["fault", "misfit", "thought"];
const signs = Object.fromEntries(ORDER.map((strength) => [strength, new Sign(strength)]));

const signGutter = CM.gutter({
  class: "signs",
  lineMarker(view, line) {
    const here = view.state.field(problemList).filter((one) => one.line && one.start >= line.from && one.start <= line.to);
    const strongest = ORDER.find((strength) => here.some((one) => one.strength === strength));
    return strongest ? signs[strongest] : null;
  },
  lineMarkerChange: (update) => update.startState.field(problemList) !== update.state.field(problemList),
});

// Headings, the words before a colon, remarks and fences are told apart at a glance; nothing hangs on it.
const shapes = [
  [/^#{1,6} .*/gm, "t-heading"],
  [/^\s*(?:- )?[^\s:#`-][^:#`\n]*:(?=\s|$)/gm, "t-fact"],
  [/(?:^|\s{2})#(?![# ]*#)[^\n]*$/gm, "t-remark"],
  [/^(?:---|```.*)$/gm, "t-fence"],
].map(([regexp, name]) => new CM.MatchDecorator({ regexp, decoration: CM.Decoration.mark({ class: name }) }));

const shaped = shapes.map((one) =>
  CM.ViewPlugin.fromClass(
    class {
      constructor(view) { this.decorations = one.createDeco(view); }
      update(update) { this.decorations = one.updateDeco(update, this.decorations); }
    },
    { decorations: (plugin) => plugin.decorations },
  ),
);

export class Editor extends EventTarget {
  #view; #asks;

  // `asks.complete(offset)` and `asks.explain(offset)` promise what the server answers.
  constructor(parent, asks) {
    super();
    this.#asks = asks;
    this.#view = new CM.EditorView({ parent, state: CM.EditorState.create({ doc: "", extensions: this.#extensions() }) });
  }

  get text() { return this.#view.state.doc.toString(); }
  get at() { return this.#view.state.selection.main.head; }
  get focused() { return this.#view.hasFocus; }

  // To go on with the text: where it is out of sight, it has to be brought out first.
  focus() {
    this.#say("wanted");
    this.#view.focus();
  }

  // A text from elsewhere: only what differs is put in, so that the cursor stays and undo reaches past it. The text one
  // begins with cannot be undone.
  put(text, select = null, first = false) {
    const now = this.text;
    let start = 0;
    while (start < now.length && start < text.length && now[start] === text[start]) start += 1;
    let end = 0;
    while (end < Math.min(now.length, text.length) - start && now[now.length - 1 - end] === text[text.length - 1 - end]) end += 1;
    const changes = now === text ? [] : [{ from: start, to: now.length - end, insert: text.slice(start, text.length - end) }];
    this.#view.dispatch({ changes, annotations: [fromElsewhere.of(true), CM.Transaction.addToHistory.of(!first)] });
    if (select) this.select(...select);
  }

  // Changes as the server gives them, as if they had been typed.
  change(changes, select = null) {
    // All at once and with the focus already here: a key that comes between would be taken for part of it.
    if (select) this.focus();
    else this.#view.focus();
    const made = this.#view.state.changes(changes.map((one) => ({ from: one.start, to: one.end, insert: one.new })));
    const [start, end] = select ?? [made.mapPos(this.at, 1), made.mapPos(this.at, 1)];
    const selection = { anchor: within(made.newLength, start), head: within(made.newLength, end ?? start) };
    const effects = select ? [CM.EditorView.scrollIntoView(selection.anchor, { y: "center" })] : [];
    this.#view.dispatch({ changes: made, selection, effects, userEvent: "input" });
  }

  select(start, end = start) {
    const size = this.#view.state.doc.length;
    this.#view.dispatch({
      selection: { anchor: within(size, start), head: within(size, end) },
      effects: CM.EditorView.scrollIntoView(within(size, start), { y: "center" }),
    });
  }

  problems(found) { this.#view.dispatch({ effects: setProblems.of(found) }); }

  light(ranges) {
    const effects = [setLit.of(ranges)];
    if (ranges.length) effects.push(CM.EditorView.scrollIntoView(within(this.#view.state.doc.length, ranges[0][0]), { y: "nearest", yMargin: 40 }));
    this.#view.dispatch({ effects });
  }

  #extensions() {
    const tell = CM.EditorView.updateListener.of((update) => {
      if (update.docChanged && !update.transactions.some((one) => one.annotation(fromElsewhere))) this.#say("typed", this.text);
      if (update.selectionSet || update.docChanged) this.#say("moved", this.at);
    });
    const keys = CM.keymap.of([
      { key: "Escape", run: (view) => CM.hasHoverTooltips(view.state) && hush(view) },
      { key: "F1", run: () => this.#say("explain"), preventDefault: true },
      // Nobody wanted what is offered until it is chosen: Enter begins a new line. Tab takes the first; where nothing is
      // offered it leaves the text.
      { key: "Enter", run: (view) => Boolean(offered(view)) && !offered(view).dataset.chosen && CM.insertNewlineAndIndent(view) },
      { key: "Tab", run: (view) => Boolean(offered(view)) && take(offered(view)) },
      { key: "ArrowDown", run: choose },
      { key: "ArrowUp", run: choose },
    ]);
    const drops = CM.EditorView.domEventHandlers({
      drop: (event, view) => {
        const files = [...(event.dataTransfer?.files ?? [])];
        if (!files.length) return false;
        event.preventDefault();
        const at = view.posAtCoords({ x: event.clientX, y: event.clientY }) ?? this.at;
        return this.#say("photograph", { file: files[0], at });
      },
    });
    return [
      CM.Prec.highest(keys), CM.basicSetup, CM.EditorView.lineWrapping, problemMarks, litMarks, problemList, signGutter,
      ...shaped, tell, drops, this.#completion(), this.#entry(),
      CM.EditorView.contentAttributes.of({ "aria-label": say("desk-script.text"), "aria-describedby": "text-how", tabindex: "0", spellcheck: "true", autocapitalize: "off" }),
      CM.EditorState.phrases.of(phrases()),
    ];
  }

  #say(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
    return true;
  }

  #completion() {
    const source = async (context) => {
      const before = context.matchBefore(/[\p{L}\p{N}-]+$/u);
      if (!before && !context.explicit) {
        const line = context.state.doc.lineAt(context.pos);
        if (!/: ?$/.test(line.text.slice(0, context.pos - line.from))) return null;
      }
      const answer = await this.#asks.complete(context.pos);
      if (!answer || context.aborted) return null;
      // What stands there already needs no offer.
      const typed = context.state.sliceDoc(answer.start, context.pos);
      const options = answer.options.filter((one) => one.text !== typed);
      if (!options.length) return null;
      return {
        from: answer.start,
        options: options.map((one) => ({ label: one.label, apply: one.text, detail: one.line, type: one.kind })),
        validFor: /^[\p{L}\p{N} -]*$/u,
      };
    };
    return CM.EditorState.languageData.of(() => [{ autocomplete: source }]);
  }

  #entry() {
    return CM.hoverTooltip(
      async (view, pos) => {
        // A finger that sets the cursor rests on nothing, and could not move away from what it brought up.
        if (!matchMedia("(hover: hover)").matches) return null;
        const answer = await this.#asks.explain(pos);
        if (!answer || !answer.entry) return null;
        const { start, end, html } = answer.entry;
        return { pos: start, end, above: true, create: () => ({ dom: entryBox(html) }) };
      },
      { hoverTime: 450, hideOnChange: true },
    );
  }
}

// What was shown because something rested on its word goes away again.
function hush(view) {
  view.dispatch({ effects: CM.closeHoverTooltips });
  return true;
}

// The list of what is offered, if there is one. The editor's own functions for it are not in the wheel.
const offered = (view) => view.dom.querySelector(".cm-tooltip-autocomplete");

function take(list) {
  list.querySelector("li[aria-selected]")?.dispatchEvent(new MouseEvent("mousedown", { bubbles: true }));
  return true;
}

// The first arrow key goes into the list, the next ones move in it.
function choose(view) {
  const list = offered(view);
  if (!list || list.dataset.chosen) return false;
  list.dataset.chosen = "yes";
  return true;
}

// The entry of the manual, as the server made it of the guide's Markdown.
export function entryBox(html) {
  const box = document.createElement("div");
  box.className = "entry";
  box.innerHTML = html;
  return box;
}

// What the editor says by itself, in our words.
function phrases() {
  const said = {};
  for (const name of ["Find", "Replace", "next", "previous", "all", "match case", "regexp", "by word", "replace", "replace all", "close", "current match", "on line", "Completions", "Folded lines", "Unfolded lines", "Fold line", "Unfold line", "folded code", "unfold", "to"]) {
    const key = `desk-script.phrase-${name.toLowerCase().replaceAll(" ", "-")}`;
    try { said[name] = say(key); } catch { /* The editor's own word stands. */ }
  }
  return said;
}
