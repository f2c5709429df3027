// An event being planned: what is typed is sent, the plan comes back at once and the papers a little later. Only what has
// changed is put into the page, and never the form, so that nobody loses the place in which they type.
import { announce, say } from "./words.js";

const form = document.getElementById("event");
const query = form.dataset.query;
const tab = crypto.randomUUID();
const PAUSE = 300;
const LONGER = 1200;
const at = (id) => document.getElementById(id);
const shown = new Map();
let number = 0;
let last = {};
let pause = 0;
let longer = 0;
let following = Promise.resolve();

function typed() {
  const fields = {};
  for (const field of form.elements) {
    if (field.name) fields[field.name] = field.type === "checkbox" ? (field.checked ? "yes" : "") : field.value;
  }
  return fields;
}

async function ask(what, more = {}) {
  const answer = await fetch(`/plan/${what}?${query}`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ typed: typed(), tab, ...more }),
  });
  return answer.ok ? answer.json() : answer.status;
}

function element(name, text, classes = "") {
  const made = document.createElement(name);
  made.textContent = text;
  if (classes) made.className = classes;
  return made;
}

// --- what is told ---------------------------------------------------------------------------------------------------

function tellNotes(list, notes) {
  const before = [...list.children].map((one) => one.textContent);
  if (before.join("\n") !== notes.map((one) => one.text).join("\n")) {
    list.replaceChildren(...notes.map((one) => element("li", one.text, one.wrong ? "trouble" : "")));
  }
  list.hidden = notes.length === 0;
}

function tellFields(told) {
  for (const field of form.querySelectorAll("[data-field]")) {
    const mine = told.filter((one) => one.field === field.dataset.field);
    const place = field.querySelector(".told");
    const text = mine.map((one) => one.text).join("\n");
    const wrong = mine.some((one) => one.wrong);
    if (place.dataset.text !== text) {
      place.dataset.text = text;
      place.replaceChildren(...mine.map((one) => element("p", one.text, one.wrong ? "trouble" : "remark")));
    }
    const input = field.querySelector("input, select, textarea");
    if (wrong) {
      input.setAttribute("aria-invalid", "true");
      field.closest("details").open = true;
    } else {
      input.removeAttribute("aria-invalid");
    }
  }
}

function stands(text, wrong = false) {
  at("state").textContent = text;
  at("state").className = wrong ? "trouble" : "remark";
}

// --- the plan -------------------------------------------------------------------------------------------------------

function section(paper) {
  const made = element("section", "", "leaf paper");
  made.id = `paper-${paper.slug}`;
  made.setAttribute("aria-labelledby", `title-${paper.slug}`);
  const heading = element("h2", "");
  heading.id = `title-${paper.slug}`;
  heading.tabIndex = -1;
  const inside = element("div", "", "inside");
  inside.tabIndex = 0;
  inside.setAttribute("role", "group");
  inside.setAttribute("aria-labelledby", heading.id);
  made.append(heading, element("p", "", "summary"), inside);
  return made;
}

function glance(paper) {
  const title = document.createElement("dt");
  const link = element("a", paper.title);
  link.href = `#title-${paper.slug}`;
  title.append(link);
  return [title, element("dd", paper.summary)];
}

function fill(paper) {
  const place = at(`paper-${paper.slug}`);
  const title = place.querySelector("h2");
  title.textContent = paper.title;
  if (paper.own) title.append(" ", element("span", say("desk-plan.own"), "remark"));
  place.querySelector(".summary").textContent = paper.summary;
  place.querySelector(".inside").innerHTML = paper.html;
}

function put(plan) {
  at("title").textContent = plan.title;
  at("summary").textContent = plan.summary;
  const sections = at("sections");
  const names = new Set(plan.papers.map((one) => one.slug));
  for (const slug of [...shown.keys()].filter((one) => !names.has(one))) {
    at(`paper-${slug}`).remove();
    shown.delete(slug);
  }
  const changed = [];
  plan.papers.forEach((paper, index) => {
    const text = JSON.stringify(paper);
    if (!shown.has(paper.slug)) sections.insertBefore(section(paper), sections.children[index] ?? null);
    if (shown.get(paper.slug) === text) return;
    fill(paper);
    if (shown.has(paper.slug)) fresh(at(`paper-${paper.slug}`));
    shown.set(paper.slug, text);
    changed.push(paper.title);
  });
  const lines = at("glance");
  if (changed.length > 0) lines.replaceChildren(...plan.papers.flatMap(glance));
  return changed;
}

function fresh(place) {
  place.classList.remove("fresh");
  void place.offsetWidth;
  place.classList.add("fresh");
}

async function follow() {
  const mine = ++number;
  stands(say("desk-plan.waiting"));
  let answer;
  try {
    answer = await ask("follow");
  } catch {
    answer = 0;
  }
  if (mine !== number) return;
  // Two questions may arrive in another order than they were sent: the newest is asked again.
  if (answer === 409) {
    soon();
    return;
  }
  if (typeof answer === "number") {
    lost();
    return;
  }
  const { plan, trouble, drafts } = answer;
  const drafted = drafts.map((recipe) => ({ text: say("desk-plan.draft", { recipe }), wrong: false }));
  const troubles = trouble ? [{ text: trouble, wrong: true }] : [];
  tellFields(plan.told);
  tellNotes(at("notes"), [...troubles, ...drafted, ...plan.told.filter((one) => !one.field || one.field === "for")]);
  const ready = plan.papers.length > 0;
  at("sections").classList.toggle("old", !ready);
  at("download").hidden = !ready;
  if (!ready) {
    const text = say(shown.size ? "desk-plan.stands" : "desk-plan.none-yet");
    stands(text, true);
    announce([text, ...plan.told.filter((one) => one.wrong).map((one) => one.text)].join(" "));
    return;
  }
  const first = shown.size === 0;
  const changed = put(plan);
  const text = first ? say("desk-plan.ready") : changed.length ? say("desk-plan.updated", { names: changed.join(", ") }) : say("desk-plan.same");
  stands(text);
  announce(text);
  longer = setTimeout(papers, LONGER);
}

function lost() {
  stands(say("desk-plan.lost"), true);
  announce(say("desk-plan.lost"));
}

// --- the papers -----------------------------------------------------------------------------------------------------

function address(kind, file, made) {
  return `/plan/${kind}/${encodeURIComponent(file)}?${query}&made=${made}`;
}

function leaf(file, made) {
  const item = element("li", "");
  const card = element("div", "", "leaf");
  const picture = document.createElement("img");
  picture.src = address("picture", file, made);
  picture.alt = say("desk-plan.picture", { file });
  picture.loading = "lazy";
  picture.width = 800;
  picture.height = 1100;
  picture.className = "on-paper";
  const acts = element("p", "", "acts");
  const open = element("a", say("desk-plan.open-short"), "button");
  open.href = address("file", file, made);
  open.target = "_blank";
  open.setAttribute("aria-label", say("desk-plan.open", { file }));
  const print = element("button", say("desk-plan.print-short"));
  print.type = "button";
  print.setAttribute("aria-label", say("desk-plan.print", { file }));
  print.addEventListener("click", () => printed(address("file", file, made)));
  acts.append(open, print);
  card.append(picture, element("p", file, "file"), acts);
  item.append(card);
  return item;
}

// A page of its own prints itself: the browser's own viewer of PDFs asks for the printer. The focus stays where it is:
// nobody who goes by keyboard comes to the page that is not seen.
function printed(from) {
  document.getElementById("printing")?.remove();
  const frame = document.createElement("iframe");
  frame.id = "printing";
  frame.className = "unseen";
  frame.title = "";
  frame.tabIndex = -1;
  frame.setAttribute("aria-hidden", "true");
  frame.addEventListener("load", () => {
    try {
      frame.contentWindow.print();
    } catch {
      window.open(from, "_blank");
    }
  });
  frame.src = from;
  document.body.append(frame);
}

function others(files, made) {
  if (files.length === 0) return [];
  const list = element("ul", "");
  for (const file of files) {
    const item = element("li", "");
    const link = element("a", file);
    link.href = address("file", file, made);
    item.append(link);
    list.append(item);
  }
  return [element("h3", say("desk-plan.other-files")), list];
}

let papersShown = "";

async function papers() {
  const mine = number;
  at("papers-state").textContent = say(papersShown ? "desk-plan.papers-old" : "desk-plan.papers-wait");
  at("again").hidden = true;
  at("papers").setAttribute("aria-busy", "true");
  let answer;
  try {
    answer = await ask("papers");
  } catch {
    answer = 0;
  }
  if (mine !== number || answer === 409) return;
  at("papers").removeAttribute("aria-busy");
  if (typeof answer === "number" || answer.printed.length === 0) {
    at("papers-state").textContent = say("desk-plan.papers-failed");
    at("again").hidden = false;
    if (typeof answer !== "number") tellNotes(at("paper-notes"), notYetTold(answer.told.told));
    return;
  }
  const key = JSON.stringify([answer.number, answer.printed]);
  if (key !== papersShown) {
    const focused = at("papers").contains(document.activeElement) ? document.activeElement.getAttribute("aria-label") : "";
    at("papers").replaceChildren(...answer.printed.map((file) => leaf(file, answer.number)));
    at("others").replaceChildren(...others(answer.others, answer.number));
    papersShown = key;
    if (focused) (at("papers").querySelector(`[aria-label="${CSS.escape(focused)}"]`) ?? at("papers-title")).focus();
  }
  tellNotes(at("paper-notes"), notYetTold(answer.told.told));
  at("papers-state").textContent = say("desk-plan.papers-ready");
  announce(say("desk-plan.papers-ready"));
}

// What the plan has told already is not told again with the papers.
function notYetTold(told) {
  const before = new Set([...at("notes").children].map((one) => one.textContent));
  return told.filter((one) => !one.field && !before.has(one.text));
}

// --- what one does --------------------------------------------------------------------------------------------------

function soon() {
  clearTimeout(longer);
  clearTimeout(pause);
  pause = setTimeout(now, PAUSE);
}

function now() {
  clearTimeout(pause);
  clearTimeout(longer);
  last = JSON.stringify(typed());
  following = follow();
  return following;
}

// All tabs of an event show the same: what is typed in one stands in the others too, and none brings back what was.
const elsewhere = new BroadcastChannel(`foldwright-plan?${query}`);
elsewhere.addEventListener("message", ({ data }) => {
  for (const field of form.elements) {
    if (!(field.name in data)) continue;
    if (field.type === "checkbox") field.checked = data[field.name] === "yes";
    else field.value = data[field.name];
  }
  if (!document.hidden) soon();
});
form.addEventListener("input", () => {
  elsewhere.postMessage(typed());
  soon();
});
form.addEventListener("submit", (event) => { event.preventDefault(); now(); });
at("again").addEventListener("click", papers);
at("download").addEventListener("click", async (event) => {
  if (JSON.stringify(typed()) === last) return;
  event.preventDefault();
  await now();
  window.location.assign(at("download").href);
});
document.addEventListener("visibilitychange", () => { if (!document.hidden) now(); });
at("show")?.addEventListener("click", async () => {
  const button = at("show");
  const show = button.getAttribute("aria-pressed") !== "true";
  let answer = false;
  try {
    answer = await ask("show", { show });
  } catch {
    lost();
    return;
  }
  button.setAttribute("aria-pressed", String(answer === true));
  announce(say(answer === true ? "desk-plan.shown" : "desk-plan.not-shown"));
});
now();
