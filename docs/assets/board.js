/* What a board would do: resistor markings, trip currents, thermistor temperatures. The same arithmetic as the
   generator's resistor_marking.py, trip.py and thermistor.py; shared vectors hold the two together. */
"use strict";
(() => {
  const LETTER = { L: -3, R: 0, K: 3, M: 6 };
  const TOLERANCE = { B: 0.1, C: 0.25, D: 0.5, F: 1, G: 2, J: 5, K: 10, M: 20 };
  const EIA96 = { Z: -3, Y: -2, R: -2, X: -1, S: -1, A: 0, B: 1, H: 1, C: 2, D: 3, E: 4, F: 5 };
  const POINT = /^(\d{0,4})([LRKM])(\d{0,4})([BCDFGJKM]?)$/, DIGITS = /^(\d{2,3})(\d)$/, SERIES = /^(\d\d)([ZYRXSABHCDEF])$/;
  const ZERO = 273.15, T25 = 298.15;

  class Refused extends Error {}
  const needs = (holds, otherwise) => { if (!holds) throw new Refused(otherwise); };

  const pointed = (whole, part, exponent) => Number(`${whole || "0"}.${part || "0"}e${exponent}`);
  const e96 = (n) => Math.floor(100 * Math.pow(10, (n - 1) / 96) + 0.5);

  function readMarking(text) {
    const marking = text.trim().toUpperCase();
    needs(marking, "Type what is printed on the resistor, for example R005.");
    needs(marking.length <= 8 && /^[0-9A-Z]+$/.test(marking), "A marking has at most 8 letters and digits, without spaces or signs.");
    const found = [];
    const point = POINT.exec(marking);
    const letters = point && (point[1] || point[3]) ? point : null;
    const reading = (ohm, tolerance_percent, code) => found.push({ ohm, tolerance_percent: tolerance_percent ?? null, code });
    if (letters) reading(pointed(letters[1], letters[3], LETTER[letters[2]]), TOLERANCE[letters[4]], "letter-code");
    const digits = DIGITS.exec(marking);
    if (/^0+$/.test(marking)) reading(0, null, "zero-ohm");
    else if (digits) reading(Number(`${Number(digits[1])}e${digits[2]}`), null, marking.length === 3 ? "three-digit" : "four-digit");
    const series = SERIES.exec(marking);
    if (series && Number(series[1]) >= 1 && Number(series[1]) <= 96) reading(Number(`${e96(Number(series[1]))}e${EIA96[series[2]]}`), 1, "eia-96");
    if (letters && letters[2] === "M") reading(pointed(letters[1], letters[3], -3), TOLERANCE[letters[4]], "milliohm-m");
    needs(found.length, `'${marking}' follows none of the codes: letter for the point, three or four digits, EIA-96.`);
    return found;
  }

  const around = (typical, percent) => {
    const part = (Math.abs(typical) * percent) / 100;
    return { low: typical - part, typical, high: typical + part };
  };

  function tripCurrent(mv, mohm) {
    needs(mv.low > 0, "the threshold must be above 0 mV, tolerance included");
    needs(mohm.low > 0, "the resistance must be above 0 mOhm, tolerance included");
    return { low: mv.low / mohm.high, typical: mv.typical / mohm.typical, high: mv.high / mohm.low };
  }

  function switchPath(on, sideBySide, shunt, heat) {
    needs(sideBySide >= 1, "a pair needs at least one switch for each direction");
    needs(heat >= 1 && shunt >= 0, "the heat factor is at least 1 and the shunt at least 0 mOhm");
    const pair = 2 / sideBySide;
    return { low: on.low * pair + shunt, typical: on.typical * pair + shunt, high: on.high * pair * heat + shunt };
  }

  function resistance(celsius, r25, b) {
    needs(r25 > 0 && b > 0, "a thermistor has a resistance and a B value above 0");
    needs(celsius > -ZERO, "nothing is colder than -273.15 degC");
    return r25 * Math.exp(b * (1 / (celsius + ZERO) - 1 / T25));
  }

  function temperature(ohm, r25, b) {
    needs(ohm > 0 && r25 > 0 && b > 0, "resistances and the B value must be above 0");
    const inverse = 1 / T25 + Math.log(ohm / r25) / b;
    needs(inverse > 0, "no temperature gives this resistance");
    return 1 / inverse - ZERO;
  }

  function crossing(ratio, fixed, r25, b, low) {
    const share = low ? ratio / (1 - ratio) : (1 - ratio) / ratio;
    return temperature(fixed * share, r25, b);
  }

  function thresholdTemperature(ratio, fixed, r25, b, low) {
    needs(ratio.low > 0 && ratio.high < 1, "the threshold must lie between 0 and 1 of the reference voltage");
    const ends = (x) => [x.low, x.high], found = [];
    for (const q of ends(ratio)) for (const f of ends(fixed)) for (const r of ends(r25)) for (const k of ends(b)) found.push(crossing(q, f, r, k, low));
    return { low: Math.min(...found), typical: crossing(ratio.typical, fixed.typical, r25.typical, b.typical, low), high: Math.max(...found) };
  }

  globalThis.almanacBoard = { readMarking, around, tripCurrent, switchPath, resistance, temperature, thresholdTemperature, Refused };

  const CODES = {
    "letter-code": "letter for the point, IEC 60062", "zero-ohm": "a link of zero ohm", "three-digit": "two figures and a count of zeros",
    "four-digit": "three figures and a count of zeros", "eia-96": "EIA-96, 1 %", "milliohm-m": "M for milliohm, as some makers of shunts print it against the standard",
  };
  const short = (x, places) => Number(x.toPrecision(places)).toString().replace("-", "\u2212");
  function ohms(x) {
    if (x === 0) return "0 \u03a9";
    if (x < 1) return `${short(x * 1000, 6)} m\u03a9`;
    return x < 1000 ? `${short(x, 6)} \u03a9` : x < 1e6 ? `${short(x / 1000, 6)} k\u03a9` : `${short(x / 1e6, 6)} M\u03a9`;
  }

  function number(form, name, label) {
    const text = form.elements[name].value.trim().replace(",", ".").replace("\u2212", "-");
    needs(/^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(text), `${label}: "${text.slice(0, 20)}" is not a number.`);
    return Number(text);
  }

  const start = (id, answer) => {
    const form = document.getElementById(id);
    if (!form) return;
    form.hidden = false;
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      const out = form.querySelector(".said"), lines = [];
      let wrong = false;
      try {
        lines.push(...answer(form));
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        wrong = true;
        lines.push(error.message);
      }
      out.replaceChildren(...lines.map((line) => {
        const p = document.createElement("p");
        p.textContent = line;
        if (wrong) p.className = "wrong";
        return p;
      }));
    });
  };

  start("marking-tool", (form) => readMarking(form.elements.marking.value).map((r) =>
    `${ohms(r.ohm)}${r.tolerance_percent === null ? "" : ` \u00b1${r.tolerance_percent} %`}: ${CODES[r.code]}.`));

  start("trip-tool", (form) => {
    const mv = around(number(form, "threshold", "Threshold"), number(form, "threshold_percent", "Tolerance of the threshold"));
    const percent = number(form, "resistance_percent", "Tolerance of the resistance"), mohm = number(form, "resistance", "Resistance");
    needs(percent >= 0 && percent < 100, "a tolerance lies from 0 to below 100 %");
    const path = form.elements.kind.value === "switches" ? switchPath(around(mohm, percent), number(form, "side", "Switches side by side"), 0, 1.5) : around(mohm, percent);
    const amps = tripCurrent(mv, path);
    return [`Trips at ${short(amps.typical, 3)} A, somewhere between ${short(amps.low, 3)} and ${short(amps.high, 3)} A.`,
      "Below the lowest figure it may carry on for ever: the board's continuous rating, the fuse and the cells' own limit decide what you may draw, not this."];
  });

  start("thermistor-tool", (form) => {
    const share = around(number(form, "share", "Threshold") / 100, 0);
    const acts = thresholdTemperature(share, around(number(form, "fixed", "Fixed resistor") * 1000, 1), around(number(form, "r25", "Thermistor") * 1000, number(form, "r25_percent", "Its tolerance")),
      around(number(form, "b", "B value"), number(form, "b_percent", "Tolerance of B")), form.elements.side.value === "low");
    return [`Acts at ${short(acts.typical, 3)} \u00b0C, somewhere between ${short(acts.low, 3)} and ${short(acts.high, 3)} \u00b0C, fixed resistor \u00b11 %.`,
      "It feels one place. The hottest cell is usually in the middle of the pack."];
  });
})();
