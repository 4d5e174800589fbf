// The worksheet's page: reads the form or the address, fetches figures and one cell's curve, fills the sheet.

import { readInputs, sheet, transportClass } from "./worksheet.js";

const DATA = new URL("../data/v1/worksheet/", import.meta.url);
const ROOT = new URL("../", import.meta.url);
const NONE = "\u2013";
const cellFiles = new Map();
let data = null;

async function fetched(name) {
  const answer = await fetch(new URL(name, DATA));
  if (!answer.ok) throw new Error(name);
  return answer.json();
}

async function cellFile(id) {
  if (!cellFiles.has(id)) cellFiles.set(id, await fetched(`${encodeURIComponent(id)}.json`));
  return cellFiles.get(id);
}

export function shown(number, unit = "") {
  if (number === null) return NONE;
  let text = "";
  if (unit === "V") text = number.toFixed(2);
  else if (Number.isInteger(number)) text = String(number);
  else text = Math.abs(number) < 100 ? String(Number(number.toPrecision(3))) : number.toFixed(0);
  return text.replace("-", "\u2212");
}

function element(tag, text, attributes = {}) {
  const made = document.createElement(tag);
  made.textContent = text;
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  return made;
}

function evidence(figure, words) {
  const [id, , , address, grade] = figure;
  const link = element("a", "", { class: `tag grade-${grade}`, "data-id": id, href: new URL(address, ROOT).href });
  link.append(element("span", words));
  return link;
}

function showExceeded(answer, known) {
  const list = document.getElementById("worksheet-exceeded");
  const figures = [...Object.values(known.figures), ...Object.values(known.transport)].filter(Boolean);
  list.replaceChildren(
    ...answer.exceeded.map((found) => {
      const words = { value: shown(found.value), limit: shown(found.limit) };
      const item = element("li", data.exceeded[found.code].replace(/\{(value|limit)\}/g, (_, name) => words[name]));
      const figure = figures.find(([id]) => id === found.id);
      if (figure) item.append(" ", evidence(figure, "its source"));
      return item;
    }),
  );
  list.hidden = !answer.exceeded.length;
}

function showSheet(inputs, answer) {
  const known = data.chemistries[inputs.chemistry];
  document.getElementById("worksheet-name").textContent = `${inputs.series}S${inputs.parallel}P of ${known.name}, cells of ${shown(inputs.capacity_ah)} Ah`;
  showExceeded(answer, known);
  for (const cell of document.querySelectorAll("#worksheet-table [data-n]")) {
    const numbers = cell.dataset.n.split(" ").map((name) => answer.numbers[name]);
    const texts = [...new Set(numbers)].map((number) => shown(number, cell.dataset.unit));
    cell.textContent = texts.join(" to ");
  }
  for (const place of document.querySelectorAll("#worksheet-table [data-figure]")) {
    const figure = known.figures[place.dataset.figure];
    place.replaceChildren(...(figure ? [evidence(figure, "stated figure")] : []));
  }
  const classes = transportClass(answer.exceeded, known.transport);
  document.getElementById("worksheet-transport").textContent = classes.map((key) => data.transport[key]).join(" ");
  const ran = answer.stop ? `Run ${data.stops[answer.stop]}. ` : "";
  document.getElementById("worksheet-how").textContent = inputs.load_kind === "none" ? "" : ran + data.models[answer.model];
}

function showRefusals(form, refusals) {
  for (const place of form.querySelectorAll(".refused")) place.textContent = "";
  for (const field of form.querySelectorAll("[aria-invalid]")) field.removeAttribute("aria-invalid");
  const rest = [];
  for (const { field, sentence } of refusals) {
    const place = document.getElementById(`e-${field}`);
    if (place) {
      place.textContent = sentence;
      form.elements.namedItem(field).setAttribute("aria-invalid", "true");
    } else rest.push(sentence);
  }
  const count = refusals.length;
  const words = count ? `There is no sheet yet: ${count === 1 ? "one field" : `${count} fields`} cannot be used.` : "";
  document.getElementById("worksheet-status").textContent = [words, ...rest].filter(Boolean).join(" ");
  document.getElementById("worksheet-answer").hidden = count > 0;
}

function typed(form) {
  return Object.fromEntries([...new FormData(form)].map(([name, value]) => [name, String(value)]));
}

function cellChoices(form, chosen) {
  const known = data.chemistries[form.elements.namedItem("chemistry").value];
  const select = form.elements.namedItem("cell");
  select.replaceChildren(...known.cells.map((cell) => element("option", cell.name, { value: cell.id })));
  select.value = known.cells.some((cell) => cell.id === chosen) ? chosen : known.default_cell;
}

function capacityOf(form) {
  const cells = data.chemistries[form.elements.namedItem("chemistry").value].cells;
  form.elements.namedItem("capacity_ah").value = cells.find((cell) => cell.id === form.elements.namedItem("cell").value).capacity_ah;
}

async function answer(form, raw) {
  const [inputs, refusals] = readInputs(data, raw);
  showRefusals(form, refusals);
  if (inputs) showSheet(inputs, sheet(inputs, await cellFile(inputs.cell), data));
}

// A link may hold anything: only known names are taken, and a choice that does not exist is answered in words.
function fromAddress(form, asked) {
  const raw = typed(form);
  for (const name of ["chemistry", "cell", "load_kind", ...data.field_names]) if (asked.has(name)) raw[name] = asked.get(name).slice(0, 200);
  if (asked.has("chemistry") && !asked.has("cell")) raw.cell = "";
  if (Object.hasOwn(data.chemistries, raw.chemistry)) {
    form.elements.namedItem("chemistry").value = raw.chemistry;
    cellChoices(form, raw.cell);
    if (asked.has("chemistry") && !asked.has("capacity_ah")) {
      capacityOf(form);
      raw.capacity_ah = form.elements.namedItem("capacity_ah").value;
    }
  }
  for (const name of data.field_names) if (asked.has(name)) form.elements.namedItem(name).value = raw[name];
  if (["none", "a", "w", "ohm"].includes(raw.load_kind)) form.elements.namedItem("load_kind").value = raw.load_kind;
  return raw;
}

async function start() {
  const form = document.getElementById("worksheet");
  if (!form) return;
  const status = document.getElementById("worksheet-status");
  const guarded = async (work) => {
    try {
      data ??= await fetched("index.json");
      await work();
    } catch {
      status.textContent = "The figures could not be loaded; the sheet below is the example's.";
    }
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    guarded(async () => {
      const raw = typed(form);
      const address = new URL(location.href);
      address.search = new URLSearchParams(Object.entries(raw).filter(([, value]) => value)).toString();
      address.hash = "";
      history.replaceState(null, "", address);
      await answer(form, raw);
    });
  });
  form.addEventListener("change", (event) => {
    if (event.target.name === "chemistry") guarded(async () => (cellChoices(form, ""), capacityOf(form)));
    if (event.target.name === "cell") guarded(async () => capacityOf(form));
  });
  const asked = new URLSearchParams(location.search);
  if ([...asked.keys()].length) guarded(async () => answer(form, fromAddress(form, asked)));
}

start();
