// The page on which a recipe is written: the text, what is found in it, the sheets, and how it is kept.
import { Editor, entryBox } from "/static/editor.js";
import { Keeping } from "/static/keeping.js";
import { Line } from "/static/line.js";
import { Pieces } from "/static/pieces.js";
import { Problems } from "/static/problems.js";
import { Sheets } from "/static/sheets.js";
import { Steps } from "/static/steps.js";
import { Tutorial } from "/static/tutorial.js";
import { announce, say } from "/static/words.js";

const bench = document.querySelector(".bench");
const slug = bench.dataset.slug;
const at = (id) => document.getElementById(id);
let opened = false;
let number = 0;

// What is typed while the line is down is told when it is taken up again; until then the server's text is the truth.
const line = new Line(`/recipe/${slug}/line`, () => ({ do: "here", text: opened ? editor.text : null }));
const editor = new Editor(at("text"), {
  complete: (offset) => line.ask({ do: "complete", at: offset }),
  explain: (offset) => line.ask({ do: "explain", at: offset }),
});
const problems = new Problems(at("problems"), at("problems-heading"), editor);
const keeping = new Keeping(editor, line);
const sheets = new Sheets(at("sheets"), line);
const tutorial = new Tutorial(at("tutorial"));
const pieces = new Pieces(document.querySelector("#sheet-pieces .view"), line);
const steps = new Steps(document.querySelector("#sheet-steps .view"), line, editor, slug);
let marks = {};
at("text").style.setProperty("--take-first", JSON.stringify(say("desk-script.take-first")));

editor.addEventListener("typed", ({ detail }) => {
  number += 1;
  if (!line.send({ do: "text", text: detail, number })) keeping.down();
});
editor.addEventListener("photograph", ({ detail }) => steps.photograph(detail.file, detail.at));

// Both ways round: a part of a plan selects its number, and a number lights its parts.
pieces.addEventListener("chosen", ({ detail }) => {
  const places = marks[detail] ?? [];
  if (!places.length) return;
  // The number is selected to be typed over: that is what it was picked up for.
  editor.focus();
  editor.select(...places[0]);
  editor.light(places);
  pieces.light([detail]);
});
let resting = 0;
editor.addEventListener("moved", ({ detail }) => {
  clearTimeout(resting);
  resting = setTimeout(async () => {
    if (!Object.values(marks).some((places) => places.some(([start, end]) => start <= detail && detail <= end))) {
      pieces.light([]);
      return;
    }
    const answer = await line.ask({ do: "marks", at: detail });
    pieces.light(answer?.marks ?? []);
  }, 120);
});
// Wherever the focus is: the browser would save the page itself.
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.shiftKey || event.altKey || event.key.toLowerCase() !== "s") return;
  event.preventDefault();
  if (!document.querySelector("dialog[open]")) keeping.keep();
});

line.addEventListener("text", ({ detail }) => {
  bench.dataset.text = detail.number;
  editor.put(detail.text, opened ? null : begin(), !opened);
  if (!opened) editor.focus();
  opened = true;
});
line.addEventListener("found", ({ detail }) => {
  problems.show(detail.problems);
  steps.show(detail.steps);
  offer(detail.sizes);
});
line.addEventListener("marks", ({ detail }) => { marks = detail.marks; });
line.addEventListener("plans", ({ detail }) => pieces.show(detail.plans));
line.addEventListener("page", ({ detail }) => {
  bench.dataset.page = detail.number;
  sheets.stale("tutorial", detail.stale);
  if (detail.stale) return;
  tutorial.show(detail);
  tutorial.units(at("units").value);
  if (detail.title) {
    at("title").textContent = detail.title;
    document.title = `${detail.title} · ${say("desk-script.name")}`;
  }
});
sheets.doings("tutorial", [[say("desk-script.open-pdf"), `/recipe/${slug}/tutorial.html`]]);
line.addEventListener("wish", ({ detail }) => {
  for (const id of ["look", "paper", "units"]) if (detail[id]) at(id).value = detail[id];
  tutorial.units(at("units").value);
  size = detail.size;
  at("size").value = size;
});
line.addEventListener("too-long", () => keeping.tooLong());
line.addEventListener("trouble", () => keeping.trouble());
line.addEventListener("setting", ({ detail }) => sheets.setting(detail.sheet));
line.addEventListener("none-yet", ({ detail }) => sheets.noneYet(detail.sheet));
line.addEventListener("sheet", ({ detail }) => sheets.show(detail));
line.addEventListener("state", ({ detail }) => keeping.state(detail));
line.addEventListener("down", () => keeping.down());

function begin() {
  const offset = Number(new URLSearchParams(location.search).get("at"));
  return offset ? [offset] : null;
}

// The sizes a recipe comes in, which may change with every word of it.
let size = "";
function offer(sizes) {
  at("of-size").hidden = sizes.length === 0;
  const [written, ...offered] = at("size").options;
  if (JSON.stringify(offered.map((one) => one.value)) !== JSON.stringify(sizes)) {
    at("size").replaceChildren(written, ...sizes.map((one) => new Option(one, one)));
  }
  at("size").value = size;
}

function wish() {
  size = at("size").value;
  line.send({ do: "wish", look: at("look").value, paper: at("paper").value, units: at("units").value, size });
  tutorial.units(at("units").value);
}
for (const id of ["look", "paper", "units", "size"]) at(id).addEventListener("change", wish);

// On a narrow screen one side at a time; whatever leads to the text turns to it.
const sides = [...bench.querySelectorAll(".sides button")];
function turnTo(side) {
  bench.dataset.side = side;
  for (const one of sides) one.setAttribute("aria-pressed", String(one.dataset.side === side));
}
for (const button of sides) button.addEventListener("click", () => turnTo(button.dataset.side));
editor.addEventListener("wanted", () => turnTo("text"));

// Where nothing rests on a word, the manual's entry is asked for with F1 or a button, and stands in a box of its own.
const entry = at("entry");
const explain = async () => {
  const answer = await line.ask({ do: "explain", at: editor.at });
  if (!answer) return;
  at("entry-text").replaceChildren(answer.entry ? entryBox(answer.entry.html) : say("desk-script.no-entry"));
  entry.showModal();
};
editor.addEventListener("explain", explain);
at("explain").addEventListener("click", explain);

// What can be put in.
const putIn = at("put-in");
function showPutIn(shown) {
  putIn.hidden = !shown;
  at("show-put-in").setAttribute("aria-expanded", String(shown));
  at(shown ? "put-in-find" : "show-put-in").focus();
}
at("show-put-in").addEventListener("click", () => showPutIn(putIn.hidden));
putIn.addEventListener("keydown", (event) => {
  // In a field that has something in it, Escape empties it first.
  if (event.key === "Escape" && !event.target.value) showPutIn(false);
});
// With hyphens, without, or in two words: pop-up, popup, pop up.
const plain = (text) => text.trim().toLowerCase().replaceAll("-", "");
const found = (text, wanted) => [plain(text), plain(text.replaceAll("-", " "))].some((one) => ` ${one}`.includes(` ${wanted}`));
at("put-in-find").addEventListener("input", ({ target }) => {
  for (const item of putIn.querySelectorAll("li")) item.hidden = !found(item.textContent, plain(target.value));
  for (const list of putIn.querySelectorAll("ul")) list.previousElementSibling.hidden = !list.querySelector("li:not([hidden])");
  putIn.querySelector(".trouble").textContent = putIn.querySelector("li:not([hidden])") ? "" : say("desk-script.put-in-none");
});
// Some entries have nothing to draw.
putIn.addEventListener("error", ({ target }) => { if (target.localName === "img") target.classList.add("none"); }, true);
putIn.addEventListener("click", async (event) => {
  const button = event.target.closest(".insert");
  if (!button) return;
  const answer = await line.ask({ do: "insert", what: button.dataset.what, at: editor.at });
  if (!answer) return;
  if (!answer.select) {
    announce(say("desk-script.no-place"));
    putIn.querySelector(".trouble").textContent = say("desk-script.no-place");
    return;
  }
  putIn.querySelector(".trouble").textContent = "";
  editor.change(answer.changes, answer.select);
  announce(say("desk-script.put-in", { what: button.querySelector("b").textContent }));
});

// On paper the page is its text, all of it: the editor holds only the lines that are seen.
addEventListener("beforeprint", () => { at("printed").textContent = editor.text; });
