// Beginning: what is typed is sent as it is, and what the answer has anew takes the place of what stands there.
// Without this script every page does the same with its buttons.
import { announce, say } from "/static/words.js";

const form = document.querySelector("form[data-live]");
const PAUSE = 250;
let pause = 0;
let asking = null;
const lost = document.createElement("p");
lost.className = "trouble";

async function ask(button, wholly) {
  clearTimeout(pause);
  asking?.abort();
  asking = new AbortController();
  const sent = new URLSearchParams(new FormData(form));
  const before = typed(form);
  sent.delete("do");
  sent.set("do", button?.value ?? "look");
  form.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(form.action, { method: "POST", body: sent, signal: asking.signal });
    if (answer.redirected && !answer.url.startsWith(form.action)) { location.assign(answer.url); return; }
    lost.remove();
    renew(new DOMParser().parseFromString(await answer.text(), "text/html"), wholly, before);
    form.removeAttribute("aria-busy");
    if (button?.dataset.then) show(button.dataset.then);
  } catch (trouble) {
    if (trouble.name === "AbortError") return;
    form.removeAttribute("aria-busy");
    lost.textContent = say("desk-begin-live.unreachable");
    form.append(lost);
    announce(lost.textContent);
  }
}

// What has the keyboard's focus is left as it is, so that nobody is interrupted; `wholly` renews it too.
function renew(fresh, wholly, before) {
  const had = document.activeElement?.id;
  for (const part of document.querySelectorAll("[data-fresh]")) {
    if (!part.isConnected) continue;
    const other = fresh.getElementById(part.id);
    if (!other || part.innerHTML === other.innerHTML) continue;
    if (!wholly && part.contains(document.activeElement)) marked(part, other);
    else replaced(part, other, before);
  }
  marked(form, fresh);
  if (had && document.activeElement?.id !== had) document.getElementById(had)?.focus();
  told();
  light(document.activeElement?.dataset.side);
}

// What was typed since it was sent is kept: the answer knows nothing of it.
function replaced(part, other, before) {
  const since = [...typed(part)].filter(([id, value]) => before.has(id) && before.get(id) !== value);
  part.innerHTML = other.innerHTML;
  for (const [id, value] of since) {
    const field = document.getElementById(id);
    if (field) field.value = value;
  }
}

function typed(part) {
  const fields = [...part.querySelectorAll("input[id]:not([type=radio], [type=checkbox]), select[id], textarea[id]")];
  return new Map(fields.map((field) => [field.id, field.value]));
}

function marked(part, fresh) {
  for (const field of part.querySelectorAll("input[id], select[id], textarea[id]")) {
    const other = fresh.querySelector(`#${CSS.escape(field.id)}`);
    if (other?.getAttribute("aria-invalid")) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
  }
}

let said = "";
function told() {
  const troubles = [...document.querySelectorAll(".trouble")].map((one) => one.textContent.trim()).filter(Boolean);
  const now = troubles.join(" ");
  if (now !== said) announce(now);
  said = now;
}

function show(id) {
  const wrong = form.querySelector("[aria-invalid]");
  const place = wrong ?? document.getElementById(id);
  place?.focus();
  place?.scrollIntoView({ block: "nearest" });
}

// The side of a drawing that a field asks for, and the field that a side stands for.
function light(side) {
  for (const group of document.querySelectorAll("[data-sides] .side")) {
    group.classList.toggle("lit", side !== undefined && group.dataset.side === side);
  }
}

if (form) {
  form.addEventListener("input", (event) => {
    if (event.target.closest("[data-quiet]")) return;
    const drawn = event.target.closest("[data-redraw]");
    clearTimeout(pause);
    pause = setTimeout(() => ask(null, Boolean(drawn)), drawn ? 0 : PAUSE);
  });
  form.addEventListener("submit", (event) => {
    const button = event.submitter;
    if (button && !button.dataset.then) { clearTimeout(pause); asking?.abort(); return; }
    event.preventDefault();
    if (button && "waits" in button.dataset) announce(say("desk-begin-live.working"));
    ask(button, true);
  });
  document.addEventListener("focusin", (event) => light(event.target.dataset?.side));
  document.addEventListener("click", (event) => {
    const group = event.target.closest?.("[data-sides] .side");
    if (!group) return;
    const field = form.querySelector(`[data-side="${CSS.escape(group.dataset.side)}"]`);
    field?.focus();
    field?.select?.();
  });
  const wrong = form.querySelector("[aria-invalid]");
  if (wrong) wrong.focus();
  told();
  // Who typed before this script was there is not passed over.
  light(document.activeElement?.dataset.side);
}
