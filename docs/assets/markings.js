// Reads a marking by the data and the steps of generator/compute/marking.py. The page works without it: it then shows
// the tables alone. Nothing typed ever becomes markup.

export function shown(text, decimals) {
  if (!decimals) return withoutZeros(text);
  const padded = text.padStart(decimals + 1, "0");
  return `${withoutZeros(padded.slice(0, -decimals))}.${padded.slice(-decimals)}`;
}

export function withoutZeros(text) {
  return text.replace(/^0+(?=[0-9])/, "");
}

export function clean(text, data) {
  const kept = Array.from(text).slice(0, data.max_length);
  const replaced = kept.map((c) => (Object.hasOwn(data.replaced, c) ? data.replaced[c] : c)).join("");
  return replaced.replace(/[a-z]/g, (c) => c.toUpperCase()).split(" ").filter(Boolean).join(" ");
}

function tokensOf(cleaned, data) {
  return cleaned.split(" ").map((token) => token.replace(/^,+|,+$/g, "")).filter(Boolean).slice(0, data.max_tokens);
}

const compiled = new WeakMap();

function expressionsOf(data) {
  if (!compiled.has(data)) compiled.set(data, data.patterns.map((pattern) => new RegExp(pattern.expression)));
  return compiled.get(data);
}

export function readMarking(text, data) {
  const messages = Array.from(text).length > data.max_length ? [data.messages.cut] : [];
  const tokens = tokensOf(clean(text, data), data);
  if (!tokens.length) return { messages: [...messages, data.messages.empty], readings: [], unread: [] };
  const readings = [];
  const unread = [];
  for (let place = 0; place < tokens.length; ) {
    const [found, used] = longest(tokens, place, data);
    if (found) readings.push(found);
    else unread.push(tokens[place]);
    place += used;
  }
  if (!readings.length) messages.push(data.messages.unknown);
  else if (unread.length) messages.push(data.messages.unread + unread.join(" "));
  return { messages, readings, unread };
}

function longest(tokens, place, data) {
  for (let span = Math.min(data.span, tokens.length - place); span > 0; span -= 1) {
    const token = tokens.slice(place, place + span).join(" ");
    const found = byName(token, tokens.length === 1, data) || byPattern(token, data);
    if (found) return [found, span];
  }
  return [null, 1];
}

function byName(token, alone, data) {
  const joined = token.replaceAll(" ", "");
  if (!Object.hasOwn(data.names, joined) || (joined.length === 1 && !alone)) return null;
  const row = data.names[joined];
  const part = { text: token, role: "name", name: "Name", meaning: row.meaning, source: row.source, grade: row.grade };
  return {
    token, form: row.form, meaning: row.meaning, note: null, parts: [part], chemistries: row.chemistries,
    chemistry_meaning: null, size: row.size, series: row.series, parallel: null,
  };
}

function byPattern(token, data) {
  const expressions = expressionsOf(data);
  for (const [index, pattern] of data.patterns.entries()) {
    const match = expressions[index].exec(token);
    if (match) return reading(token, pattern, match.slice(1).map((group) => group ?? null), data);
  }
  return null;
}

function rowOf(table, code, data) {
  return table !== null && Object.hasOwn(data.tables[table], code) ? data.tables[table][code] : null;
}

function joined(table, places, groups, strip, data) {
  if (table === null) return null;
  const found = places.map((place) => groups[place - 1] || "");
  return rowOf(table, found.map((text) => (strip && found.length > 1 ? withoutZeros(text) : text)).join(""), data);
}

function reading(token, pattern, groups, data) {
  const parts = [];
  const counts = { series: null, parallel: null };
  pattern.parts.forEach((rule, index) => {
    const text = groups[index];
    const row = text === null ? null : rowOf(rule.table, text, data);
    if (text === null || (text === "" && row === null)) return;
    if (Object.hasOwn(counts, rule.role)) counts[rule.role] = Number.parseInt(text, 10);
    const origin = row || rule;
    const meaning = row ? row.meaning : meaningOf(rule, text, data);
    parts.push({ text, role: rule.role, name: rule.name, meaning, source: origin.source, grade: origin.grade });
  });
  const chemistry = joined(pattern.chemistry_table, pattern.chemistry_parts, groups, false, data);
  const size = joined(pattern.size_table, pattern.size_parts, groups, true, data);
  return {
    token, form: pattern.id, meaning: pattern.meaning, note: pattern.note, parts,
    chemistries: chemistry ? chemistry.chemistries : [], chemistry_meaning: chemistry ? chemistry.meaning : null,
    size: size ? size.size : null, series: counts.series, parallel: counts.parallel,
  };
}

function meaningOf(rule, text, data) {
  if (rule.role === "maker") return data.messages.maker;
  if (rule.meaning !== null) return rule.meaning.replaceAll("{}", () => shown(text, rule.decimals));
  return rule.role === "code" ? data.messages["unlisted-code"] : data.messages["unlisted-letters"];
}

// The page ------------------------------------------------------------------------------------------------------

function element(tag, text, attributes = {}) {
  const made = document.createElement(tag);
  if (text) made.textContent = text;
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  return made;
}

function tag(part, data) {
  if (!part.grade) return "";
  const known = part.source && data.sources[part.source];
  const link = element("a", "", { class: `tag grade-${part.grade}`, href: known ? `../sources/${part.source}/` : "../about/" });
  link.append(element("span", known || "no publication"));
  return link;
}

function links(found, data) {
  const line = element("p");
  const chemistries = found.chemistries.filter((id) => Object.hasOwn(data.chemistries, id));
  chemistries.forEach((id, index) => {
    line.append(index ? ", " : "Chemistry pages: ", element("a", data.chemistries[id], { href: `../chemistries/${id}/` }));
  });
  if (found.size && Object.hasOwn(data.sizes, found.size)) {
    line.append(chemistries.length ? "; size: " : "Size: ", element("a", data.sizes[found.size], { href: `../sizes/#${found.size}` }));
  }
  return line.childNodes.length ? line : "";
}

function card(found, data) {
  const box = element("div", "", { class: "answer" });
  const head = element("p");
  const form = data.forms[found.form.split("/")[0]];
  head.append(element("strong", found.token), `: ${found.meaning}. Read by ${form}.`);
  const list = element("dl", "", { class: "entries marking" });
  for (const part of found.parts) {
    const row = element("div");
    row.append(element("dt", part.name), element("dd", part.text || "(no letter)", { class: "amount" }));
    const how = element("dd", part.meaning, { class: "how" });
    how.append(" ", tag(part, data));
    row.append(how);
    list.append(row);
  }
  box.append(head, list);
  if (found.chemistry_meaning) box.append(element("p", `Together: ${found.chemistry_meaning}.`));
  if (found.note) box.append(element("p", found.note));
  box.append(links(found, data));
  return box;
}

export function show(answer, data, target) {
  target.replaceChildren(...answer.messages.map((text) => element("p", text, { class: "message" })), ...answer.readings.map((found) => card(found, data)));
}

async function start() {
  const form = document.getElementById("marking-form");
  const target = document.getElementById("marking-answer");
  if (!form || !target) return;
  const field = form.elements.namedItem("m");
  let data = null;
  const run = async () => {
    try {
      data ??= await (await fetch(new URL("../data/v1/markings.json", import.meta.url))).json();
    } catch {
      target.replaceChildren(element("p", "The tables could not be loaded; those on this page explain a marking too.", { class: "message" }));
      return;
    }
    show(readMarking(field.value, data), data, target);
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const address = new URL(location.href);
    address.searchParams.set("m", field.value);
    address.hash = "";
    history.replaceState(null, "", address);
    run();
  });
  const asked = new URLSearchParams(location.search).get("m");
  if (asked !== null) {
    field.value = asked;
    run();
  }
}

if (typeof document !== "undefined") start();
