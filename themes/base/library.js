"use strict";
// Finds recipes in the browser: by words, by what they are, by what the reader has at home. The data come as a script of
// their own once somebody asks, since a page opened from a file may fetch nothing. `foldwrightWords` stands above this.
(function () {
  const AT_ONCE = 24;
  const SUPPLIES_AT_ONCE = 40;
  const QUIET = 500;
  const STORE = "foldwright-at-home";
  const MOST_CARDS = 500;
  const NONE = 65535;
  const form = document.getElementById("finder");
  if (!form) { return; }
  const part = (id) => document.getElementById(id);
  const choices = [...form.querySelectorAll("select")];
  const facets = choices.map((choice) => choice.dataset.facet).filter((name) => name !== "up-to");
  const nothing = () => ({ q: "", by: Object.fromEntries(choices.map((choice) => [choice.dataset.facet, ""])), home: false });
  let wish = nothing();
  let library = null;
  let waiting = [];
  let answer = [];
  let shown = 0;
  let ticked = null;
  let there = new Set();
  let ofKind = new Map();
  let later = 0;
  const cards = new Map();

  function say(name, facts) {
    const text = foldwrightWords[`library.script.${name}`];
    return text.replace(/\{([a-z]+)\}/g, (slot, fact) => String(facts[fact]));
  }
  const forms = new Intl.PluralRules(document.documentElement.lang);
  function counted(name, count) {
    const own = `${name}-${forms.select(count)}`;
    return say(`library.script.${own}` in foldwrightWords ? own : `${name}-other`, { count });
  }

  // The data, once; whoever needs them waits.
  window.foldwrightLibrary = function (data) {
    library = data;
    library.letters = new Map(data.fold);
    library.times = new Map(data.times);
    library.numbers = Object.fromEntries(facets.map((name) => [name, new Map(data.names[name].map((one, at) => [one, at]))]));
    for (const next of waiting.splice(0)) { next(); }
  };
  function ready(next) {
    if (library) { next(); return; }
    waiting.push(next);
    if (waiting.length > 1) { return; }
    const script = document.createElement("script");
    script.src = form.dataset.search;
    script.addEventListener("error", () => {
      waiting = [];
      script.remove();
      part("found").hidden = false;
      part("found-count").textContent = say("unread", {});
    });
    document.head.append(script);
  }

  // Words, folded as the index has them.
  function folded(text) {
    const apart = text.normalize("NFKD").toLowerCase().replace(/\p{M}/gu, "");
    return [...apart].map((letter) => library.letters.get(letter) || letter).join("");
  }
  function wordsIn(text) {
    return folded(text.replace(/['’ʼ]/g, "")).match(/[\p{L}\p{N}]+/gu) || [];
  }

  // For each recipe how far from the front a word with this beginning stands, whole words before others.
  function places(beginning) {
    const { words, fields } = library;
    const found = new Uint16Array(library.rows.length).fill(NONE);
    let low = 0;
    let high = words.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (words[middle] < beginning) { low = middle + 1; } else { high = middle; }
    }
    for (let at = low; at < words.length && words[at].startsWith(beginning); at += 1) {
      const longer = words[at] === beginning ? 0 : 1;
      let row = 0;
      for (const step of library.places[at]) {
        row += Math.floor(step / fields);
        const rank = 2 * (step % fields) + longer;
        if (rank < found[row]) { found[row] = rank; }
      }
    }
    return found;
  }
  // One number for each recipe in which all the words stand: the less, the nearer to the front.
  function ranks(text) {
    const sums = new Uint16Array(library.rows.length);
    for (const word of new Set(wordsIn(text))) {
      const found = places(word);
      for (let row = 0; row < sums.length; row += 1) {
        sums[row] = found[row] === NONE || sums[row] === NONE ? NONE : sums[row] + found[row];
      }
    }
    return sums;
  }

  // How it stands with what a recipe cannot do without, by number of the supply: what is lacking, and what may stand in
  // for what: something its author names, else another of its kind.
  function standing(row) {
    const lacking = [];
    const instead = [];
    for (const [[own, ...others], kind] of row.needs) {
      if (there.has(own)) { continue; }
      const other = others.find((one) => there.has(one)) ?? ofKind.get(kind);
      if (other === undefined) { lacking.push(own); } else { instead.push([own, other]); }
    }
    return { lacking, instead };
  }
  function reckon() {
    there = new Set();
    ofKind = new Map();
    library.supplies.forEach((name, number) => {
      if (!ticked.has(name)) { return; }
      there.add(number);
      const kind = library.kinds[number];
      if (kind && !ofKind.has(kind)) { ofKind.set(kind, number); }
    });
  }
  function byCompleteness(one, other) {
    return one.lacking.length - other.lacking.length || one.instead.length - other.instead.length;
  }
  function told({ lacking, instead }) {
    const named = (one) => library.supplies[one];
    const things = lacking.map(named).join(say("comma", {}));
    const ways = instead.map(([own, other]) => say("instead", { name: named(own), other: named(other) }));
    return [lacking.length ? say("lacks", { things }) : say("complete", {}), ...ways].join(" ");
  }

  // The numbers of the recipes wished for, in order, and how many there would be with each choice.
  function find() {
    if (wish.home) { reckon(); }
    const rank = ranks(wish.q);
    const most = Number(wish.by["up-to"]);
    const wanted = facets.map((name) => (wish.by[name] ? library.numbers[name].get(wish.by[name]) : -1));
    const counts = facets.map((name) => new Uint32Array(library.names[name].length));
    const quick = new Uint32Array(library.limits.length);
    const own = 1 << facets.length;
    const found = [];
    library.rows.forEach((row, number) => {
      if (rank[number] === NONE) { return; }
      let fails = most && !(row.minutes && row.minutes <= most) ? own : 0;
      wanted.forEach((one, facet) => { if (one !== -1 && !row.is[facet].includes(one)) { fails |= 1 << facet; } });
      if (!fails) { found.push(number); }
      counts.forEach((count, facet) => {
        if (!(fails & ~(1 << facet))) { for (const one of row.is[facet]) { count[one] += 1; } }
      });
      if (!(fails & ~own) && row.minutes) {
        library.limits.forEach(([limit], at) => { if (row.minutes <= limit) { quick[at] += 1; } });
      }
    });
    const stand = new Map(wish.home ? found.map((number) => [number, standing(library.rows[number])]) : []);
    found.sort((one, other) => (wish.home && byCompleteness(stand.get(one), stand.get(other))) || rank[one] - rank[other] || one - other);
    return { found, counts, quick };
  }

  // A card as the page has them; a look's own may lack a part. One that was shown before is shown again, its picture with it.
  function card(number) {
    if (wish.home) { return filled(number); }
    if (cards.size > MOST_CARDS) { cards.clear(); }
    if (!cards.has(number)) { cards.set(number, filled(number)); }
    return cards.get(number);
  }
  function filled(number) {
    const row = library.rows[number];
    const made = part("card").content.firstElementChild.cloneNode(true);
    const root = form.dataset.root;
    const fill = (slot, text) => {
      const place = made.querySelector(`[data-slot=${slot}]`);
      if (!place) { return; }
      if (text) { place.textContent = text; } else { (place.closest("[data-whole]") || place).remove(); }
    };
    for (const link of made.querySelectorAll("a")) { link.href = `${root}${encodeURIComponent(row.slug)}/${library.page}`; }
    fill("title", row.title);
    fill("summary", row.summary);
    fill("level", row.is[facets.indexOf("level")].map((one) => library.names.level[one])[0]);
    fill("time", library.times.get(row.minutes));
    fill("needs", row.needs.map(([[own]]) => library.supplies[own]).join(say("comma", {})));
    fill("lacks", wish.home && told(standing(row)));
    const picture = made.querySelector("img");
    if (!picture) { return made; }
    if (row.picture) {
      const [sizes, shows] = row.picture;
      const at = (file) => root + [row.slug, ...file.split("/")].map(encodeURIComponent).join("/");
      [picture.width, picture.height] = sizes[0].slice(1);
      picture.alt = shows;
      if (sizes.length > 1) { picture.srcset = sizes.map(([file, wide]) => `${at(file)} ${wide}w`).join(", "); }
      picture.src = at(sizes[0][0]);
      picture.parentElement.classList.add(sizes[0][0].endsWith(".svg") ? "drawn" : "photo");
    } else {
      picture.remove();
    }
    return made;
  }
  function more() {
    const next = answer.slice(shown, shown + AT_ONCE).map(card);
    part("found-cards").append(...next);
    shown += next.length;
    const rest = answer.length - shown;
    part("more").hidden = !rest;
    part("more").textContent = say("more", { count: Math.min(rest, AT_ONCE) });
    return next[0];
  }

  function offer(choice, options) {
    const chosen = wish.by[choice.dataset.facet];
    const made = options.map(([value, text, count]) => {
      const option = new Option(say("option", { name: text, count }), value, false, value === chosen);
      option.disabled = !count && value !== chosen;
      return option;
    });
    choice.replaceChildren(choice.options[0], ...made);
    choice.value = chosen;
  }

  function show() {
    // Choices that are not seen need no numbers: toggling the filters shows anew.
    const asked = wish.q.trim() || wish.home || choices.some((choice) => wish.by[choice.dataset.facet]);
    const { found, counts, quick } = find();
    if (part("filters").open) {
      facets.forEach((name, facet) => {
        offer(choices[facet], library.names[name].map((one, at) => [one, one, counts[facet][at]]));
      });
      offer(part("by-up-to"), library.limits.map(([limit, text], at) => [String(limit), text, quick[at]]));
    }
    answer = found;
    shown = 0;
    part("found-cards").replaceChildren();
    part("found").hidden = !asked;
    part("projects").hidden = Boolean(asked);
    part("more").hidden = true;
    if (!asked) { clearTimeout(later); part("said").textContent = ""; return; }
    const text = found.length ? counted("found", found.length) : say("none", {});
    part("found-count").textContent = text;
    more();
    clearTimeout(later);
    later = setTimeout(() => { part("said").textContent = text; }, QUIET);
  }

  // The address keeps what was asked, so that it can be sent and gone back to.
  function address() {
    const kept = new URLSearchParams();
    if (wish.q.trim()) { kept.set("q", wish.q.trim()); }
    for (const [name, value] of Object.entries(wish.by)) { if (value) { kept.set(name, value); } }
    if (wish.home) { kept.set("home", "1"); }
    const text = kept.toString();
    return location.href.split("#")[0] + (text ? `#${text}` : "");
  }
  function keep(anew) {
    const next = address();
    if (next === location.href) { return; }
    try { history[anew ? "pushState" : "replaceState"](null, "", next); } catch (refused) { return; }
  }
  function renew(anew) {
    ready(() => { show(); keep(anew); });
  }
  function recall() {
    const text = location.hash.slice(1);
    if (text && !text.includes("=")) { return; }
    const kept = new URLSearchParams(text);
    wish = nothing();
    wish.q = kept.get("q") || "";
    for (const choice of choices) { wish.by[choice.dataset.facet] = kept.get(choice.dataset.facet) || ""; }
    wish.home = kept.has("home");
    if (!text && !library) { return; }
    ready(() => {
      for (const name of facets) { if (!library.numbers[name].has(wish.by[name])) { wish.by[name] = ""; } }
      if (!library.limits.some(([limit]) => String(limit) === wish.by["up-to"])) { wish.by["up-to"] = ""; }
      part("q").value = wish.q;
      if (Object.values(wish.by).some(Boolean)) { part("filters").open = true; }
      part("at-home").open = wish.home;
      if (wish.home) { list(); }
      show();
    });
  }

  // What the reader has: kept by this browser, at first what is on the studio's shelf.
  function kept() {
    try { return JSON.parse(localStorage.getItem(STORE)); } catch (refused) { return null; }
  }
  function tick(names) {
    ticked = new Set(names);
    try { localStorage.setItem(STORE, JSON.stringify([...ticked])); } catch (refused) { return; }
  }
  function list() {
    if (!ticked) { const own = kept(); ticked = new Set(Array.isArray(own) ? own : library.stock); }
    const wanted = wordsIn(part("narrow").value);
    const fits = (name) => { const own = wordsIn(name); return wanted.every((one) => own.some((word) => word.startsWith(one))); };
    const all = library.supplies.filter(fits);
    const first = [...all.filter((name) => ticked.has(name)), ...all.filter((name) => !ticked.has(name))].slice(0, SUPPLIES_AT_ONCE);
    part("supplies").replaceChildren(...first.map((name) => {
      const item = document.createElement("li");
      const label = document.createElement("label");
      const box = document.createElement("input");
      box.type = "checkbox";
      box.checked = ticked.has(name);
      box.addEventListener("change", () => {
        tick(box.checked ? [...ticked, name] : [...ticked].filter((one) => one !== name));
        show();
      });
      const text = document.createElement("span");
      text.textContent = name;
      label.append(box, text);
      item.append(label);
      return item;
    }));
    part("narrowed").hidden = all.length === first.length;
    part("narrowed").textContent = say("narrowed", { count: all.length - first.length });
    part("from-stock").hidden = !library.stock.length;
  }
  function again(names) {
    tick(names);
    list();
    show();
  }

  part("q").addEventListener("input", () => {
    const anew = !wish.q.trim();
    wish.q = part("q").value;
    renew(anew);
  });
  // The first key is answered as quickly as the others if the browser has done it all before.
  part("q").addEventListener("focus", () => ready(() => { ranks("a"); find(); }), { once: true });
  for (const choice of choices) {
    choice.addEventListener("change", () => { wish.by[choice.dataset.facet] = choice.value; renew(true); });
  }
  part("filters").addEventListener("toggle", () => { if (part("filters").open) { ready(show); } });
  part("at-home").addEventListener("toggle", () => {
    if (part("at-home").open === wish.home) { return; }
    wish.home = part("at-home").open;
    ready(() => { if (wish.home) { list(); } show(); keep(true); });
  });
  part("narrow").addEventListener("input", () => ready(list));
  part("untick").addEventListener("click", () => ready(() => again([])));
  part("from-stock").addEventListener("click", () => ready(() => again(library.stock)));
  part("more").addEventListener("click", () => more().querySelector("a")?.focus());
  part("clear").addEventListener("click", () => {
    wish = nothing();
    part("q").value = "";
    part("at-home").open = false;
    renew(true);
    part("q").focus();
  });
  part("q").addEventListener("keydown", (event) => {
    if (event.key === "Enter" && !part("found").hidden) { part("found-count").focus(); }
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  window.addEventListener("popstate", recall);
  form.hidden = false;
  recall();
}());
