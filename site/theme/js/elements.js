// Elements with their attributes and what is in them, for all that scripts add to a page.
(() => {
  "use strict";
  window.specgenMake = (tag, attributes, ...children) => {
    const element = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    element.append(...children);
    return element;
  };
})();
