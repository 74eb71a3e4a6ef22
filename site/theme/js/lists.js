// Lists that are long: filtered by words and kind, sorted by any column. Without script the tables
// stand as they are.
(() => {
  "use strict";
  const say = window.specgenSay;
  const LANGUAGE = document.documentElement.lang;
  const article = document.querySelector("main .document");
  const figures = article ? [...article.querySelectorAll("figure.table")] : [];
  if (!figures.length) return;

  const make = window.specgenMake;

  const plain = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();

  const lists = figures.map((figure) => ({
    figure,
    title: figure.querySelector("figcaption")?.textContent ?? "",
    heads: [...figure.querySelectorAll("thead th")],
    body: figure.querySelector("tbody"),
    rows: [...figure.querySelectorAll("tbody tr")].map((row, place) => ({
      row,
      place,
      text: plain([...row.cells].map((cell) => cell.textContent).join(" ")),
    })),
  }));
  const heading = article.querySelector("h1").textContent;
  const things = LANGUAGE.startsWith("en") ? heading.toLowerCase() : heading;
  const all = lists.reduce((sum, list) => sum + list.rows.length, 0);

  // --- sorting ---
  const POWERS = { k: 1e3, M: 1e6, G: 1e9, T: 1e12, P: 1e15 };
  const BINARY = { Ki: 2 ** 10, Mi: 2 ** 20, Gi: 2 ** 30, Ti: 2 ** 40, Pi: 2 ** 50 };
  const collator = new Intl.Collator(LANGUAGE, { numeric: true });

  // The signs of numbers in the language: English pages part thousands by narrow blanks.
  const signs = LANGUAGE.startsWith("en") ? [] : new Intl.NumberFormat(LANGUAGE).formatToParts(12345.5);
  const signOf = (type, other) => signs.find((each) => each.type === type)?.value ?? other;
  const [GROUP, POINT] = [signOf("group", "\u202f"), signOf("decimal", ".")];
  const numbersOf = (text) =>
    text
      .replace(/(\d)(\D)(?=\d{3}(?!\d))/gu, (whole, digit, sign) => (sign === GROUP ? digit : whole))
      .replace(POINT, ".");

  // An amount with its prefix, so that 1 TiB comes after 512 GiB; null for words.
  const amount = (text) => {
    const found = /^([\u2212-]?\d+(?:\.\d+)?)\s*(?:(Ki|Mi|Gi|Ti|Pi)(?=[Bb])|([kMGTP])(?=\p{L}))?/u.exec(numbersOf(text));
    if (!found) return null;
    const factor = found[2] ? BINARY[found[2]] : found[3] ? POWERS[found[3]] : 1;
    return Number(found[1].replace("\u2212", "-")) * factor;
  };

  const compare = (one, other, isNumber) => {
    if (isNumber) {
      const [first, second] = [amount(one), amount(other)];
      if (first !== null && second !== null) return first - second;
      if (first !== null || second !== null) return first === null ? 1 : -1;
    }
    if (!one || !other) return !one - !other; // what is empty comes last
    return collator.compare(one, other);
  };

  const sort = (list, column, direction) => {
    list.heads.forEach((head, at) => {
      if (at === column && direction) head.setAttribute("aria-sort", direction);
      else head.removeAttribute("aria-sort");
    });
    const rows = [...list.rows];
    if (direction) {
      const isNumber = list.heads[column].classList.contains("num");
      const value = ({ row }) => row.cells[column].textContent.trim();
      const turn = direction === "descending" ? -1 : 1;
      rows.sort((one, other) => turn * compare(value(one), value(other), isNumber) || one.place - other.place);
    }
    list.body.append(...rows.map(({ row }) => row));
  };

  const NEXT = { ascending: "descending", descending: "" };
  for (const list of lists) {
    list.heads.forEach((head, column) => {
      const button = make("button", { type: "button", class: "sort" }, head.textContent);
      head.replaceChildren(button);
      button.addEventListener("click", () => {
        const now = head.getAttribute("aria-sort");
        sort(list, column, now ? NEXT[now] : "ascending");
        said.textContent = `${counted()}${sortedBy(list)}`;
      });
    });
  }
  // On a phone rows are cards and the heads are out of sight: what is out of sight takes no focus.
  const narrow = matchMedia("(width < 40rem)");
  const reach = () => {
    for (const button of article.querySelectorAll(".sort")) button.tabIndex = narrow.matches ? -1 : 0;
  };
  narrow.addEventListener("change", reach);
  reach();

  const DIRECTIONS = { ascending: say("ascending"), descending: say("descending") };
  const sortedBy = (list) => {
    const head = list.heads.find((each) => each.hasAttribute("aria-sort"));
    return head ? `, ${head.textContent} ${DIRECTIONS[head.getAttribute("aria-sort")]}` : "";
  };

  // --- filtering ---
  const words = make("input", { type: "search", id: "list-words", autocomplete: "off", spellcheck: "false" });
  const kinds = make("select", { id: "list-kind" }, make("option", { value: "" }, say("all kinds")));
  for (const { title } of lists) kinds.append(make("option", { value: title }, title));
  const columns = [...new Set(lists.flatMap((list) => list.heads.map((head) => head.textContent)))];
  const order = make("select", { id: "list-order" }, make("option", { value: "" }, say("as listed")));
  for (const title of columns) order.append(make("option", { value: title }, title));
  const said = make("p", { class: "list-count", role: "status" });
  const field = (control, label, kind = "") =>
    make("p", { class: `list-field ${kind}`.trim() }, make("label", { for: control.id }, label), control);
  const form = make("form", { class: "list-filter", role: "search", "aria-label": say("Filter {1}", things) });
  form.append(field(words, say("Filter")));
  if (lists.length > 1) form.append(field(kinds, say("Kind")));
  form.append(field(order, say("Order"), "list-order"), said);
  figures[0].before(form);

  const counted = () => {
    const shown = lists.reduce((sum, list) => sum + list.rows.filter(({ row }) => !row.hidden).length, 0);
    return shown === all ? `${all} ${things}` : say("{1} of {2} {3}", shown, all, things);
  };

  const filter = () => {
    const wanted = plain(words.value).split(/\s+/).filter(Boolean);
    for (const { figure, title, rows } of lists) {
      const isKind = !kinds.value || kinds.value === title;
      let some = false;
      for (const { row, text } of rows) {
        row.hidden = !isKind || !wanted.every((word) => text.includes(word));
        some ||= !row.hidden;
      }
      figure.hidden = !some;
    }
    said.textContent = counted();
  };

  form.addEventListener("input", (event) => {
    if (event.target !== order) return filter();
    for (const list of lists) {
      const column = list.heads.findIndex((head) => head.textContent === order.value);
      sort(list, column, column < 0 ? "" : "ascending");
    }
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  words.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || !words.value) return;
    words.value = "";
    filter();
    event.preventDefault();
  });
  filter();
})();
