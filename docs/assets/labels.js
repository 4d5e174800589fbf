// Answers the voltage field from data/v1/labels.json: look-ups only, the steps of generator/compute/label_lookup.py.
// The page works without it: it then lists every printed voltage.

const GRID_MV = 100;
const STEP_MV = 10;
const MIN_MV = 1000;
const MAX_MV = 100000;

export function readVolts(text) {
  const capitals = Array.from(text).slice(0, 200).join("").replace(/[a-z]/g, (c) => c.toUpperCase());
  const bare = capitals.replace(/[ \t\n\r\u00a0\u202f]/g, "");
  if (!bare) return [null, "empty"];
  const match = /^([0-9]{1,4})(?:[.,]([0-9]{1,3}))?(?:V|VOLT|VOLTS|VDC)?$/.exec(bare);
  if (!match) return [null, "not-a-voltage"];
  const millivolts = Number.parseInt(match[1], 10) * 1000 + Number.parseInt((match[2] || "").padEnd(3, "0"), 10);
  return millivolts >= MIN_MV && millivolts <= MAX_MV ? [millivolts, null] : [null, "out-of-range"];
}

export function answerLabel(text, data) {
  const [millivolts, message] = readVolts(text);
  if (millivolts === null) return { message, volts: null, explanations: [] };
  let key = String(millivolts);
  if (!Object.hasOwn(data.labels, key)) key = String(Math.floor((millivolts + GRID_MV / 2) / GRID_MV) * GRID_MV);
  const found = Object.hasOwn(data.labels, key) ? data.labels[key] : [];
  return { message: found.length ? null : "unexplained", volts: key, explanations: found };
}

export function answerRest(text, data) {
  const [millivolts, message] = readVolts(text);
  if (millivolts === null) return { message, volts: null, packs: [] };
  const packs = [];
  data.rest.forEach((chemistry, index) => {
    for (const series of chemistry.series) {
      const step = series * STEP_MV;
      const place = Math.floor((2 * (millivolts - series * chemistry.start_mv) + step) / (2 * step));
      if (place >= 0 && place < chemistry.low.length) packs.push([index, series, chemistry.low[place], chemistry.high[place]]);
    }
  });
  return { message: packs.length ? null : "outside", volts: String(millivolts), packs };
}

// The page ------------------------------------------------------------------------------------------------------

function element(tag, text, attributes = {}) {
  const made = document.createElement(tag);
  if (text) made.textContent = text;
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  return made;
}

const COLUMNS = [["empty", "Empty"], ["nominal", "Nominal"], ["storage", "Storage"], ["full", "Full"]];

function table(caption, heads, rows) {
  const made = element("table", "", { class: "data" });
  made.append(element("caption", caption));
  const head = element("tr");
  heads.forEach((text, index) => head.append(element("th", text, index ? { scope: "col", class: "n" } : { scope: "col" })));
  const body = element("tbody");
  for (const [name, ...cells] of rows) {
    const row = element("tr");
    const first = element("th", "", { scope: "row" });
    first.append(name);
    row.append(first, ...cells.map((text) => element("td", text, { class: "n" })));
    body.append(row);
  }
  const top = element("thead");
  top.append(head);
  made.append(top, body);
  return made;
}

function explanationBox(found) {
  const box = element("div", "", { class: "answer" });
  const cells = found.series === 1 ? "1 cell" : `${found.series} cells in series (${found.series}S)`;
  const head = element("p");
  const met = found.products.length ? ` Met in: ${found.products.join(", ")}.` : "";
  head.append(element("strong", `${cells} of ${found.group}`), `. ${found.reason}${met}`);
  const rows = found.packs.map((pack) => [
    element("a", `${found.series} \u00d7 ${pack.name}`, { href: `../chemistries/${pack.chemistry}/` }),
    ...COLUMNS.map(([key]) => pack[key] ?? "\u2013"),
  ]);
  const without = found.packs.filter((pack) => pack.full === null);
  box.append(head, table("Volts of the whole pack", ["Chemistry", ...COLUMNS.map(([, name]) => name)], rows));
  if (without.some((pack) => !pack.rechargeable)) box.append(element("p", "Primary cells are never charged."));
  if (without.some((pack) => pack.rechargeable)) box.append(element("p", "Charged by current, not to a voltage."));
  return box;
}

function otherReadings(others) {
  const box = element("details", "", { class: "evidence" });
  const list = element("ul");
  for (const item of others) list.append(element("li", `${item.series === 1 ? "1 cell" : `${item.series} cells`} of ${item.group}: ${item.reason}`));
  box.append(element("summary", "What else arithmetic allows"), list);
  return box;
}

function showLabel(answer, data, target) {
  const parts = [];
  if (answer.message) parts.push(element("p", data.messages[answer.message], { class: "message" }));
  if (answer.volts && !answer.message) {
    const volts = String(Number(answer.volts) / 1000);
    const line = element("p", `${data.messages["read-as"]}${volts} V. `);
    if (data.pages.includes(volts)) line.append(element("a", `The page of ${volts} V`, { href: `${volts}-v/` }), " has the sources.");
    const found = answer.explanations.map((index) => data.explanations[index]);
    const recorded = found.filter((item) => item.recorded);
    const shown = recorded.length ? recorded : found;
    parts.push(line, ...shown.map(explanationBox));
    const others = found.filter((item) => !shown.includes(item));
    if (others.length) parts.push(otherReadings(others));
  }
  target.replaceChildren(...parts);
}

function showRest(answer, data, target) {
  const parts = [];
  if (answer.message) parts.push(element("p", data.messages[answer.message], { class: "message" }));
  if (answer.packs.length) {
    const rows = answer.packs.map(([index, series, low, high]) => {
      const chemistry = data.rest[index];
      const charge = low === high ? `${low} %` : `${low} to ${high} %`;
      return [element("a", `${series} \u00d7 ${chemistry.name}`, { href: `../chemistries/${chemistry.chemistry}/` }), charge];
    });
    parts.push(table(`${data.messages["read-as"]}${Number(answer.volts) / 1000} V at rest, from open-circuit curves of published cells`, ["Pack", "Charge"], rows));
    parts.push(element("p", data.messages.health, { class: "caution" }));
  }
  target.replaceChildren(...parts);
}

async function start() {
  const form = document.getElementById("label-form");
  const target = document.getElementById("label-answer");
  if (!form || !target) return;
  const field = form.elements.namedItem("v");
  const kind = form.elements.namedItem("kind");
  let data = null;
  const run = async () => {
    try {
      data ??= await (await fetch(new URL("../data/v1/labels.json", import.meta.url))).json();
    } catch {
      target.replaceChildren(element("p", "The table could not be loaded; every printed voltage is listed below.", { class: "message" }));
      return;
    }
    if (kind.value === "rest") showRest(answerRest(field.value, data), data, target);
    else showLabel(answerLabel(field.value, data), data, target);
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const address = new URL(location.href);
    address.searchParams.set("v", field.value);
    address.searchParams.set("kind", kind.value);
    address.hash = "";
    history.replaceState(null, "", address);
    run();
  });
  form.addEventListener("change", (event) => {
    if (event.target.name === "kind" && field.value) run();
  });
  const asked = new URLSearchParams(location.search);
  if (asked.has("v")) {
    field.value = asked.get("v");
    if (asked.get("kind") === "rest") kind.value = "rest";
    run();
  }
}

if (typeof document !== "undefined") start();
