/* Helpers for reading: tables that sort, the limits filter, evidence that opens at its anchor, code that keys can move, the
   switch of the palette. Pages work without it. */
"use strict";

/* The first number of a cell as it is printed: true minus signs, thin spaces between thousands. */
function cellNumber(text) {
  const found = text.replace(/\u2212/g, "-").replace(/(\d)[\u202f\u2009\u00a0](?=\d{3})/g, "$1").match(/-?\d+(?:\.\d+)?/);
  return found ? Number(found[0]) : null;
}

function compareCells(a, b, numeric) {
  if (!numeric) return a.localeCompare(b, "en");
  const x = cellNumber(a), y = cellNumber(b);
  if (x === null || y === null) return (x === null) - (y === null);
  return x - y;
}

/* Sort the rows of the table by one column; rows without a figure stay last either way. */
function sortBy(table, header, column) {
  const down = header.getAttribute("aria-sort") === "ascending";
  const numeric = header.classList.contains("n");
  const body = table.tBodies[0];
  const text = (row) => row.cells[column].firstChild?.textContent.trim() ?? "";
  const rows = [...body.rows].sort((a, b) => {
    const x = text(a), y = text(b);
    if (numeric && (cellNumber(x) === null || cellNumber(y) === null)) return compareCells(x, y, true);
    return compareCells(x, y, numeric) * (down ? -1 : 1);
  });
  for (const other of table.tHead.rows[0].cells) other.removeAttribute("aria-sort");
  header.setAttribute("aria-sort", down ? "descending" : "ascending");
  body.append(...rows);
}

function makeSortable(table) {
  [...table.tHead.rows[0].cells].forEach((header, column) => {
    const button = document.createElement("button");
    button.type = "button";
    button.append(...header.childNodes);
    button.addEventListener("click", () => sortBy(table, header, column));
    header.append(button);
  });
}

/* The filter: its state is in the address, so that a filtered table can be sent to someone. */
function filterTable(form, table) {
  const task = form.elements.task.value, family = form.elements.family.value;
  let shown = 0;
  for (const body of table.tBodies) {
    const wanted = !task || body.dataset.tasks.split(" ").includes(task);
    let inBody = 0;
    for (const row of body.rows) {
      if (!row.dataset.family) continue;
      row.hidden = !(wanted && (!family || row.dataset.family === family));
      inBody += row.hidden ? 0 : 1;
    }
    body.hidden = !inBody;
    shown += inBody;
  }
  form.querySelector("output").textContent = shown === 1 ? "1 limit shown" : `${shown} limits shown`;
}

function filterAddress(form) {
  const address = new URL(location.href);
  for (const name of ["task", "family"]) {
    const value = form.elements[name].value;
    if (value) address.searchParams.set(name, value);
    else address.searchParams.delete(name);
  }
  return address;
}

function restoreFilter(form) {
  const asked = new URL(location.href).searchParams;
  for (const radio of form.elements.task) radio.checked = radio.value === (asked.get("task") ?? "");
  if (!form.elements.task.value) form.elements.task[0].checked = true;
  form.elements.family.value = asked.get("family") ?? "";
  if (form.elements.family.selectedIndex < 0) form.elements.family.value = "";
}

function startFilter(form) {
  const table = document.getElementById(form.dataset.filter);
  form.hidden = false;
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("change", () => {
    history.replaceState(null, "", filterAddress(form));
    filterTable(form, table);
  });
  restoreFilter(form);
  filterTable(form, table);
}

/* A link to a value opens the fold it lies in. */
function openTarget() {
  const target = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const fold = target && target.closest("details:not([open])");
  if (!fold) return;
  fold.open = true;
  target.scrollIntoView();
}

/* The switch between the two palettes: the theme's own form, kept where the theme keeps it. Its labels follow their inputs. */
function startPalette(form) {
  const options = [...form.querySelectorAll("input")];
  const parts = ["media", "scheme", "primary", "accent"];

  function show(shown, keep) {
    const color = Object.fromEntries(parts.map((part) => [part, shown.getAttribute(`data-md-color-${part}`)]));
    for (const part of parts) document.body.setAttribute(`data-md-color-${part}`, color[part]);
    for (const option of options) option.nextElementSibling.hidden = option !== shown;
    shown.checked = true;
    if (keep) __md_set("__palette", { index: options.indexOf(shown), color });
  }

  const ofSystem = () => options.find((option) => matchMedia(option.dataset.mdColorMedia).matches) ?? options[0];
  show(options[__md_get("__palette")?.index] ?? ofSystem(), false);
  form.addEventListener("change", (event) => show(event.target, true));
  form.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault(); // the arrows move between the two by themselves, Enter as on a button
    const next = options[(options.indexOf(event.target) + 1) % options.length];
    show(next, true);
    next.focus();
  });
  matchMedia(options[0].dataset.mdColorMedia).addEventListener("change", () => __md_get("__palette") ?? show(ofSystem(), false));
}

/* Code that runs over its frame can be moved by keys (WCAG 2.1.1), as tables can; asked after layout, so that nothing waits for it. */
const codes = new ResizeObserver((seen) => seen.forEach(({ target }) => {
  if (target.scrollWidth > target.clientWidth) target.tabIndex = 0;
  else target.removeAttribute("tabindex");
}));

document.querySelectorAll("table.sortable").forEach(makeSortable);
document.querySelectorAll("pre > code").forEach((code) => codes.observe(code));
document.querySelectorAll("form[data-filter]").forEach(startFilter);
openTarget();
addEventListener("hashchange", openTarget);
addEventListener("beforeprint", () => document.querySelectorAll("details").forEach((fold) => { fold.open = true; }));
document.querySelectorAll("form[data-md-component=palette]").forEach(startPalette);
