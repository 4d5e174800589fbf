/* Price of found cells against new ones: the arithmetic of the generator's worth.py; shared vectors hold the two together. */
"use strict";
(() => {
  class Refused extends Error {}
  const needs = (holds, otherwise) => { if (!holds) throw new Refused(otherwise); };

  function worth(w) {
    needs(Number.isInteger(w.cells) && w.cells >= 1 && w.cells <= 100000, "a pack has 1 to 100000 cells");
    needs(Number.isInteger(w.rejects) && w.rejects >= 0 && w.rejects < w.cells, "the rejects are 0 or more and fewer than the cells: at least one good cell must remain");
    needs(w.price >= 0, "the price is 0 or more");
    for (const [name, figure] of [["the capacity", w.mean_ah], ["the nominal voltage", w.nominal_v], ["the price of a new cell", w.new_price], ["its capacity", w.new_ah]]) needs(figure > 0, `${name} must be above 0`);
    needs(w.usable_share > 0 && w.usable_share <= 1, "the usable share is above 0 and at most 1");
    const good = w.cells - w.rejects, usable_wh = good * w.mean_ah * w.nominal_v * w.usable_share;
    const per_usable_wh = w.price / usable_wh, new_per_wh = w.new_price / (w.new_ah * w.nominal_v), each = w.mean_ah * w.nominal_v * w.usable_share;
    let least = null;
    for (let n = 1; n <= w.cells && least === null; n++) if (w.price / (n * each) <= new_per_wh) least = n;
    return { good_cells: good, per_cell: w.price / w.cells, per_good_cell: w.price / good, per_ah: w.price / (good * w.mean_ah), usable_wh, per_usable_wh, new_per_wh, ratio: per_usable_wh / new_per_wh, break_even_good: least };
  }

  globalThis.almanacWorth = { worth, Refused };

  const form = document.getElementById("worth-tool");
  if (!form) return;
  const number = (name) => {
    const text = form.elements[name].value.trim().replace(",", "."), label = form.elements[name].labels[0].textContent.trim();
    needs(/^(\d+(\.\d*)?|\.\d+)$/.test(text), `${label}: "${text.slice(0, 20)}" is not a number.`);
    return Number(text);
  };
  form.hidden = false;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const out = form.querySelector(".said");
    const paragraph = (text, cls) => Object.assign(document.createElement("p"), { textContent: text, className: cls ?? "" });
    try {
      const given = Object.fromEntries(["price", "cells", "rejects", "mean_ah", "nominal_v", "new_price", "new_ah"].map((name) => [name, number(name)]));
      const w = worth({ ...given, usable_share: number("usable") / 100 });
      out.replaceChildren(
        paragraph(`${w.good_cells} good cells, ${w.per_good_cell.toFixed(2)} each; ${w.per_ah.toFixed(2)} per Ah; ${w.usable_wh.toFixed(1)} Wh usable at ${w.per_usable_wh.toFixed(3)} per Wh.`),
        paragraph(`New cells cost ${w.new_per_wh.toFixed(3)} per Wh: this pack costs ${Math.round(100 * w.ratio)} % of that.`),
        paragraph(w.break_even_good === null ? "Even with every cell good a Wh would cost more than new." : `A Wh costs no more than new from ${w.break_even_good} good cells on.`),
      );
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      out.replaceChildren(paragraph(error.message, "wrong"));
    }
  });
})();
