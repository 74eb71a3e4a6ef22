// A page that a server shows for any address does not know how deep it is: it asks for this file at
// several depths, and the first that is found says where the site begins. All else hangs on that.
(() => {
  "use strict";
  if (window.specgenHome) return;
  const home = new URL("../", document.currentScript.src).href;
  window.specgenHome = home;
  if (new URL(".", location.href).href === home) return; // the page at its own address
  const base = document.createElement("base");
  base.href = home;
  document.head.prepend(base);
  document.addEventListener("DOMContentLoaded", () => {
    const here = location.href.split("#")[0];
    for (const link of document.querySelectorAll('a[href^="#"]')) {
      link.href = here + link.getAttribute("href");
    }
  });
})();
