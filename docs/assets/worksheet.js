// The pack worksheet: the arithmetic of generator/compute/load.py and worksheet.py in the same order of operations, on
// exported figures and curves. tests/vectors/worksheet.json holds both together; change neither alone.

// Reading what was typed ------------------------------------------------------------------------------------------

const NUMBER = /^[+-]?[0-9]{1,9}(?:[.,][0-9]{1,9})?$/;
const SHOWN = 40;

function refusal(data, field, code, text) {
  const letters = Array.from(text);
  const shown = letters.length <= SHOWN ? text : `${letters.slice(0, SHOWN).join("")}...`;
  const [name, unit, low, high] = data.fields[field] || [field, "", 0, 0];
  return { field, sentence: fill(data.refusals[code], { name, text: shown, low: String(low), high: `${high}${unit ? ` ${unit}` : ""}` }) };
}

function fill(sentence, values) {
  return sentence.replace(/\{([a-z_]+)\}/g, (_, name) => values[name] ?? "?");
}

export function readNumber(data, name, text) {
  if (!text) return [null, refusal(data, name, "empty", text)];
  if (!NUMBER.test(text)) return [null, refusal(data, name, "not-a-number", text)];
  const value = Number(text.replace(",", "."));
  const [, , low, high, whole] = data.fields[name];
  if (whole && !Number.isInteger(value)) return [null, refusal(data, name, "not-whole", text)];
  if (!(low <= value && value <= high)) return [null, refusal(data, name, "out-of-range", text)];
  return [value, null];
}

export function readInputs(data, raw) {
  const chemistry = raw.chemistry || "";
  if (!Object.hasOwn(data.chemistries, chemistry)) return [null, [refusal(data, "chemistry", "chemistry", chemistry)]];
  const known = data.chemistries[chemistry];
  const id = raw.cell || known.default_cell;
  const cell = known.cells.find((item) => item.id === id);
  if (!cell) return [null, [refusal(data, "cell", "cell", id)]];
  const kind = raw.load_kind || "none";
  if (!["none", "a", "w", "ohm"].includes(kind)) return [null, [refusal(data, "load_kind", "load-kind", kind)]];
  const inputs = { chemistry, cell: id, load_kind: kind };
  const refusals = [];
  for (const name of data.field_names) {
    const text = (raw[name] || "").trim() || (name === "capacity_ah" ? cell.capacity_ah : data.defaults[name] || "");
    if ((name === "load" && kind === "none") || (data.optional.includes(name) && !text)) {
      inputs[name] = null;
      continue;
    }
    const [value, refused] = readNumber(data, name, text);
    inputs[name] = value;
    if (refused) refusals.push(refused);
  }
  return refusals.length ? [null, refusals] : [inputs, []];
}

// A cell under load -----------------------------------------------------------------------------------------------

function place(grid, x) {
  let low = 0;
  let high = grid.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (x < grid[middle]) high = middle;
    else low = middle + 1;
  }
  return Math.min(Math.max(low - 1, 0), Math.max(grid.length - 2, 0));
}

function between(grid, values, at, x) {
  if (x <= grid[0]) return values[0];
  if (x >= grid[grid.length - 1]) return values[values.length - 1];
  return values[at] + (values[at + 1] - values[at]) * ((x - grid[at]) / (grid[at + 1] - grid[at]));
}

export function cellAt(table, capacity, ambient, ownMohm, constants) {
  const heat = table.temperatures_c;
  const low = heat[0];
  const high = heat[heat.length - 1];
  if (ambient < low - constants.temperature_slack_k || ambient > high + constants.temperature_slack_k) return null;
  const rest = table.rest_charge * capacity;
  const simple = (ohm, top) => ({ share: table.share, rates: [0], charges: [rest], volts: [table.rest_v], ohm, top });
  if (ownMohm !== null) return simple(table.share.map(() => ownMohm / 1000), constants.own_rate_max_c * capacity);
  const top = table.rate_max_c * capacity;
  if (!table.families.length) return simple(table.ohm_ah === null ? table.share.map(() => 0) : table.ohm_ah.map((r) => r / capacity), top);
  return blended(table, capacity, Math.min(Math.max(ambient, low), high), rest, top);
}

function blended(table, capacity, celsius, rest, top) {
  const heat = table.temperatures_c;
  const at = place(heat, celsius);
  const next = Math.min(at + 1, heat.length - 1);
  const span = heat[next] - heat[at];
  const weight = span > 0 ? (celsius - heat[at]) / span : 0;
  const cold = table.families[at];
  const warm = table.families[next];
  const made = { share: table.share, rates: [0], charges: [rest], volts: [table.rest_v], ohm: null, top };
  for (let k = 0; k < Math.min(cold.length, warm.length); k += 1) {
    const [rate, charge, volts] = cold[k];
    const [, charge2, volts2] = warm[k];
    made.rates.push(rate * capacity);
    made.charges.push((charge + (charge2 - charge) * weight) * capacity);
    made.volts.push(volts.map((v, i) => v + (volts2[i] - v) * weight));
  }
  made.top = Math.min(top, made.rates[made.rates.length - 1]);
  return made;
}

function chargeAt(cell, ampere) {
  if (cell.ohm !== null) return cell.charges[0];
  const k = place(cell.rates, ampere);
  const weight = (ampere - cell.rates[k]) / (cell.rates[k + 1] - cell.rates[k]);
  return cell.charges[k] + (cell.charges[k + 1] - cell.charges[k]) * weight;
}

function voltsAt(cell, charge, ampere) {
  const u = charge / chargeAt(cell, ampere);
  const at = place(cell.share, u);
  if (cell.ohm !== null) return between(cell.share, cell.volts[0], at, u) - ampere * between(cell.share, cell.ohm, at, u);
  const k = place(cell.rates, ampere);
  const weight = (ampere - cell.rates[k]) / (cell.rates[k + 1] - cell.rates[k]);
  const slow = between(cell.share, cell.volts[k], at, u);
  const fast = between(cell.share, cell.volts[k + 1], at, u);
  return slow + (fast - slow) * weight;
}

function restAt(cell, charge) {
  const u = charge / cell.charges[0];
  return between(cell.share, cell.volts[0], place(cell.share, u), u);
}

function root(miss, from, to, steps) {
  let low = from;
  let high = to;
  let atLow = miss(low);
  let atHigh = miss(high);
  let side = 0;
  for (let step = 0; step < steps; step += 1) {
    if (atHigh === atLow) break;
    const middle = high - (atHigh * (high - low)) / (atHigh - atLow);
    const atMiddle = miss(middle);
    if (atMiddle < 0) {
      low = middle;
      atLow = atMiddle;
      if (side === -1) atHigh /= 2;
      side = -1;
    } else {
      high = middle;
      atHigh = atMiddle;
      if (side === 1) atLow /= 2;
      side = 1;
    }
  }
  return high;
}

function currentAt(cell, inputs, charge, constants) {
  const { load, load_kind: kind, series, parallel } = inputs;
  if (kind === "a") {
    const ampere = load / parallel;
    return ampere <= cell.top ? ampere : null;
  }
  if (kind === "ohm") {
    const ohm = (load * parallel) / series;
    if (cell.top * ohm < voltsAt(cell, charge, cell.top)) return null;
    return root((i) => i * ohm - voltsAt(cell, charge, i), 0, cell.top, constants.root_steps);
  }
  const watt = load / (series * parallel);
  let low = 0;
  for (let step = 1; step <= constants.scan; step += 1) {
    const high = (cell.top * step) / constants.scan;
    if (high * voltsAt(cell, charge, high) >= watt) return root((i) => i * voltsAt(cell, charge, i) - watt, low, high, constants.root_steps);
    low = high;
  }
  return null;
}

export function runPack(cell, inputs, cutoff, constants) {
  const state = (charge) => {
    const ampere = currentAt(cell, inputs, charge, constants);
    if (ampere === null || charge > chargeAt(cell, ampere)) return null;
    const volts = voltsAt(cell, charge, ampere);
    return volts > cutoff ? [ampere, volts] : null;
  };
  const last = (from, to, atLow) => {
    let low = from;
    let high = to;
    let found = atLow;
    for (let step = 0; step < constants.halvings; step += 1) {
      const middle = (low + high) / 2;
      const here = state(middle);
      if (here === null) high = middle;
      else [low, found] = [middle, here];
    }
    return [low, found];
  };
  const first = state(0);
  if (first === null) return { stop: "at-once", start_a: null };
  let hours = 0;
  let energy = 0;
  let charge = 0;
  let [ampere, volts] = first;
  for (let step = 1; step <= constants.steps; step += 1) {
    const x = step / constants.steps;
    const whole = cell.charges[0] * (x * x * (3 - 2 * x));
    let target = whole;
    let found = state(target);
    if (found === null) [target, found] = last(charge, target, [ampere, volts]);
    hours += ((target - charge) * (1 / ampere + 1 / found[0])) / 2;
    energy += ((target - charge) * (volts + found[1])) / 2;
    charge = target;
    [ampere, volts] = found;
    if (target < whole) break;
  }
  const half = currentAt(cell, inputs, charge / 2, constants);
  const sag = half === null ? null : restAt(cell, charge / 2) - voltsAt(cell, charge / 2, half);
  const short = charge < chargeAt(cell, ampere) * (1 - 1.0e-6);
  const stop = volts <= cutoff + 1.0e-3 ? "cutoff" : short ? "current" : "charge";
  return { hours, charge, energy: energy * inputs.series * inputs.parallel, start_v: first[1], start_a: first[0], end_a: ampere, half_a: half, sag_v: sag, stop };
}

// The sheet -------------------------------------------------------------------------------------------------------

const LOW = 1;
const HIGH = 2;

function of(figures, name, end = HIGH) {
  return figures[name] === null ? null : figures[name][end];
}

function times(a, b) {
  return a === null || b === null ? null : a * b;
}

function packNumbers(inputs, figures) {
  const made = {};
  for (const name of ["empty", "nominal", "storage", "full"]) made[`${name}_v`] = times(of(figures, name), inputs.series);
  for (const name of ["overcharge", "overcharge_release", "overdischarge", "overdischarge_release"]) {
    made[`${name}_low_v`] = of(figures, name, LOW);
    made[`${name}_high_v`] = of(figures, name);
  }
  const capacity = inputs.parallel * inputs.capacity_ah;
  const energy = times(times(of(figures, "nominal"), inputs.series), capacity);
  made.capacity_ah = capacity;
  made.energy_wh = energy;
  for (const [name, quantity] of [["mass_kg", "specific_energy"], ["volume_l", "energy_density"]]) {
    const most = of(figures, quantity);
    const least = of(figures, quantity, LOW);
    made[`${name}_low`] = energy === null || !most ? null : energy / most;
    made[`${name}_high`] = energy === null || !(least || most) ? null : energy / (least || most);
  }
  const top = of(figures, "charge_rate_max");
  let rate = of(figures, "charge_rate", LOW) || of(figures, "charge_rate");
  if (rate !== null && top !== null) rate = Math.min(rate, top);
  made.charge_a = times(rate, capacity);
  made.charge_max_a = times(top, capacity);
  return made;
}

function limit(code, value = null, bound = null, id = null) {
  return { code, value, limit: bound, id };
}

function runOf(inputs, table, figures, constants) {
  const cell = cellAt(table, inputs.capacity_ah, inputs.ambient_c, inputs.resistance_mohm, constants);
  if (cell === null) return [null, [limit("model-temperature", inputs.ambient_c)]];
  if (inputs.load_kind === "a" && inputs.load / inputs.parallel > cell.top) {
    return [null, [limit("model-rate", inputs.load / inputs.parallel / inputs.capacity_ah, cell.top / inputs.capacity_ah)]];
  }
  const run = runPack(cell, inputs, of(figures, "empty") || 0, constants);
  return [run, run.stop === "at-once" ? [limit("at-once")] : []];
}

const RUN_NAMES = ["run_hours", "total_hours", "delivered_ah", "delivered_wh", "start_v", "end_a", "sag_v", "sag_cell_v", "heat_w"];

function runNumbers(inputs, run) {
  if (run === null || run.stop === "at-once") return Object.fromEntries(RUN_NAMES.map((name) => [name, null]));
  const cells = inputs.series * inputs.parallel;
  return {
    run_hours: run.hours,
    total_hours: run.hours / (inputs.duty_percent / 100),
    delivered_ah: run.charge * inputs.parallel,
    delivered_wh: run.energy,
    start_v: run.start_v * inputs.series,
    end_a: run.end_a * inputs.parallel,
    sag_v: times(run.sag_v, inputs.series),
    sag_cell_v: run.sag_v,
    heat_w: run.sag_v === null ? null : run.sag_v * run.half_a * cells,
  };
}

function loadCurrent(inputs, figures, run) {
  if (inputs.load_kind === "none" || inputs.load === null) return null;
  if (inputs.load_kind === "a") return inputs.load / inputs.parallel;
  if (run !== null && run.start_a !== null) return Math.max(run.start_a, run.end_a);
  if (inputs.load_kind === "w") {
    const volts = times(of(figures, "empty"), inputs.series);
    return volts ? inputs.load / volts / inputs.parallel : null;
  }
  const volts = times(of(figures, "full") || of(figures, "nominal"), inputs.series);
  return volts ? volts / inputs.load / inputs.parallel : null;
}

function stripRise(width, thickness, ampere, ambient, c) {
  const perArea = c.strip_resistivity_ohm_m / (width * thickness * 1e-6);
  const lost = c.film_w_m2_k * (2 * (width + thickness)) * 1e-3 - ampere * ampere * (perArea * c.strip_coefficient_1_k);
  if (lost <= 0) return null;
  return (ampere * ampere * (perArea * (1 + c.strip_coefficient_1_k * (ambient - c.reference_c)))) / lost;
}

function wiring(inputs, figures, data, ampere) {
  const made = { fuse_a: null, fuse_need_a: null, fuse_most_a: null, strip_width_mm: null, strip_thickness_mm: null, strip_rise_k: null };
  if (ampere === null) return made;
  const c = data.constants;
  const need = (ampere * inputs.parallel) / c.fuse_share;
  const one = inputs.current_max_a !== null ? inputs.current_max_a : times(of(figures, "discharge_rate_max"), inputs.capacity_ah);
  const most = times(one, inputs.parallel);
  const fuse = data.fuses_a.find((rating) => rating >= need) ?? null;
  Object.assign(made, { fuse_a: fuse !== null && most !== null && fuse > most ? null : fuse, fuse_need_a: need, fuse_most_a: most });
  for (const [width, thickness] of data.strips_mm) {
    const rise = stripRise(width, thickness, ampere, inputs.ambient_c, c);
    if (rise !== null && rise <= c.strip_rise_k) return Object.assign(made, { strip_width_mm: width, strip_thickness_mm: thickness, strip_rise_k: rise });
  }
  return made;
}

function windowLimits(celsius, figure, doing) {
  if (figure !== null && figure[LOW] !== null && celsius < figure[LOW]) return [limit(`cold-${doing}`, celsius, figure[LOW], figure[0])];
  if (figure !== null && figure[HIGH] !== null && celsius > figure[HIGH]) return [limit(`hot-${doing}`, celsius, figure[HIGH], figure[0])];
  return [];
}

function limitsOf(inputs, known, numbers, found, ampere, constants) {
  const { figures, transport, rechargeable } = known;
  const all = [];
  if (ampere !== null) {
    if (inputs.current_max_a !== null && ampere > inputs.current_max_a) all.push(limit("own-current", ampere, inputs.current_max_a));
    const top = of(figures, "discharge_rate_max");
    if (top === null && inputs.current_max_a === null) all.push(limit("no-limit"));
    if (top !== null && ampere / inputs.capacity_ah > top) all.push(limit("rate", ampere / inputs.capacity_ah, top, figures.discharge_rate_max[0]));
  }
  all.push(...found, ...windowLimits(inputs.ambient_c, figures.discharge_temperature, "discharge"));
  if (rechargeable) all.push(...windowLimits(inputs.ambient_c, figures.charge_temperature, "charge"));
  else all.push(limit("never-charge"));
  if (rechargeable && numbers.full_v === null) all.push(limit("no-voltage"));
  const highest = numbers.full_v !== null ? numbers.full_v : numbers.nominal_v;
  if (highest !== null && highest > constants.touch_v) all.push(limit("volts", highest, constants.touch_v, "protection.remark.touch-voltage"));
  if (ampere !== null && numbers.strip_rise_k === null) all.push(limit("strip", ampere));
  if (ampere !== null && numbers.fuse_a === null) all.push(limit("fuse", numbers.fuse_need_a, numbers.fuse_most_a));
  const small = inputs.series * inputs.parallel === 1 ? "small-cell" : "small-battery";
  let above = false;
  for (const [code, name] of [["passenger-approval", "passenger-approval"], ["passenger", "passenger"], ["small", small]]) {
    const figure = transport[name];
    if (!figure || numbers.energy_wh === null || numbers.energy_wh <= figure[HIGH] || (code === "passenger" && above)) continue;
    above = true;
    all.push(limit(code, numbers.energy_wh, figure[HIGH], figure[0]));
  }
  return all;
}

export function transportClass(exceeded, transport) {
  if (!Object.keys(transport).length) return ["other"];
  const codes = exceeded.map((found) => found.code);
  const carried = codes.includes("passenger-approval") ? "barred" : codes.includes("passenger") ? "approval" : "free";
  return [carried, codes.includes("small") ? "regulated" : "small", "check"];
}

export function sheet(inputs, table, data) {
  const known = data.chemistries[inputs.chemistry];
  const numbers = packNumbers(inputs, known.figures);
  const model = inputs.resistance_mohm !== null && table.kind !== "flat" ? "rest" : table.kind;
  let run = null;
  let found = [];
  if (inputs.load_kind !== "none" && inputs.load !== null) [run, found] = runOf(inputs, table, known.figures, data.constants);
  Object.assign(numbers, runNumbers(inputs, run));
  const ampere = loadCurrent(inputs, known.figures, run);
  Object.assign(numbers, { cell_a: ampere, c_rate: ampere === null ? null : ampere / inputs.capacity_ah }, wiring(inputs, known.figures, data, ampere));
  return { numbers, model, stop: run ? run.stop : null, exceeded: limitsOf(inputs, known, numbers, found, ampere, data.constants) };
}
