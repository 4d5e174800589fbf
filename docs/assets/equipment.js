// Which packs suit an equipment: multiples of stated cell voltages from data/v1/worksheet/index.json, compared with its window.

const SERIES_MAX = 24;
const WORDS = { fits: "fits", low: "stops early, charge left over", high: "too high when full: do not connect" };
const NUMBER = /^[0-9]{1,4}(?:[.,][0-9]{1,3})?$/;

export function verdict(least, most, empty, full) {
  if (full > most) return "high";
  return empty < least ? "low" : "fits";
}

export function suits(data, least, most) {
  const rows = [];
  for (const [id, { short: name, rechargeable, figures }] of Object.entries(data.chemistries)) {
    const { empty, nominal, full } = figures;
    if (!rechargeable || !empty || !nominal || !full) continue;
    for (let series = 1; series <= SERIES_MAX; series += 1) {
      const at = [empty[2], nominal[2], full[2]].map((v) => Math.round(v * series * 1000) / 1000);
      if (at[1] < least || at[1] > most) continue;
      rows.push({ id, name, series, empty: at[0], nominal: at[1], full: at[2], verdict: verdict(least, most, at[0], at[2]) });
    }
  }
  const order = ["fits", "low", "high"];
  return rows.sort((a, b) => order.indexOf(a.verdict) - order.indexOf(b.verdict));
}

function element(tag, text, attributes = {}) {
  const made = document.createElement(tag);
  made.textContent = text;
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  return made;
}

const SVG = "http://www.w3.org/2000/svg";

// The pack's window as a bar on the axis of the equipment's, with the equipment's two ends as lines.
function bar(row, least, most) {
  const low = least * 0.6;
  const place = (v) => `${Math.min(Math.max(((v - low) / (most * 1.25 - low)) * 100, 0), 100).toFixed(2)}%`;
  const svg = document.createElementNS(SVG, "svg");
  for (const [name, value] of [["class", "ruler"], ["width", "100%"], ["height", "18"], ["aria-hidden", "true"]]) svg.setAttribute(name, value);
  const width = Math.min(row.full, most * 1.25) - row.empty;
  const rect = document.createElementNS(SVG, "rect");
  const size = `${Math.max((width / (most * 1.25 - low)) * 100, 0).toFixed(2)}%`;
  for (const [name, value] of [["class", "ruler-use"], ["x", place(row.empty)], ["y", "4"], ["width", size], ["height", "10"]]) rect.setAttribute(name, value);
  svg.append(rect);
  for (const [volts, kind] of [[least, "ruler-mark"], [row.nominal, "ruler-tick"], [most, "ruler-mark"]]) {
    const line = document.createElementNS(SVG, "line");
    for (const [name, value] of [["class", kind], ["x1", place(volts)], ["x2", place(volts)], ["y1", "0"], ["y2", "18"]]) line.setAttribute(name, value);
    svg.append(line);
  }
  return svg;
}

function show(target, rows, least, most) {
  if (!rows.length) {
    target.replaceChildren(element("p", "No pack of up to 24 cells has its nominal voltage inside this window."));
    return;
  }
  const table = element("table", "", { class: "data" });
  const head = element("tr", "");
  for (const text of ["Pack", "Empty V", "Full V", "Verdict"]) head.append(element("th", text, { scope: "col", class: text.endsWith("V") ? "n" : "" }));
  const top = element("thead", "");
  top.append(head);
  const body = element("tbody", "");
  for (const row of rows) {
    const line = element("tr", "");
    const first = element("th", "", { scope: "row" });
    first.append(element("a", `${row.series} \u00d7 ${row.name}`, { href: `../../chemistries/${row.id}/` }), bar(row, least, most));
    line.append(first, element("td", row.empty.toFixed(2), { class: "n" }), element("td", row.full.toFixed(2), { class: "n" }), element("td", WORDS[row.verdict]));
    body.append(line);
  }
  table.append(element("caption", `Packs whose nominal voltage lies between ${least} and ${most} V; heavy lines are the equipment's ends, the thin one the pack's nominal voltage`), top, body);
  target.replaceChildren(table);
}

function start() {
  const form = document.getElementById("equipment");
  const target = document.getElementById("equipment-answer");
  if (!form || !target) return;
  form.hidden = false;
  let data = null;
  const answer = async () => {
    const texts = ["least", "nominal", "most"].map((name) => form.elements.namedItem(name).value.trim());
    const wrong = texts.find((text) => !NUMBER.test(text));
    const [least, nominal, most] = texts.map((text) => Number(text.replace(",", ".")));
    if (wrong !== undefined) return target.replaceChildren(element("p", `'${wrong}' is not a number of volts. Write it like 12 or 10.5.`));
    if (!(least > 0 && least < nominal && nominal < most)) return target.replaceChildren(element("p", "The lowest volts must lie below the nominal and these below the highest."));
    try {
      data ??= await (await fetch(new URL("../data/v1/worksheet/index.json", import.meta.url))).json();
    } catch {
      return target.replaceChildren(element("p", "The figures could not be loaded."));
    }
    return show(target, suits(data, least, most), least, most);
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const address = new URL(location.href);
    address.search = new URLSearchParams([...new FormData(form)]).toString();
    history.replaceState(null, "", address);
    answer();
  });
  const asked = new URLSearchParams(location.search);
  for (const name of ["least", "nominal", "most"]) if (asked.has(name)) form.elements.namedItem(name).value = asked.get(name).slice(0, 12);
  if (asked.has("least")) answer();
}

if (typeof document !== "undefined") start();
