// Light, dark, or as the system says. Runs in the head, so that the first picture is right already.
(() => {
  "use strict";
  const KEY = "specgen-lamp";
  const root = document.documentElement;

  // The words of scripts in the language of the page; what it does not know is said in English.
  const said = JSON.parse(root.dataset.words || "{}");
  const say = (text, ...values) =>
    (said[text] || text).replace(/\{(\d)\}/g, (_, number) => values[number - 1]);
  window.specgenSay = say;
  const WORDS = { auto: say("auto"), light: say("light"), dark: say("dark") };
  const CHOICES = Object.keys(WORDS);

  const stored = () => {
    try {
      const choice = localStorage.getItem(KEY);
      return CHOICES.includes(choice) ? choice : "auto";
    } catch {
      return "auto"; // storage is refused: the choice lasts as long as the page
    }
  };

  const show = (choice) => {
    if (choice === "auto") delete root.dataset.theme;
    else root.dataset.theme = choice;
    const button = document.querySelector(".lamp");
    if (!button) return;
    button.dataset.choice = choice;
    button.querySelector(".lamp-word").textContent = WORDS[choice];
  };

  let choice = stored();
  root.classList.add("script");
  show(choice);
  document.addEventListener("DOMContentLoaded", () => {
    show(choice);
    document.querySelector(".lamp").addEventListener("click", () => {
      choice = CHOICES[(CHOICES.indexOf(choice) + 1) % CHOICES.length];
      try {
        localStorage.setItem(KEY, choice);
      } catch {
        // as above
      }
      show(choice);
    });
  });
})();
