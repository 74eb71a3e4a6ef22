// Finding: the reader's side of specgen/site/search.py and asked.py, without a page to show it on.
// `specgenFind(text)` loads the shards a question needs, and no others.
(() => {
  "use strict";
  const SHOWN = 24;
  const VALUES = 6; // shown before the pages
  const KEYS = 3; // values of one system
  const SYSTEMS = 5;
  const NAMED = 10; // weight from which on a word stands in a title, as `_weights` gives it
  const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  const VALUE = new Map(Array.from(DIGITS, (digit, value) => [digit, value]));

  // --- what has been loaded: each file of the index is a script that calls one of these ---
  let start = null;
  let asked = { keys: [], examples: [], alike: {}, least: {}, most: {}, endings: [], numbers: {}, sizes: {}, idle: new Set() };
  let near = [];
  const words = new Map();
  const pages = new Map();
  const systems = new Map();
  globalThis.specgenSearch = {
    start: (data) => {
      start = {
        ...data,
        leaves: new Set(data.leaves.split(" ")),
        inner: new Set(data.inner.split(" ")),
      };
    },
    asked: (data) => {
      const taken = data.keys.map(([key, label, more]) => [key, label, termsOf(label), termsOf(more)]);
      const plain = (words) => Object.fromEntries(Object.entries(words).map(([typed, read]) => [folded(typed), read]));
      const [alike, least, most] = [data.alike, data.least, data.most].map(plain);
      asked = { ...data, alike, least, most, keys: taken, idle: new Set(folded(data.idle).split(" ")) };
    },
    near: (data) => {
      near = data.split(" ");
    },
    words: (letters, data) => words.set(letters, new Map(Object.entries(data))),
    pages: (chunk, data) => pages.set(chunk, data),
  };
  globalThis.specgenCompare = { systems, machine: (reference, data) => systems.set(reference, data) };

  // --- words ---
  const folded = (text) =>
    text
      .normalize("NFKD")
      .toLowerCase()
      .replace(/\p{M}/gu, "");

  // Languages without blanks are compared by pairs of signs.
  const TOGETHER = /[\u3005-\u3007\u3040-\u30ff\u3400-\u9fff\uf900-\ufaff]+/gu;
  const piecesOf = (word) => {
    const found = [];
    let last = 0;
    for (const run of word.matchAll(TOGETHER)) {
      if (run.index > last) found.push(word.slice(last, run.index));
      const signs = Array.from(run[0]);
      if (signs.length < 2) found.push(run[0]);
      for (let at = 0; at + 1 < signs.length; at += 1) found.push(signs[at] + signs[at + 1]);
      last = run.index + run[0].length;
    }
    if (last < word.length) found.push(word.slice(last));
    return found;
  };

  const termsOf = (text) => (folded(text).match(/[\p{L}\p{N}]+/gu) || []).flatMap(piecesOf);

  // What was typed in one go: a word, or a code such as `qb-104`, which has pieces.
  const codesOf = (text) => folded(text).match(/[\p{L}\p{N}]+(?:[-./+_][\p{L}\p{N}]+)*/gu) || [];

  // Letters that are missing, too many, others or changed about, no more than `most`.
  const apart = (one, other, most) => {
    if (Math.abs(one.length - other.length) > most) return most + 1;
    let before = [];
    let last = Array.from({ length: other.length + 1 }, (_, at) => at);
    for (let i = 1; i <= one.length; i += 1) {
      const row = [i];
      for (let j = 1; j <= other.length; j += 1) {
        const same = one[i - 1] === other[j - 1];
        row[j] = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0 : 1));
        const turned = i > 1 && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1];
        if (turned) row[j] = Math.min(row[j], before[j - 2] + 1);
      }
      before = last;
      last = row;
    }
    return last[other.length];
  };

  // --- pages ---
  const plainName = (letters) =>
    Array.from(letters, (sign) =>
      /[a-z0-9]/.test(sign) ? sign : `_${sign.codePointAt(0).toString(16)}_`,
    ).join("");

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
      await specgenLoad(`search/w-${plainName(name)}`);
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
    if (!each.length) return new Map();
    const [fewest, ...others] = [...each].sort((one, other) => one.size - other.size);
    const found = new Map();
    for (const [slot, weight] of fewest) {
      if (others.every((other) => other.has(slot))) {
        found.set(slot, others.reduce((sum, other) => sum + other.get(slot), weight));
      }
    }
    return found;
  };

  // The pages that have some of several words: rare words weigh more than those of every page.
  const inSome = (each) => {
    const found = new Map();
    for (const one of each) {
      const rare = Math.log2(1 + start.pages / Math.max(1, one.size));
      for (const [slot, weight] of one) found.set(slot, (found.get(slot) || 0) + (10 + weight) * rare);
    }
    return found;
  };

  const either = (each) => {
    const found = new Map();
    for (const one of each) {
      for (const [slot, weight] of one) found.set(slot, Math.max(weight, found.get(slot) || 0));
    }
    return found;
  };

  // A code is found whole, which counts most, or by all of its pieces.
  const pagesWithCode = async (code) => {
    const pieces = termsOf(code);
    if (pieces.length === 1) return pagesWith(pieces[0]);
    const [whole, ...each] = await Promise.all([code, ...pieces].map(pagesWith));
    const found = inAll(each);
    for (const [slot, weight] of whole) found.set(slot, (found.get(slot) || 0) + 4 * weight);
    return found;
  };

  // What a word may stand for: itself, itself without its ending, what it is called here.
  const waysOf = (code) => {
    const bare = asked.endings
      .filter((ending) => code.length > ending.length + 2 && code.endsWith(ending))
      .map((ending) => code.slice(0, -ending.length));
    const others = [code, ...bare].flatMap((each) => asked.alike[each] || []);
    return [...new Set([code, ...bare, ...others])];
  };

  const pagesOf = async (code) => {
    const [own, ...others] = waysOf(code).map(async (way) =>
      way === code ? pagesWithCode(way) : inAll(await Promise.all(termsOf(way).map(pagesWith))),
    );
    return either(await Promise.all([own, ...others]));
  };

  const recordOf = (slot) => (pages.get(slot >> start.shift) || {})[slot];
  const records = (slots) => {
    const chunks = new Set(slots.map((slot) => slot >> start.shift));
    return Promise.all(Array.from(chunks, (chunk) => specgenLoad(`search/p-${chunk.toString(16)}`)));
  };

  // --- values ---
  // How well a word that was typed names what a value is called.
  const weigh = (term, label, more) => {
    if (label.includes(term)) return 4;
    if (more.includes(term)) return 3.5;
    if (term.length < 3) return 0;
    if (label.some((word) => word.startsWith(term))) return 2.5;
    if (more.some((word) => word.startsWith(term))) return 2;
    return term.length > 3 && label.some((word) => word.includes(term)) ? 1.5 : 0;
  };

  // A word counts by the best of what it may be called; every one of its words has to count.
  const called = (code, label, more) => {
    const weights = waysOf(code).map((way) =>
      Math.min(...termsOf(way).map((term) => weigh(term, label, more))),
    );
    return Math.max(0, ...weights);
  };

  // The kinds of values that words ask for, best first; earlier ones are asked for more often.
  const keysOf = (codes) => {
    const found = [];
    asked.keys.forEach(([key, label, own, more], at) => {
      const each = codes.map((code) => (code === key ? 9 : called(code, own, more)));
      const told = each.reduce((sum, weight) => sum + weight, 0);
      if (!told) return;
      const rest = codes.filter((_, index) => !each[index]);
      const spoken = each.filter(Boolean).length;
      const score = told - 0.1 * Math.max(0, own.length - spoken) - Math.min(at, 100) / 50;
      found.push({ key, label, score, rest, spoken });
    });
    return found.sort((one, other) => other.score - one.score);
  };

  // Where things lie is told by the site (`addresses.ways`), with names left open.
  const filled = (way, values) => way.replace(/\{(\w+)\}/g, (_, each) => values[each]);
  const pathOf = (reference, key) => {
    const [kind, name] = reference.split(":");
    const limit = key.startsWith("limits.") && key.slice("limits.".length);
    return limit ? filled(asked.ways.limit, { name, key: limit }) : filled(asked.ways.value[kind], { name, key });
  };
  const referenceOf = (path) => {
    for (const [kind, way] of Object.entries(asked.ways.page)) {
      const [before, after] = way.split("{name}");
      const name = path.slice(before.length, -after.length);
      if (path === filled(way, { name }) && !name.includes("/")) return `${kind}:${name}`;
    }
    return "";
  };

  // The builds and platforms that some words name by their title.
  const systemsOf = async (codes) => {
    const each = await Promise.all(codes.map(pagesWithCode));
    const scored = [...inAll(each)].filter(([, weight]) => weight >= NAMED * codes.length);
    scored.sort((one, other) => other[1] - one[1] || one[0] - other[0]);
    const best = scored.slice(0, SHOWN);
    await records(best.map(([slot]) => slot));
    const found = [];
    for (const [slot, weight] of best) {
      const [path, title] = recordOf(slot) || [""];
      const reference = referenceOf(path);
      if (reference) found.push({ reference, title, weight });
    }
    return found.slice(0, SYSTEMS);
  };

  const numberIn = (code) => (/^\d+$/.test(code) ? Number(code) : asked.numbers[code]);

  // `lightest`, `most`: what such a word asks for, read in one way after the other.
  const extreme = (code) => asked.least[code] || asked.most[code];
  const readingsOf = (codes) => {
    const ways = Math.max(1, ...codes.map((code) => (extreme(code) || []).length));
    return Array.from({ length: ways }, (_, at) =>
      codes.flatMap((code) => (extreme(code) ? termsOf(extreme(code)[at] || "") : [code])),
    );
  };

  // Values of the systems that a question names, or of those that stand for all; the greatest first,
  // or the least.
  const valuesFor = async (codes, rising) => {
    const counts = codes.map(numberIn).filter((number) => number !== undefined);
    const plain = codes.filter((code) => numberIn(code) === undefined);
    let keys = keysOf(plain);
    if (!keys.length) return [];
    const rests = new Map();
    for (const { rest } of keys.slice(0, 40)) rests.set(rest.join(" "), rest);
    const known = new Map();
    for (const [name, rest] of rests) {
      const found = rest.length
        ? await systemsOf(rest)
        : asked.examples.map(([reference, title]) => ({ reference, title, weight: 0 }));
      known.set(name, found);
    }
    keys = keys.filter(({ rest }) => (known.get(rest.join(" ")) || []).length);
    if (!keys.length) return [];
    const most = Math.max(...keys.map(({ spoken }) => spoken));
    keys = keys.filter(({ spoken }) => spoken === most);
    const best = keys[0].score;
    keys = keys.filter(({ score }) => score >= 0.6 * best).slice(0, 2 * KEYS);
    const wanted = new Map();
    for (const { rest } of keys) {
      for (const each of known.get(rest.join(" "))) wanted.set(each.reference, each);
    }
    await Promise.all(
      Array.from(wanted.keys(), (reference) => {
        const [kind, name] = reference.split(":");
        return specgenLoad(filled(asked.ways.system, { kind, name }));
      }),
    );
    const found = [];
    for (const { reference, title, weight } of wanted.values()) {
      const values = (systems.get(reference) || { values: {} }).values;
      const of = keys.filter(({ key, rest }) => values[key] && known.get(rest.join(" ")).some((each) => each.reference === reference));
      for (const { key, label, score } of of.slice(0, KEYS)) {
        const [number, unit] = values[key];
        if (!weight && number === "0") continue; // of those that stand for all, those that have any
        const amount = Number.parseFloat(number.replace(/\s/g, "").replace(",", ".")) || 0;
        const size = amount * (asked.sizes[unit] || 1); // 8 TiB are more than 192 GiB
        const enough = counts.every((count) => amount >= count);
        const value = unit ? `${number}\u202f${unit}` : number;
        found.push({ score: score + weight / 20, size, enough, path: pathOf(reference, key), title, label, value });
      }
    }
    const fitting = counts.length ? found.filter(({ enough }) => enough) : found;
    const order = (fitting.length ? fitting : found).map((each, at) => [each, at]);
    order.sort(
      ([one, at], [other, place]) =>
        other.score - one.score || (rising ? one.size - other.size : other.size - one.size) || at - place,
    );
    return order.map(([each]) => each).slice(0, VALUES);
  };

  // A word that stands nowhere, as it may have been meant.
  const meant = async (code) => {
    if (code.length < 4 || /\d/.test(code)) return code;
    await specgenLoad("search/near");
    const own = asked.keys.flatMap(([, , label, more]) => [...label, ...more]);
    const most = code.length < 7 ? 1 : 2;
    let best = code;
    let least = most + 1;
    const spoken = [asked.alike, asked.least, asked.most].flatMap(Object.keys);
    for (const word of [...own, ...spoken, ...near]) {
      const far = word.length > 3 ? apart(code, word, most) : least;
      if (far < least) [best, least] = [word, far];
    }
    return best;
  };

  globalThis.specgenFind = async (text) => {
    await Promise.all([specgenLoad("search/start"), specgenLoad("search/asked")]);
    const typed = [...new Set(codesOf(text))];
    if (!start || typed.length === 0) return { total: 0, named: false, values: [], results: [] };
    let codes = typed.filter((code) => !asked.idle.has(code));
    if (!codes.length) codes = typed;
    let each = await Promise.all(codes.map(pagesOf));
    const keyed = (code) => asked.keys.some(([, , label, more]) => called(code, label, more));
    const strange = codes.filter((code, at) => !each[at].size && !extreme(code) && !keyed(code) && numberIn(code) === undefined);
    if (strange.length) {
      const read = await Promise.all(codes.map((code) => (strange.includes(code) ? meant(code) : code)));
      if (read.some((code, at) => code !== codes[at])) {
        codes = read;
        each = await Promise.all(codes.map(pagesOf));
      }
    }
    const rising = codes.some((code) => asked.least[code]);
    const readings = readingsOf(codes);
    const plain = readings.at(-1);
    if (codes.some(extreme) && plain.length) each = await Promise.all(plain.map(pagesOf));
    let values = [];
    for (const reading of readings) if (!values.length) values = await valuesFor(reading, rising);
    let found = inAll(each);
    if (!found.size) found = inSome(each.filter((one) => one.size));
    const scored = Array.from(found, ([slot, weight]) => [weight, slot]);
    scored.sort((one, other) => other[0] - one[0] || one[1] - other[1]);
    const best = scored.slice(0, SHOWN);
    await records(best.map(([, slot]) => slot));
    const results = [];
    for (const [score, slot] of best) {
      const record = recordOf(slot);
      if (!record) continue;
      const [path, title, section, summary] = record;
      results.push({ score, path, title, section: start.sections[section], summary });
    }
    // A page that is called what was typed comes before any value.
    const exactly = termsOf(text).join(" ");
    const at = results.findIndex(
      ({ path, title }) => !path.includes("#") && termsOf(title).join(" ") === exactly,
    );
    const named = at >= 0;
    if (named) results.unshift(...results.splice(at, 1));
    return { total: scored.length, named, values, results };
  };
})();
