/* Tap voltages of an opened pack: the same reading as the generator's taps.py; shared vectors hold the two together. */
"use strict";
(() => {
  const SAME = 0.02, DRIFTED = 0.03, ODD = 0.10, MAX_TAPS = 64, MAX_VOLTS = 1000, MOST_CELLS = 24, OVER_CHARGED = 1.1;
  const round6 = (x) => Math.round(x * 1e6) / 1e6;

  class Impossible extends Error {}

  function check(readings) {
    if (!readings.length) throw new Impossible("Type at least one reading in volts.");
    if (readings.length > MAX_TAPS) throw new Impossible(`More than ${MAX_TAPS} taps: type them in parts.`);
    readings.forEach((volts, i) => {
      if (!Number.isFinite(volts) || Math.abs(volts) > MAX_VOLTS) throw new Impossible(`Reading ${i + 1} is not a voltage between -${MAX_VOLTS} and ${MAX_VOLTS} V.`);
    });
  }

  function oddity(volts, middle) {
    if (volts < -SAME) return "negative";
    if (volts <= SAME) return "same-node";
    if (volts >= 1.7 * middle) return "skipped-tap";
    const distance = volts - middle;
    if (Math.abs(distance) > ODD) return distance < 0 ? "low" : "high";
    return Math.abs(distance) > DRIFTED ? "drifted" : "none";
  }

  function oddities(volts, middle) {
    const odd = volts.map((v) => oddity(v, middle));
    for (let k = 0; k + 1 < volts.length; k++) {
      const lowAndHigh = (odd[k] === "low" && odd[k + 1] === "high") || (odd[k] === "high" && odd[k + 1] === "low");
      if (lowAndHigh && Math.abs(volts[k] + volts[k + 1] - 2 * middle) <= ODD) odd[k] = odd[k + 1] = "tap-between";
    }
    return odd;
  }

  function beyond(volts, c) {
    if (volts < c.empty_v) return c.floor_v !== null && volts < c.floor_v ? "below-floor" : "over-discharged";
    return c.full_v < volts && volts <= OVER_CHARGED * c.full_v ? "over-charged" : null;
  }

  function fit(rising, middle, n, c, state) {
    const cell = middle / n;
    const cells = rising.reduce((sum, v) => sum + Math.max(1, Math.floor((n * v) / middle + 0.5)), 0);
    return { id: c.id, name: c.name, cells, cell_v: cell, share: (cell - c.empty_v) / (c.full_v - c.empty_v), state };
  }

  const byText = (a, b) => (a < b ? -1 : a > b ? 1 : 0);

  function readTaps(readings, chemistries) {
    check(readings);
    const taps = Math.abs(readings[0]) <= SAME && readings.length > 1 ? readings : [0, ...readings];
    const volts = taps.slice(1).map((v, i) => round6(v - taps[i]));
    const rising = volts.filter((v) => v > SAME).sort((a, b) => a - b);
    if (!rising.length) throw new Impossible("No reading is above 0 V: measure from the pack's negative end, positive side up.");
    const middle = rising[Math.floor((rising.length - 1) / 2)];
    const odd = oddities(volts, middle);
    const within = [], outside = [];
    for (const c of chemistries) {
      for (let n = 1; n <= MOST_CELLS; n++) if (c.empty_v <= middle / n && middle / n <= c.full_v) within.push(fit(rising, middle, n, c, "within"));
      const state = beyond(middle, c);
      if (state) outside.push(fit(rising, middle, 1, c, state));
    }
    within.sort((a, b) => a.cells - b.cells || byText(a.id, b.id));
    outside.sort((a, b) => byText(a.state, b.state) || byText(a.id, b.id));
    return { steps: volts.map((v, i) => ({ volts: v, odd: odd[i] })), middle_v: middle, fits: [...within, ...outside] };
  }

  function parseReadings(text) {
    const parts = text.trim().replace(/;/g, " ").split(/[\s]+|,(?=\s|$)/).filter(Boolean);
    return parts.map((part, i) => {
      const plain = part.replace(",", ".").replace(/\u2212/, "-").replace(/[vV]$/, "");
      if (!/^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(plain)) throw new Impossible(`Reading ${i + 1}, "${part.slice(0, 20)}", is not a number in volts.`);
      return Number(plain);
    });
  }

  const show = (v, places = 2) => v.toFixed(places).replace("-", "\u2212");
  const element = (name, text, cls) => {
    const made = document.createElement(name);
    if (text !== undefined) made.textContent = text;
    if (cls) made.className = cls;
    return made;
  };

  /* Chemistries that the readings fit alike share a row. */
  function together(fits, words) {
    const rows = new Map();
    for (const f of fits) {
      const state = f.state !== "within" ? f.state : f.share < 0.1 ? "empty" : f.share > 0.9 ? "full" : "within";
      const key = `${f.cells} ${state}`;
      if (!rows.has(key)) rows.set(key, { names: [], cells: f.cells, cell_v: f.cell_v, words: words.state[state] });
      rows.get(key).names.push(f.name);
    }
    return [...rows.values()];
  }

  function say(out, reading, words) {
    out.append(element("p", `${reading.steps.length} step${reading.steps.length === 1 ? "" : "s"} between taps, the middle one ${show(reading.middle_v)} V.`));
    const odd = reading.steps.map((s, i) => [s, i]).filter(([s]) => s.odd !== "none");
    if (odd.length) {
      const list = element("ul");
      for (const [step, i] of odd) list.append(element("li", `Tap ${i} to ${i + 1}: ${show(step.volts)} V. ${words.odd[step.odd]}`));
      out.append(list);
    }
    const table = element("table", undefined, "data small");
    table.append(element("caption", "What the readings would fit"));
    const head = table.createTHead().insertRow();
    for (const title of ["Chemistry", "In series", "V per cell", "State"]) {
      const th = element("th", title);
      th.scope = "col";
      head.append(th);
    }
    const body = table.createTBody();
    for (const f of together(reading.fits, words)) {
      const row = body.insertRow();
      const th = element("th", f.names.join(", "));
      th.scope = "row";
      row.append(th, element("td", `${f.cells}`, "n"), element("td", show(f.cell_v), "n"), element("td", f.words));
    }
    if (!reading.fits.length) out.append(element("p", words.none));
    else out.append(table);
  }

  globalThis.almanacTaps = { readTaps, parseReadings, Impossible };

  const form = document.getElementById("taps-tool");
  if (!form) return;
  const data = JSON.parse(document.getElementById("taps-data").textContent);
  form.hidden = false;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const out = form.querySelector(".said");
    out.replaceChildren();
    try {
      say(out, readTaps(parseReadings(form.elements.readings.value), data.chemistries), data.words);
    } catch (error) {
      if (!(error instanceof Impossible)) throw error;
      out.append(element("p", error.message, "wrong"));
    }
  });
})();
