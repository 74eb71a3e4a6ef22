// Where a value comes from, beside the reader: the row of the page of values, shown in a panel. The
// page itself is read, so nothing is written twice; where it cannot be (a folder on disk), or without
// script, the link leads to it.
(() => {
  "use strict";
  const say = window.specgenSay;
  const make = window.specgenMake;
  const article = document.querySelector("main .document");
  if (!article) return;

  // --- what a link tells of: the label of the value, by what stands before it ---
  const WAY = "a:has(> .value:only-child)";
  const labelOf = (link) => {
    const entry = link.closest("dl.facts > div");
    if (entry) return entry.querySelector("dt").textContent;
    const cell = link.closest("td, th");
    if (!cell) return "";
    const row = cell.parentElement;
    const head = cell.closest("table").querySelector("thead tr")?.cells[cell.cellIndex]?.textContent || "";
    const name = row.cells[0] === cell ? "" : row.cells[0].textContent;
    return [name, head].filter(Boolean).join(": ");
  };
  const titleOf = (link) => {
    const label = labelOf(link);
    return label ? say("Source of {1}", label) : say("Source of this value");
  };
  const plain = (url) => url.href.split("#")[0];
  const leadsOn = (url) => url.hash && url.origin === location.origin && plain(url) !== plain(new URL(location.href));
  for (const link of article.querySelectorAll(WAY)) {
    if (leadsOn(new URL(link.href))) link.title = titleOf(link);
  }

  // --- pages that have been read ---
  const pages = new Map();
  const pageAt = (address) => {
    if (!pages.has(address)) {
      const read = fetch(address)
        .then((answer) => (answer.ok ? answer.text() : Promise.reject(new Error(answer.statusText))))
        .then((text) => new DOMParser().parseFromString(text, "text/html"));
      pages.set(address, read);
    }
    return pages.get(address);
  };
  const rowAt = async (url) => {
    const page = await pageAt(plain(url));
    const row = page.getElementById(decodeURIComponent(url.hash.slice(1)));
    return row?.matches("tr") ? row : null;
  };

  // What stands in a cell, its links leading from here as they lead from there.
  const partsOf = (cell, base) => {
    const copy = document.importNode(cell, true);
    for (const link of copy.querySelectorAll("a[href]")) link.href = new URL(link.getAttribute("href"), base).href;
    return [...copy.childNodes];
  };
  // A cell that is nothing but a link to another row says what that one says: it is read there.
  const told = (cell, at) => {
    const only = cell.childNodes.length === 1 && cell.querySelector(":scope > a[href^='#']");
    const row = only && cell.ownerDocument.getElementById(decodeURIComponent(only.getAttribute("href").slice(1)));
    return row ? row.cells[at] : cell;
  };

  // --- the panel ---
  const title = make("h2", { id: "source-title", tabindex: "-1" });
  const back = make("button", { type: "button", class: "source-back" }, say("Back"));
  const close = make("button", { type: "button", class: "source-close", "aria-label": say("Close") }, "×");
  const list = make("dl", { class: "source-list" });
  const whole = make("a", { href: "" }, say("In the table of all values"));
  const panel = make(
    "div",
    { class: "source", role: "dialog", "aria-labelledby": "source-title", hidden: "" },
    make("div", { class: "source-head" }, title, back, close),
    list,
    make("p", {}, whole),
  );
  document.body.append(panel);
  let from = null;
  let steps = [];

  const shut = () => {
    if (panel.hidden) return;
    panel.hidden = true;
    from?.focus();
  };

  const fill = (row, url, heading) => {
    const heads = [...row.closest("table").querySelectorAll("thead th")];
    title.textContent = heading;
    list.replaceChildren();
    [...row.cells].forEach((cell, at) => {
      const shown = told(cell, at);
      if (!shown.textContent.trim()) return;
      const head = make("dt", {}, heads[at]?.textContent || "");
      list.append(make("div", {}, head, make("dd", {}, ...partsOf(shown, url))));
    });
    whole.href = url.href;
    back.hidden = steps.length < 2;
  };

  // Below the value, within the window; on a phone the style sheet has it at the lower edge.
  const place = () => {
    const at = from.getBoundingClientRect();
    const room = document.documentElement.clientWidth - panel.offsetWidth - 16;
    panel.style.left = `${Math.max(16, Math.min(at.left, room)) + window.scrollX}px`;
    const below = at.bottom + 8 + panel.offsetHeight < window.innerHeight || at.top < panel.offsetHeight + 8;
    panel.style.top = `${(below ? at.bottom + 8 : at.top - panel.offsetHeight - 8) + window.scrollY}px`;
  };

  const show = async (url, heading) => {
    let row = null;
    try {
      row = await rowAt(url);
    } catch {
      row = null; // a folder on disk is not read: the page itself is opened
    }
    if (!row) {
      location.href = url.href;
      return;
    }
    steps.push([url, heading]);
    fill(row, url, heading);
    panel.hidden = false;
    place();
    title.focus({ preventScroll: true });
  };

  const unmodified = (event) => event.button === 0 && !(event.ctrlKey || event.metaKey || event.shiftKey || event.altKey);
  article.addEventListener("click", (event) => {
    const link = event.target.closest(WAY);
    if (!link || !unmodified(event)) return;
    const url = new URL(link.href);
    if (!leadsOn(url)) return;
    event.preventDefault();
    from = link;
    steps = [];
    show(url, titleOf(link));
  });
  // What a value rests on is shown in the same place.
  panel.addEventListener("click", (event) => {
    const link = event.target.closest("dd a[href]");
    if (!link || !unmodified(event)) return;
    const url = new URL(link.href);
    if (!url.hash || plain(url) !== plain(steps.at(-1)[0])) return;
    event.preventDefault();
    show(url, say("Source of {1}", link.textContent));
  });
  back.addEventListener("click", () => {
    steps.pop();
    const [url, heading] = steps.pop();
    show(url, heading);
  });
  close.addEventListener("click", shut);
  panel.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    event.preventDefault();
    shut();
  });
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && !panel.hidden) shut();
  });
  document.addEventListener("pointerdown", (event) => {
    if (!panel.hidden && !panel.contains(event.target)) panel.hidden = true;
  });
  window.addEventListener("resize", () => {
    if (!panel.hidden) place();
  });
})();

// That page itself is folded by subject: a heading and its table open together. What an address or a
// link names is opened; without script all is open.
(() => {
  "use strict";
  const make = window.specgenMake;
  const article = document.querySelector("main .document");
  if (!article) return;
  for (const heading of article.querySelectorAll("h2[id^='group-']")) {
    const table = heading.nextElementSibling;
    const count = table.querySelectorAll("tbody tr").length;
    const summary = make("summary", {});
    const folded = make("details", { class: "folded" }, summary);
    heading.before(folded);
    summary.append(heading, make("span", { class: "folded-count" }, String(count)));
    folded.append(table);
  }
  const reveal = () => {
    const named = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    const folded = named?.closest("details.folded");
    if (!folded || folded.open) return;
    folded.open = true;
    named.scrollIntoView();
  };
  window.addEventListener("hashchange", reveal);
  window.addEventListener("beforeprint", () => {
    for (const each of article.querySelectorAll("details.folded")) each.open = true;
  });
  reveal();
})();
