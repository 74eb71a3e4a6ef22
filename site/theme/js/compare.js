// The reader's side of specgen/site/compare.py: two to five machines side by side. The choice stands
// in the address, so that it can be kept and mailed.
(() => {
  "use strict";
  const say = window.specgenSay;
  const ROOT = document.documentElement.dataset.root || "";
  const article = document.querySelector("main .document");
  const fixed = [...article.children].filter((each) => !each.matches(".document-head"));
  let start = null;
  const machines = window.specgenCompare.systems;
  window.specgenCompare.start = (data) => {
    start = data;
  };
  const load = window.specgenLoad;

  const make = window.specgenMake;

  // --- the choice, as the address has it: #compare=build:a,platform:b&only=differences&rows=all,
  // or, of a link without script, ?compare=build:a ---
  const LEADING = 20;
  let chosen = [];
  let onlyDifferent = false;
  let every = false;

  const read = () => {
    const told = new URLSearchParams(location.hash.slice(1) || location.search);
    const known = new Set(start.machines.map(([reference]) => reference));
    const named = (told.get("compare") || "").split(",");
    chosen = [...new Set(named)].filter((each) => known.has(each)).slice(0, start.most);
    onlyDifferent = told.get("only") === "differences";
    every = told.get("rows") === "all";
  };

  const write = () => {
    const further = `${onlyDifferent ? "&only=differences" : ""}${every ? "&rows=all" : ""}`;
    const told = chosen.length ? `#compare=${chosen.join(",")}${further}` : "";
    history.replaceState(null, "", location.pathname + told);
  };

  // --- the controls ---
  const picker = make("select", { id: "compare-pick" });
  const add = make("button", { type: "submit" }, say("Add"));
  const list = make("ul", { class: "compare-chosen", "aria-label": say("Chosen") });
  const only = make("input", { type: "checkbox", id: "compare-only" });
  const toggle = make("p", { class: "compare-only" }, only, make("label", { for: "compare-only" }, say("Only rows that differ")));
  const said = make("p", { class: "list-count", role: "status" });
  const form = make(
    "form",
    { class: "list-filter compare-form", "aria-label": say("Choose what to compare") },
    make("p", { class: "list-field" }, make("label", { for: "compare-pick" }, say("Platform or build")), picker),
    add,
    toggle,
    said,
  );
  const place = make("div", { class: "compare-place" });
  const all = make("button", { type: "button", class: "compare-all" });
  all.addEventListener("click", () => {
    every = !every;
    show().then(() => all.focus());
  });

  const fillPicker = () => {
    const groups = new Map();
    for (const [reference, name, platform] of start.machines) {
      const title = reference.startsWith("platform:") ? say("Platforms") : say("Builds of {1}", platform);
      if (!groups.has(title)) groups.set(title, make("optgroup", { label: title }));
      groups.get(title).append(make("option", { value: reference }, name));
    }
    picker.replaceChildren(...groups.values());
  };

  const entry = (reference) => start.machines.find(([each]) => each === reference);

  const showChosen = () => {
    list.replaceChildren(
      ...chosen.map((reference) => {
        const [, name] = entry(reference);
        const button = make("button", { type: "button", "aria-label": say("Remove {1}", name) }, "×");
        button.addEventListener("click", () => {
          const at = chosen.indexOf(reference);
          chosen.splice(at, 1);
          show().then(() => {
            const others = list.querySelectorAll("button");
            (others[Math.min(at, others.length - 1)] || picker).focus();
          });
        });
        return make("li", {}, name, button);
      }),
    );
    list.hidden = !chosen.length;
    for (const option of picker.querySelectorAll("option")) option.disabled = chosen.includes(option.value);
    if (picker.selectedOptions[0]?.disabled) {
      const free = [...picker.options].find((option) => !option.disabled);
      if (free) picker.value = free.value;
    }
    add.disabled = chosen.length >= start.most;
    only.checked = onlyDifferent;
    toggle.hidden = chosen.length < 2;
  };

  // --- the table ---
  const printed = (value) => {
    if (!value) return "–";
    const [number, unit] = value;
    const span = make("span", { class: number.includes(" ") ? "value words" : "value" }, number);
    if (unit) span.append(make("span", { class: "unit" }, `\u202f${unit}`));
    return span;
  };

  const rowOf = (key, label, shown) => {
    const values = shown.map((reference) => machines.get(reference).values[key]);
    if (!values.some(Boolean)) return null;
    const differs = new Set(values.map((value) => JSON.stringify(value || null))).size > 1;
    const row = make("tr", differs ? { class: "differs" } : {}, make("th", { scope: "row" }, label));
    values.forEach((value, at) => {
      row.append(make("td", { "data-title": entry(shown[at])[1] }, printed(value)));
    });
    return { row, differs };
  };

  // The rows that matter first; all of them by their subjects when they are asked for.
  const groupsOf = (shown) => {
    if (every) return start.groups;
    const told = (key) => shown.some((reference) => machines.get(reference).values[key]);
    const labels = new Map(start.groups.flatMap(([, keys]) => keys));
    const leading = start.leading.filter((key) => labels.has(key) && told(key)).slice(0, LEADING);
    return [[say("Leading values"), leading.map((key) => [key, labels.get(key)])]];
  };

  const tableOf = (shown) => {
    const head = make("tr", {}, make("th", { scope: "col" }, say("Parameter")));
    for (const reference of shown) {
      const [, name, , path] = entry(reference);
      head.append(make("th", { scope: "col" }, make("a", { href: ROOT + path }, name)));
    }
    const table = make("table", {}, make("thead", {}, head));
    let rows = 0;
    let different = 0;
    for (const [title, keys] of groupsOf(shown)) {
      const body = make("tbody", {});
      const span = String(shown.length + 1);
      const name = make("th", { scope: "rowgroup", colspan: span, class: "group" }, title);
      for (const [key, label] of keys) {
        const made = rowOf(key, label, shown);
        if (!made) continue;
        rows += 1;
        different += made.differs;
        if (made.differs || !onlyDifferent) body.append(made.row);
      }
      if (body.children.length) {
        body.prepend(make("tr", { class: "group" }, name));
        table.append(body);
      }
    }
    return { table, rows, different };
  };

  let asked = 0;
  const show = async () => {
    asked += 1;
    const mine = asked;
    write();
    showChosen();
    const shown = [...chosen];
    const missing = shown.filter((reference) => !machines.has(reference));
    await Promise.all(
      missing.map((reference) => {
        const [kind, name] = reference.split(":");
        return load(start.system.replace("{kind}", kind).replace("{name}", name));
      }),
    );
    if (mine !== asked) return; // an older choice is no longer wanted
    const known = shown.filter((reference) => machines.has(reference));
    for (const each of fixed) each.hidden = known.length > 0;
    if (!known.length) {
      place.replaceChildren();
      said.textContent = say("Choose 2 to {1}", String(start.most));
      return;
    }
    const { table, rows, different } = tableOf(known);
    const caption = make("figcaption", { id: "compare-title" }, known.map((each) => entry(each)[1]).join(" · "));
    const scroll = make("div", { class: "scroll", role: "region", "aria-labelledby": "compare-title", tabindex: "0" }, table);
    place.replaceChildren(make("figure", { class: "table compared" }, caption, scroll), all);
    all.textContent = every ? say("Leading rows only") : say("All rows");
    all.setAttribute("aria-expanded", String(every));
    said.textContent =
      known.length < 2 ? say("Choose one more") : say("{1} of {2} rows differ", different, rows);
  };

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const reference = picker.value;
    if (!reference || chosen.includes(reference) || chosen.length >= start.most) return;
    chosen.push(reference);
    show();
  });
  only.addEventListener("change", () => {
    onlyDifferent = only.checked;
    show();
  });
  window.addEventListener("hashchange", () => {
    read();
    show();
  });

  load("compare/start").then(() => {
    if (!start) return;
    fillPicker();
    article.querySelector(".document-head").after(form, list, place);
    read();
    show();
  });
})();
