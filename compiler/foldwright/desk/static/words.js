// The words of the page, as its catalogue gave them: looked up by name, their slots filled.
const table = JSON.parse(document.getElementById("words").textContent);

export function say(name, facts = {}) {
  const text = table[name];
  if (text === undefined) throw new Error(`no words called ${name}`);
  return text.replace(/\{([a-z][a-z0-9_]*)\}/g, (slot, fact) => (fact in facts ? String(facts[fact]) : slot));
}

// All texts of a table, by the rest of their names.
export function under(prefix) {
  const start = `${prefix}.`;
  return Object.fromEntries(Object.entries(table).filter(([name]) => name.startsWith(start)).map(([name, text]) => [name.slice(start.length), text]));
}

// Many controls say the same of different things: the name of its thing is read out with it.
export function named(control, id, thing) {
  control.id = id;
  control.setAttribute("aria-labelledby", `${id} ${thing.id}`);
}

// What happened, for those who cannot see it: said once, by the page's one live region.
let last = 0;
export function announce(text) {
  const region = document.getElementById("said");
  clearTimeout(last);
  region.textContent = "";
  last = setTimeout(() => { region.textContent = text; }, 60);
}
