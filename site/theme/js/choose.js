// Comparing starts where systems are listed: a box to tick in each row, and a line at the lower edge
// that leads to the comparison. Without script rows lead to their systems, which link there.
(() => {
  "use strict";
  const say = window.specgenSay;
  const make = window.specgenMake;
  const ROOT = document.documentElement.dataset.root || "";
  const article = document.querySelector("main .document");
  let start = null;
  window.specgenCompare.start = (data) => {
    start = data;
  };

  const boxes = new Map();
  const chosen = [];
  const said = make("p", { role: "status" });
  const way = make("a", { href: `${ROOT}compare.html` }, say("Compare"));
  const clear = make("button", { type: "button" }, say("Clear"));
  const line = make("div", { class: "choose-line", role: "region", "aria-label": say("Chosen to compare"), hidden: "" }, said, way, clear);

  const show = () => {
    for (const [reference, box] of boxes) {
      box.checked = chosen.includes(reference);
      box.disabled = !box.checked && chosen.length >= start.most;
    }
    said.textContent = chosen.length < 2 ? say("Choose one more") : say("{1} chosen", chosen.length);
    way.href = `${ROOT}compare.html#compare=${chosen.join(",")}`;
    line.hidden = !chosen.length;
  };

  window.specgenLoad("compare/start").then(() => {
    if (!start) return;
    const known = new Map();
    for (const [reference, name, , path] of start.machines) {
      const address = path.split("/").map(encodeURIComponent).join("/");
      known.set(new URL(ROOT + address, location.href).href, [reference, name]);
    }
    for (const cell of article.querySelectorAll("tbody tr > :first-child")) {
      const [reference, name] = known.get(cell.querySelector("a")?.href) || [];
      if (!reference || boxes.has(reference)) continue;
      const box = make("input", { type: "checkbox", class: "choose", "aria-label": say("Compare {1}", name) });
      box.addEventListener("change", () => {
        if (box.checked) chosen.push(reference);
        else chosen.splice(chosen.indexOf(reference), 1);
        show();
      });
      boxes.set(reference, box);
      cell.classList.add("with-choice");
      cell.prepend(box);
    }
    clear.addEventListener("click", () => {
      const [first] = chosen.splice(0);
      show();
      boxes.get(first).focus();
    });
    article.append(line);
    show();
  });
})();
