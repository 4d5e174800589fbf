/* Lays discharge curves over one another. Every volt shown is looked up in the exported files, which hold the voltage at
   each whole percent of charge; nothing is modelled or interpolated here. Without this script the page shows figures. */
"use strict";

(() => {
  const form = document.getElementById("lay");
  if (!form) return;

  const MOST = 6;
  const NEAR_C = 4; // a table measured at 22 degC stands beside curves for 25 degC, under its own temperature
  const NAME = "http://www.w3.org/2000/svg";
  const BOX = { left: 40, right: 388, top: 12, bottom: 262 };
  const figure = document.getElementById("lay-figure");
  const plot = figure.querySelector("svg");
  const slider = document.getElementById("lay-charge");
  const output = document.getElementById("lay-output");
  const missing = document.getElementById("lay-missing");
  const kept = new Map();
  let drawn = [];
  let asked = 0;

  const text = (volts, decimals) => volts.toFixed(decimals);
  const chosen = () => [...form.querySelectorAll("input[name=cell]:checked")].map((box) => box.value);
  const series = () => Math.min(24, Math.max(1, Math.round(Number(form.elements.series.value)) || 1));

  function load(id) {
    if (!kept.has(id)) {
      const got = fetch(`${figure.dataset.source}${id}.json`).then((answer) => {
        if (!answer.ok) throw new Error(`${answer.status}`);
        return answer.json();
      });
      got.catch(() => kept.delete(id));
      kept.set(id, got);
    }
    return kept.get(id);
  }

  /* Which lines of a cell fit the choice: all tables of a cell, but only one temperature, the nearest. */
  function fitting(cell, rate, temperature) {
    const near = cell.lines.filter((line) => line.c_rate === rate && Math.abs(line.temperature_c - temperature) <= NEAR_C);
    const atRest = rate === 0 && !near.length ? cell.lines.filter((line) => line.c_rate === 0) : near;
    return atRest.map((line) => ({ cell, line }));
  }

  function element(name, attributes, words) {
    const made = document.createElementNS(NAME, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    if (words !== undefined) made.textContent = words;
    return made;
  }

  const atX = (percent) => BOX.left + ((BOX.right - BOX.left) * percent) / 105;

  function scale(lines) {
    const all = lines.flatMap(({ line }) => [...line.volts.filter((volts) => volts !== null), line.end_v]);
    const low = Math.floor(Math.min(...all) * 2 - 0.2) / 2;
    const high = Math.ceil(Math.max(...all) * 2 + 0.2) / 2;
    return { low, high, y: (volts) => BOX.bottom - ((BOX.bottom - BOX.top) * (volts - low)) / (high - low) };
  }

  function path(line, y) {
    const points = line.volts.map((volts, percent) => [percent, volts]).filter(([, volts]) => volts !== null);
    points.push([line.end_percent, line.end_v]);
    return points.map(([percent, volts], i) => `${i ? "L" : "M"}${atX(percent).toFixed(1)} ${y(volts).toFixed(1)}`).join("");
  }

  const label = ({ cell, line }) => (line.name ? `${cell.name}, ${line.name}` : cell.name);

  function draw() {
    const n = series();
    plot.querySelectorAll(":scope > :not(title):not(desc)").forEach((old) => old.remove());
    if (!drawn.length) return;
    const { low, high, y } = scale(drawn);
    const step = high - low > 2 ? 0.5 : 0.25;
    for (let volts = low; volts <= high + 1e-9; volts += step) {
      plot.append(element("line", { class: "lay-grid", x1: BOX.left, x2: BOX.right, y1: y(volts), y2: y(volts) }));
      plot.append(element("text", { class: "lay-scale end", x: BOX.left - 5, y: y(volts) + 4 }, text(volts * n, n > 1 || step === 0.5 ? 1 : 2)));
    }
    for (let percent = 0; percent <= 100; percent += 20) {
      plot.append(element("text", { class: "lay-scale", x: atX(percent), y: BOX.bottom + 16 }, `${percent}`));
    }
    plot.append(element("text", { class: "lay-scale", x: (BOX.left + BOX.right) / 2, y: BOX.bottom + 33 }, "charge taken out, %"));
    drawn.forEach((item, i) => {
      plot.append(element("path", { class: `lay-line lay-${i % MOST}`, d: path(item.line, y) }));
      if (item.line.stopped_because && item.line.stopped_because !== "cutoff-voltage") {
        plot.append(element("text", { class: `lay-stop lay-${i % MOST}`, x: atX(item.line.end_percent), y: y(item.line.end_v) + 5 }, "\u00d7"));
      }
    });
    plot.append(element("line", { class: "lay-cursor", y1: BOX.top, y2: BOX.bottom }));
    drawn.forEach((_, i) => plot.append(element("circle", { class: `lay-dot lay-${i % MOST}`, r: 4 })));
    read(y);
  }

  function read(y = scale(drawn).y) {
    const percent = Number(slider.value);
    const n = series();
    const list = document.createElement("ul");
    const x = atX(percent);
    const cursor = plot.querySelector(".lay-cursor");
    cursor.setAttribute("x1", x);
    cursor.setAttribute("x2", x);
    const dots = plot.querySelectorAll(".lay-dot");
    const words = drawn.map((item, i) => {
      const volts = item.line.volts[percent];
      const known = volts !== undefined && volts !== null;
      dots[i].setAttribute("class", `lay-dot lay-${i % MOST}${known ? "" : " off"}`);
      if (known) {
        dots[i].setAttribute("cx", x);
        dots[i].setAttribute("cy", y(volts));
      }
      const shown = known ? `${text(volts * n, 3)} V` : "no figure here";
      const row = document.createElement("li");
      const key = document.createElementNS(NAME, "svg");
      key.setAttribute("class", "lay-key");
      key.setAttribute("viewBox", "0 0 40 10");
      key.setAttribute("aria-hidden", "true");
      key.append(element("path", { class: `lay-line lay-${i % MOST}`, d: "M0 5L40 5" }));
      const value = document.createElement("b");
      value.textContent = shown;
      const link = document.createElement("a");
      link.href = `${item.cell.id}/`;
      link.textContent = label(item);
      const small = document.createElement("small");
      small.textContent = ` ${item.line.temperature_c} \u00b0C`;
      row.append(key, " ", value, " ", link, small);
      list.append(row);
      return `${label(item)} ${shown}`;
    });
    const head = document.createElement("span");
    head.textContent = `${percent} % taken out, ${100 - percent} % left${n > 1 ? `, ${n} cells in series` : ""}`;
    output.replaceChildren(head, list);
    slider.setAttribute("aria-valuetext", `${percent} % taken out: ${words.join("; ")}`);
  }

  function limit() {
    const full = chosen().length >= MOST;
    form.querySelectorAll("input[name=cell]").forEach((box) => { box.disabled = full && !box.checked; });
  }

  async function show() {
    limit();
    const turn = ++asked;
    const rate = Number(form.elements.rate.value);
    const temperature = Number(form.elements.temperature.value);
    remember();
    const without = [];
    const found = [];
    const answers = await Promise.allSettled(chosen().map(load));
    if (turn !== asked) return; // a later choice is on its way
    answers.forEach((answer, i) => {
      if (answer.status === "rejected") { without.push(`${chosen()[i]} could not be loaded`); return; }
      const lines = fitting(answer.value, rate, temperature);
      if (lines.length) found.push(...lines); else without.push(`${answer.value.name} has no such curve: its source does not reach there`);
    });
    const more = found.length > MOST ? found.length - MOST : 0;
    drawn = found.slice(0, MOST);
    if (more) without.push(`${more} more lines do not fit`);
    missing.textContent = without.length ? `Not shown: ${without.join("; ")}.` : "";
    const words = drawn.map((item) => `${label(item)} ends at ${item.line.end_percent.toFixed(0)} % and ${text(item.line.end_v, 2)} V`);
    document.getElementById("lay-d").textContent = drawn.length ? `${words.join(". ")}.` : "No curve for this choice.";
    slider.disabled = !drawn.length;
    if (!drawn.length) output.replaceChildren("No curve for this choice.");
    draw();
  }

  /* The choice stands in the address, so that it can be sent to someone. */
  function remember() {
    const query = new URLSearchParams(new FormData(form));
    history.replaceState(null, "", `?${query}${location.hash}`);
  }

  function restore() {
    const query = new URLSearchParams(location.search);
    if (query.has("cell")) {
      const wanted = new Set(query.getAll("cell").slice(0, MOST));
      form.querySelectorAll("input[name=cell]").forEach((box) => { box.checked = wanted.has(box.value); });
    }
    for (const name of ["rate", "temperature"]) {
      const options = [...form.elements[name].options].map((option) => option.value);
      const value = query.get(name);
      const same = options.find((option) => value !== null && Number(option) === Number(value));
      if (same !== undefined) form.elements[name].value = same;
    }
    if (query.has("series")) form.elements.series.value = query.get("series");
    form.elements.series.value = series();
  }

  function point(event) {
    if (!drawn.length) return;
    const box = plot.getBoundingClientRect();
    const x = ((event.clientX - box.left) / box.width) * 400;
    const percent = Math.round(((x - BOX.left) / (BOX.right - BOX.left)) * 105);
    slider.value = Math.min(100, Math.max(0, percent));
    read();
  }

  form.hidden = figure.hidden = false;
  document.getElementById("lay-without").hidden = true;
  restore();
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("change", show);
  slider.addEventListener("input", () => drawn.length && read());
  plot.addEventListener("pointermove", point);
  plot.addEventListener("pointerdown", point);
  show();
})();
