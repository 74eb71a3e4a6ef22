// Scripts that hold data, loaded when they are wanted: they load from file:// and under a strict
// policy, where a fetch would not.
(() => {
  "use strict";
  const ROOT = document.documentElement.dataset.root || "";
  const loading = new Map();
  window.specgenLoad = (name) => {
    if (!loading.has(name)) {
      loading.set(
        name,
        new Promise((done) => {
          const script = document.createElement("script");
          script.src = `${ROOT}${name}.js`;
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
})();
