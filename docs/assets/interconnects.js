// One strip or wire: the equations of generator/compute/conductor.py; a browser test holds both together.

const NUMBER = /^-?[0-9]{1,6}(?:[.,][0-9]{1,6})?$/;
const NAMES = { width: "Width", thickness: "Thickness", length: "Length", count: "Strips side by side", current: "Current", ambient: "Air" };

export function conductor(metal, film, { width, thickness, length, count, current, ambient }) {
  const round = thickness === null;
  const area = (round ? (Math.PI / 4) * width ** 2 : width * thickness) * 1e-6;
  const perimeter = (round ? Math.PI * width : 2 * (width + thickness)) * 1e-3;
  const one = current / count;
  const cold = (metal.rho * (1 + metal.alpha * (ambient - 20))) / area;
  const lost = film * perimeter - one * one * ((metal.rho * metal.alpha) / area);
  const rise = lost > 0 ? (one * one * cold) / lost : null;
  const hot = (metal.rho * (1 + metal.alpha * (ambient + (rise ?? 0) - 20)) * length * 1e-3) / area / count;
  return { rise, ohm: hot, drop: current * hot, heat: current * current * hot };
}

function read(form) {
  const made = {};
  for (const [name, words] of Object.entries(NAMES)) {
    const text = form.elements.namedItem(name).value.trim();
    if (name === "thickness" && !text) {
      made[name] = null;
      continue;
    }
    if (!NUMBER.test(text)) return [null, `${words}: '${text.slice(0, 12)}' is not a number. Write it like 8 or 0.15.`];
    made[name] = Number(text.replace(",", "."));
    if (name !== "ambient" && !(made[name] > 0)) return [null, `${words} must be more than 0.`];
    if (name === "count" && !Number.isInteger(made[name])) return [null, `${words} must be a whole number.`];
    if (name === "ambient" && !(made[name] >= -60 && made[name] <= 100)) return [null, `${words} must be from -60 to 100 \u00b0C.`];
  }
  return [made, null];
}

function start() {
  const form = document.getElementById("conductor");
  const source = document.getElementById("conductor-data");
  if (!form || !source) return;
  const data = JSON.parse(source.textContent);
  const said = form.querySelector(".said");
  form.hidden = false;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const [inputs, refusal] = read(form);
    if (refusal) {
      said.textContent = refusal;
      return;
    }
    const { rise, ohm, drop, heat } = conductor(data.metals[form.elements.namedItem("metal").value], data.film, inputs);
    const three = (x) => String(Number(x.toPrecision(3)));
    said.textContent =
      rise === null
        ? "At this current the strip gets hotter and hotter: it has no steady temperature in still air."
        : `${three(ohm * 1000)} m\u03a9 warm, drop ${three(drop * 1000)} mV, heat ${three(heat)} W, about ${three(rise)} K above still air when alone. ${rise > 40 ? "Too hot for cells: take more metal." : "Hotter in a closed pack."}`;
  });
}

if (typeof document !== "undefined") start();
