/* A string without balancing, explored: the closed form of the generator's string.py; shared vectors hold the two together. */
"use strict";
(() => {
  function interpolate(x, xs, ys) {
    if (x <= xs[0]) return ys[0];
    if (x >= xs[xs.length - 1]) return ys[ys.length - 1];
    let low = 0, high = xs.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (xs[middle] < x) low = middle + 1;
      else high = middle;
    }
    const share = (x - xs[low - 1]) / (xs[low] - xs[low - 1]);
    return ys[low - 1] + share * (ys[low] - ys[low - 1]);
  }

  function marks(cell, curve, window) {
    const drop = (window.current_a * cell.resistance_mohm) / 1000;
    const at = (volts) => cell.capacity_ah * interpolate(volts, curve.voltage_v, curve.charge);
    return [at(window.voltage_min_v + drop), at(window.voltage_max_v - drop)];
  }

  function usable(cells, curve, window, hours) {
    const room = [], store = [];
    for (const cell of cells) {
      const [down, up] = marks(cell, curve, window), held = cell.charge_ah - (cell.leakage_ma * hours) / 1000;
      room.push(up - held);
      store.push(held - down);
    }
    const least = (numbers) => numbers.indexOf(Math.min(...numbers));
    return { capacity_ah: Math.max(0, room[least(room)] + store[least(store)]), full_first: least(room), empty_first: least(store) };
  }

  globalThis.almanacStrings = { usable };

  const form = document.getElementById("string-tool");
  if (!form) return;
  const data = JSON.parse(document.getElementById("string-data").textContent);
  const out = form.querySelector(".said");
  const NAMES = ["capacity", "charge", "leakage", "resistance"];
  const LABELS = { capacity: "Capacity", charge: "Charge", leakage: "Leakage", resistance: "Resistance" };
  const LIMITS = { capacity: [0.01, 1000], charge: [0, 100], leakage: [0, 1000], resistance: [0, 10000] };

  class Wrong extends Error {}
  const paragraph = (text, cls) => {
    const p = document.createElement("p");
    p.textContent = text;
    if (cls) p.className = cls;
    return p;
  };

  function list(name) {
    const parts = form.elements[name].value.trim().split(/[\s;]+|,(?=\s|$)/).filter(Boolean), [low, high] = LIMITS[name];
    if (!parts.length || parts.length > 24) throw new Wrong(`${LABELS[name]}: type one number for all cells, or one for each, 24 at most.`);
    return parts.map((part, i) => {
      const plain = part.replace(",", ".");
      if (!/^(\d+(\.\d*)?|\.\d+)$/.test(plain)) throw new Wrong(`${LABELS[name]}, number ${i + 1}: "${part.slice(0, 20)}" is not a number.`);
      const figure = Number(plain);
      if (figure < low || figure > high) throw new Wrong(`${LABELS[name]}, number ${i + 1}: ${plain.slice(0, 20)} is outside ${low} to ${high}.`);
      return figure;
    });
  }

  function cellsOf() {
    const lists = Object.fromEntries(NAMES.map((name) => [name, list(name)]));
    const count = Math.max(...NAMES.map((name) => lists[name].length));
    for (const name of NAMES) {
      if (lists[name].length !== 1 && lists[name].length !== count) throw new Wrong(`${LABELS[name]} has ${lists[name].length} numbers, another line has ${count}: give one for all, or one a cell.`);
    }
    const at = (name, k) => lists[name][lists[name].length === 1 ? 0 : k];
    return Array.from({ length: count }, (_, k) => ({
      capacity_ah: at("capacity", k), charge_ah: (at("capacity", k) * at("charge", k)) / 100, leakage_ma: at("leakage", k), resistance_mohm: at("resistance", k),
    }));
  }

  function draw(cells, window) {
    const { left, right, top, bottom, days, top_ah } = data.plot;
    // Larger cells are drawn to the scale of the figure: the capacity of the largest cell is the top.
    const scale = top_ah / Math.max(...cells.map((cell) => cell.capacity_ah)), points = [];
    for (let day = 0; day <= days; day += 10) {
      const ah = Math.min(usable(cells, data.curve, window, 24 * day).capacity_ah * scale, top_ah);
      points.push(`${(left + ((right - left) * day) / days).toFixed(1)} ${(bottom - ((bottom - top) * ah) / top_ah).toFixed(1)}`);
    }
    document.getElementById("string-plot-own").setAttribute("d", `M${points.join("L")}`);
  }

  function answer() {
    const cells = cellsOf(), text = form.elements.current.value.trim().replace(",", ".");
    if (!/^(\d+(\.\d*)?|\.\d+)$/.test(text) || Number(text) <= 0) throw new Wrong("Current: type the amperes of charge and discharge, above 0.");
    const window = { ...data.window, current_a: Number(text) };
    const now = usable(cells, data.curve, window, 0), lines = [];
    const after = (months) => usable(cells, data.curve, window, (months * 8760) / 12).capacity_ah.toFixed(2);
    lines.push(paragraph(`Usable at first ${now.capacity_ah.toFixed(2)} Ah of ${Math.min(...cells.map((c) => c.capacity_ah)).toFixed(2)} Ah of the smallest cell; after 6 months ${after(6)} Ah, after 12 ${after(12)} Ah, after 24 ${after(24)} Ah.`));
    lines.push(paragraph(`Cell ${now.full_first + 1} is full first and ends the charge; cell ${now.empty_first + 1} is empty first and ends the discharge.`));
    const leaks = cells.map((cell) => cell.leakage_ma), spread = Math.max(...leaks) - Math.min(...leaks);
    lines.push(paragraph(`Leakage differs by ${Number(spread.toPrecision(3))} mA: ${(8.76 * spread).toFixed(2)} Ah a year. A balancer that works a tenth of the time needs ${Number((10 * spread).toPrecision(3))} mA.`));
    draw(cells, window);
    out.replaceChildren(...lines);
  }

  form.hidden = false;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    try {
      answer();
    } catch (error) {
      if (!(error instanceof Wrong)) throw error;
      out.replaceChildren(paragraph(error.message, "wrong"));
    }
  });
})();
