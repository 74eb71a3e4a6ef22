// The reader's side of specgen/site/search.py: loads the shards a query needs, and no others.
(() => {
  "use strict";
  const SHOWN = 24;
  const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  const VALUE = new Map(Array.from(DIGITS, (digit, value) => [digit, value]));
  const say = window.specgenSay;
  const ROOT = document.documentElement.dataset.root || "";

  // --- loading: each file of the index is a script that calls one of these three ---
  let start = null;
  const words = new Map();
  const pages = new Map();
  const loading = new Map();
  window.specgenSearch = {
    start: (data) => {
      start = {
        ...data,
        leaves: new Set(data.leaves.split(" ")),
        inner: new Set(data.inner.split(" ")),
      };
    },
    words: (letters, data) => words.set(letters, new Map(Object.entries(data))),
    pages: (chunk, data) => pages.set(chunk, data),
  };

  const load = (name) => {
    if (!loading.has(name)) {
      loading.set(
        name,
        new Promise((done) => {
          const script = document.createElement("script");
          script.src = `${ROOT}search/${name}.js`;
          script.onload = done;
          script.onerror = () => {
            loading.delete(name);
            done();
          };
          document.head.append(script);
        }),
      );
    }
    return loading.get(name);
  };

  const plainName = (letters) =>
    Array.from(letters, (sign) =>
      /[a-z0-9]/.test(sign) ? sign : `_${sign.codePointAt(0).toString(16)}_`,
    ).join("");

  // --- finding ---
  // What was typed in one go: a word, or a code such as `qb-104`, which has pieces.
  const codesOf = (text) =>
    text
      .normalize("NFKD")
      .toLowerCase()
      .replace(/\p{M}/gu, "")
      .match(/[\p{L}\p{N}]+(?:[-./+][\p{L}\p{N}]+)*/gu) || [];

  const addPostings = (written, factor, into) => {
    for (const group of written ? written.split(".") : []) {
      const weight = VALUE.get(group[0]) * factor;
      let slot = 0;
      let gap = 0;
      let shift = 0;
      for (let at = 1; at < group.length; at += 1) {
        const value = VALUE.get(group[at]);
        gap |= (value & 31) << shift;
        shift += 5;
        if (value & 32) continue;
        slot += gap;
        gap = shift = 0;
        if (weight > (into.get(slot) || 0)) into.set(slot, weight);
      }
    }
  };

  // The pages that have a word beginning so; a whole word counts twice.
  const pagesWith = async (term) => {
    const letters = Array.from(term);
    const found = new Map();
    for (let length = letters.length; length > 0; length -= 1) {
      const name = letters.slice(0, length).join("");
      const divided = start.inner.has(name);
      if (divided && length < letters.length) return found;
      if (!divided && !start.leaves.has(name)) continue;
      await load(`w-${plainName(name)}`);
      const shard = words.get(name) || new Map();
      if (divided) addPostings(shard.get(""), 1, found);
      for (const [word, written] of shard) {
        if (word && word.startsWith(term)) addPostings(written, word === term ? 2 : 1, found);
      }
      return found;
    }
    return found;
  };

  // The pages that have every one of several words, with the sum of their weights.
  const inAll = (each) => {
    const [fewest, ...others] = [...each].sort((one, other) => one.size - other.size);
    const found = new Map();
    for (const [slot, weight] of fewest) {
      if (others.every((other) => other.has(slot))) {
        found.set(slot, others.reduce((sum, other) => sum + other.get(slot), weight));
      }
    }
    return found;
  };

  // A code is found whole, which counts most, or by all of its pieces.
  const pagesWithCode = async (code) => {
    const pieces = code.split(/[-./+]/);
    if (pieces.length === 1) return pagesWith(code);
    const [whole, ...each] = await Promise.all([code, ...pieces].map(pagesWith));
    const found = inAll(each);
    for (const [slot, weight] of whole) found.set(slot, (found.get(slot) || 0) + 4 * weight);
    return found;
  };

  const find = async (text) => {
    await load("start");
    const codes = [...new Set(codesOf(text))];
    if (!start || codes.length === 0) return { total: 0, results: [] };
    const each = await Promise.all(codes.map(pagesWithCode));
    const scored = Array.from(inAll(each), ([slot, weight]) => [weight, slot]);
    scored.sort((one, other) => other[0] - one[0] || one[1] - other[1]);
    const best = scored.slice(0, SHOWN);
    const chunks = new Set(best.map(([, slot]) => slot >> start.shift));
    await Promise.all(Array.from(chunks, (chunk) => load(`p-${chunk.toString(16)}`)));
    const results = [];
    for (const [score, slot] of best) {
      const record = (pages.get(slot >> start.shift) || {})[slot];
      if (!record) continue;
      const [path, title, section, summary] = record;
      results.push({ score, path, title, section, summary });
    }
    return { total: scored.length, results };
  };

  // --- showing: a combobox with a listbox, groups named by section ---
  const field = document.getElementById("search-words");
  const panel = document.querySelector(".search-panel");
  const list = document.getElementById("search-found");
  const note = document.querySelector(".search-note");
  const said = document.getElementById("search-said");
  let options = [];
  let active = -1;
  let asked = 0;

  const addressOf = (path) => ROOT + path.split("/").map(encodeURIComponent).join("/");

  const make = (tag, attributes, ...children) => {
    const element = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    element.append(...children);
    return element;
  };

  const activate = (index) => {
    if (options[active]) options[active].setAttribute("aria-selected", "false");
    active = index;
    const option = options[active];
    if (!option) {
      field.removeAttribute("aria-activedescendant");
      return;
    }
    option.setAttribute("aria-selected", "true");
    option.scrollIntoView({ block: "nearest" });
    field.setAttribute("aria-activedescendant", option.id);
  };

  const close = () => {
    asked += 1;
    panel.hidden = true;
    field.setAttribute("aria-expanded", "false");
    activate(-1);
  };

  const optionOf = (result) => {
    const option = make(
      "div",
      { role: "option", "aria-selected": "false", "data-href": addressOf(result.path) },
      make("span", { class: "found-title" }, result.title),
    );
    if (result.summary) {
      option.append(" ", make("span", { class: "found-summary" }, result.summary));
    }
    return option;
  };

  const show = ({ total, results }) => {
    const groups = new Map(); // sections stand in the order of their best page
    for (const result of results) {
      if (!groups.has(result.section)) groups.set(result.section, []);
      groups.get(result.section).push(result);
    }
    list.replaceChildren();
    options = [];
    for (const [section, members] of groups) {
      const id = `search-section-${section}`;
      const heading = make(
        "div",
        { class: "found-section", id, role: "presentation" },
        start.sections[section],
      );
      const group = make("div", { role: "group", "aria-labelledby": id }, heading);
      for (const result of members) {
        const option = optionOf(result);
        option.id = `search-option-${options.length}`;
        options.push(option);
        group.append(option);
      }
      list.append(group);
    }
    const count =
      total === 0
        ? say("No page has all of these words")
        : total > results.length
          ? say("The best {1} of {2} pages", results.length, total)
          : total === 1
            ? say("1 page")
            : say("{1} pages", total);
    note.textContent = count;
    said.textContent = count;
    list.hidden = total === 0;
    panel.hidden = false;
    field.setAttribute("aria-expanded", String(total > 0));
    activate(-1);
  };

  const search = async () => {
    if (!field.value.trim()) {
      said.textContent = "";
      close();
      return;
    }
    asked += 1;
    const mine = asked;
    const found = await find(field.value);
    if (mine === asked) show(found); // an older question's answer is no longer wanted
  };

  const open = (option, elsewhere) => {
    if (!option) return;
    if (elsewhere) window.open(option.dataset.href, "_blank", "noopener");
    else window.location.href = option.dataset.href;
  };

  field.addEventListener("focus", () => load("start"));
  field.addEventListener("input", search);
  field.addEventListener("keydown", (event) => {
    const move = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (move && panel.hidden) {
      search();
      event.preventDefault();
    } else if (move && options.length) {
      // One place before the first is the field itself.
      const places = options.length + 1;
      activate(((active + 1 + move + places) % places) - 1);
      event.preventDefault();
    } else if (event.key === "Escape") {
      if (panel.hidden) field.value = "";
      close();
      event.preventDefault();
    }
  });
  field.form.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (panel.hidden || !options.length) await search();
    open(options[Math.max(active, 0)], false);
  });
  list.addEventListener("mousedown", (event) => event.preventDefault()); // the field keeps the focus
  list.addEventListener("click", (event) =>
    open(event.target.closest("[role=option]"), event.ctrlKey || event.metaKey),
  );
  field.form.addEventListener("focusout", (event) => {
    if (!field.form.contains(event.relatedTarget)) close();
  });
  document.addEventListener("keydown", (event) => {
    const typing = event.target.closest("input, textarea, select, [contenteditable]");
    if (event.key !== "/" || typing || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    field.focus();
    field.select();
  });
})();
