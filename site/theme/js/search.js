// The search field: asks find.js, and shows values first, then pages.
(() => {
  "use strict";
  const say = window.specgenSay;
  const ROOT = document.documentElement.dataset.root || "";

  // --- showing: a combobox with a listbox, groups named by section ---
  const field = document.getElementById("search-words");
  const panel = document.querySelector(".search-panel");
  const list = document.getElementById("search-found");
  const note = document.querySelector(".search-note");
  const said = document.getElementById("search-said");
  const LONG = 24; // signs from which on a value is a sentence
  let options = [];
  let active = -1;
  let asked = 0;

  const addressOf = (path) => {
    const [page, anchor] = path.split("#");
    const way = ROOT + page.split("/").map(encodeURIComponent).join("/");
    return anchor ? `${way}#${anchor}` : way;
  };

  const make = window.specgenMake;

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

  const valueOf = ({ path, title, label, value }) =>
    make(
      "div",
      { role: "option", "aria-selected": "false", "data-href": addressOf(path) },
      make("span", { class: value.length > LONG ? "found-value sentence" : "found-value" }, value),
      " ",
      make("span", { class: "found-title" }, label),
      " ",
      make("span", { class: "found-summary" }, title),
    );

  const show = ({ total, named, values, results }) => {
    const groups = new Map(); // sections stand in the order of their best page
    const ofValues = () => values.length && groups.set(say("Values"), values.map(valueOf));
    if (!named) ofValues();
    for (const result of results) {
      if (!groups.has(result.section)) groups.set(result.section, []);
      groups.get(result.section).push(optionOf(result));
    }
    if (named) ofValues();
    list.replaceChildren();
    options = [];
    for (const [section, members] of groups) {
      const id = `search-section-${list.children.length}`;
      const heading = make("div", { class: "found-section", id, role: "presentation" }, section);
      const group = make("div", { role: "group", "aria-labelledby": id }, heading);
      for (const option of members) {
        option.id = `search-option-${options.length}`;
        options.push(option);
        group.append(option);
      }
      list.append(group);
    }
    const count =
      total === 0
        ? say("No page has any of these words")
        : total > results.length
          ? say("The best {1} of {2} pages", results.length, total)
          : total === 1
            ? say("1 page")
            : say("{1} pages", total);
    note.textContent = count;
    said.textContent = count;
    list.hidden = options.length === 0;
    panel.hidden = false;
    field.setAttribute("aria-expanded", String(options.length > 0));
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
    const found = await window.specgenFind(field.value);
    if (mine === asked) show(found); // an older question's answer is no longer wanted
  };

  const open = (option, elsewhere) => {
    if (!option) return;
    if (elsewhere) window.open(option.dataset.href, "_blank", "noopener");
    else window.location.href = option.dataset.href;
  };

  field.addEventListener("focus", () => window.specgenLoad("search/start"));
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
