// The run of the day by the tablet's own clock: what is going on now stands large, and the page follows a changed plan.
const words = JSON.parse(document.getElementById("words").textContent);
const EVERY = 5000;
const at = (id) => document.getElementById(id);
let before = "";

function say(name, facts = {}) {
  return words[`desk-share.${name}`].replace(/\{([a-z]+)\}/g, (slot, fact) => facts[fact] ?? slot);
}

function isToday(day) {
  const now = new Date();
  const parts = [now.getFullYear(), now.getMonth() + 1, now.getDate()];
  return day === "" || day === parts.map((one) => String(one).padStart(2, "0")).join("-");
}

function look() {
  const now = new Date();
  const seconds = now.getHours() * 3600 + now.getMinutes() * 60 + now.getSeconds();
  const entries = [...at("run").querySelectorAll("li")];
  at("now").hidden = entries.length === 0 || !isToday(at("run").dataset.day);
  if (at("now").hidden) return;
  const begun = entries.filter((one) => Number(one.dataset.at) <= seconds);
  const since = begun.length ? begun.at(-1).dataset.at : "";
  const current = begun.filter((one) => one.dataset.at === since);
  const next = entries[begun.length];
  const state = `${since} ${next?.dataset.at ?? ""} ${entries.length} ${at("run").dataset.number}`;
  if (state === before) return;
  before = state;
  for (const one of entries) {
    one.classList.toggle("past", begun.includes(one) && !current.includes(one));
    one.toggleAttribute("aria-current", current.includes(one));
    if (current.includes(one)) one.setAttribute("aria-current", "time");
  }
  at("current").replaceChildren(...(current.length ? current.map(large) : [paragraph(say("before"))]));
  at("next").textContent = next
    ? `${say("next", { time: next.querySelector("time").textContent })}: ${next.querySelector("span").textContent}`
    : say("after");
}

function paragraph(text) {
  const made = document.createElement("p");
  made.textContent = text;
  return made;
}

function large(entry) {
  const made = paragraph(entry.querySelector("span").textContent);
  const since = document.createElement("span");
  since.className = "since";
  since.textContent = say("from-time", { time: entry.querySelector("time").textContent });
  made.append(since);
  return made;
}

async function ask() {
  try {
    const answer = await fetch(at("run").dataset.state);
    if (answer.status === 404 || answer.status === 403) window.location.reload();
    else if (answer.ok && (await answer.text()) !== at("run").dataset.number) await anew();
  } catch {
    return;
  }
}

async function anew() {
  const answer = await fetch(window.location.href);
  if (!answer.ok) return;
  const made = new DOMParser().parseFromString(await answer.text(), "text/html");
  const run = made.getElementById("run");
  at("run").innerHTML = run.innerHTML;
  Object.assign(at("run").dataset, run.dataset);
  document.querySelector("h1").textContent = made.querySelector("h1").textContent;
  at("said").textContent = say("changed");
  before = "";
  look();
}

look();
setInterval(look, 1000);
setInterval(ask, EVERY);
